// Rows of the study file's tables to and from plain structs. A column of another type than its table's is a RowFault.
// No transactions here; SQLite's exceptions pass through.
#pragma once

#include <SQLiteCpp/SQLiteCpp.h>

#include "store/row_rules.hpp"
#include "store/study_file.hpp"

namespace trammel::store {

void insert_head(SQLite::Database& database, const StudyHead& head);
StudyHead select_head(SQLite::Database& database);
Totals select_totals(SQLite::Database& database);

struct RowCounts {
  std::int64_t units = 0, failures = 0, layouts = 0, designs = 0, achieved = 0;
  bool operator==(const RowCounts&) const = default;
};
/// Rows of the tables.
RowCounts count_rows(SQLite::Database& database);
/// Names a row that belongs to no unit or layout.
std::string stray_row(SQLite::Database& database);

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
  static std::vector<double> values(SQLite::Statement& statement, const char* table, const LayoutRow& layout);

  SQLite::Statement design_, achieved_;
};

/// Reads units with layouts by place and failures by cause. With a check, which must outlive it, every row goes through
/// it.
class UnitReader {
 public:
  UnitReader(SQLite::Database& database, const RowCheck* check);
  /// The next unit, ascending by id. False when there are no more.
  bool next(UnitRow& unit);
  /// The unit of this number. False when there is none.
  bool find(std::int64_t number, UnitRow& unit);

 private:
  bool read(SQLite::Statement& statement, UnitRow& unit);

  const RowCheck* check_;
  SQLite::Statement unit_, one_, failure_, layout_;
  NumbersReader numbers_;
};

/// Reads layouts in order of merit, checked likewise. SQLite sorts them, on disk when they are many.
class RankedReader {
 public:
  RankedReader(SQLite::Database& database, const RowCheck* check);
  /// False when there are no more.
  bool next(LayoutRow& layout);

 private:
  const RowCheck* check_;
  SQLite::Statement layout_;
  NumbersReader numbers_;
};

}  // namespace trammel::store
