// Rows of the study file's tables to and from plain structs. No transactions here; SQLite's exceptions pass through.
#pragma once

#include <SQLiteCpp/SQLiteCpp.h>

#include "store/study_file.hpp"

namespace trammel::store {

void insert_head(SQLite::Database& database, const StudyHead& head);
StudyHead select_head(SQLite::Database& database);

/// Writes units; keeps its statements prepared between them.
class UnitWriter {
 public:
  explicit UnitWriter(SQLite::Database& database);
  /// Does nothing if the unit is there.
  void insert(const UnitRow& unit);

 private:
  void insert_layout(const LayoutRow& layout);

  SQLite::Statement unit_, failure_, layout_, design_, achieved_;
};

/// Reads units one after the other, ascending by id, with layouts by place and failures by cause.
class UnitReader {
 public:
  explicit UnitReader(SQLite::Database& database);
  /// False when there are no more.
  bool next(UnitRow& unit);

 private:
  std::vector<double> values(SQLite::Statement& statement, std::int64_t unit, std::int64_t place);

  SQLite::Statement unit_, failure_, layout_, design_, achieved_;
};

}  // namespace trammel::store
