// Rows of the study file's tables to and from plain structs. No transactions here; SQLite's exceptions pass through.
#pragma once

#include <SQLiteCpp/SQLiteCpp.h>

#include "store/study_file.hpp"

namespace trammel::store {

void insert_head(SQLite::Database& database, const StudyHead& head);
StudyHead select_head(SQLite::Database& database);
Totals select_totals(SQLite::Database& database);

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

/// Reads the lists of numbers that belong to a layout.
class NumbersReader {
 public:
  explicit NumbersReader(SQLite::Database& database);
  /// Fills `design` and `achieved` of a layout whose id is set.
  void fill(LayoutRow& layout);

 private:
  static std::vector<double> values(SQLite::Statement& statement, const LayoutRow& layout);

  SQLite::Statement design_, achieved_;
};

/// Reads units one after the other, ascending by id, with layouts by place and failures by cause.
class UnitReader {
 public:
  explicit UnitReader(SQLite::Database& database);
  /// False when there are no more.
  bool next(UnitRow& unit);

 private:
  SQLite::Statement unit_, failure_, layout_;
  NumbersReader numbers_;
};

/// Reads layouts in order of merit. SQLite sorts them, on disk when they are many.
class RankedReader {
 public:
  explicit RankedReader(SQLite::Database& database);
  /// False when there are no more.
  bool next(LayoutRow& layout);

 private:
  SQLite::Statement layout_;
  NumbersReader numbers_;
};

}  // namespace trammel::store
