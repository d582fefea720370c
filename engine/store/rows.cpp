#include "store/rows.hpp"

#include <charconv>

#include "store/merit.hpp"
#include "store/row_rules.hpp"

namespace trammel::store {
namespace {

// Binds the values in order and runs the statement.
template <class... Values>
int run(SQLite::Statement& statement, const Values&... values) {
  statement.reset();
  int index = 0;
  (statement.bind(++index, values), ...);
  return statement.exec();
}

template <class... Values>
void ask(SQLite::Statement& statement, const Values&... values) {
  statement.reset();
  int index = 0;
  (statement.bind(++index, values), ...);
}

/// What `layout_of` reads.
constexpr const char* layout_columns =
    "SELECT unit, place, choice, musts, musts_met, score, margin, linkage, must_margin, wish_margin, room "
    "FROM layout JOIN unit USING (unit)";

/// No unit has more layouts or causes, no layout more numbers: far above what briefs allow, so that a list of a file by
/// a stranger is given up before it takes the memory.
constexpr std::size_t longest_list = 100'000;

void demand_short(std::size_t length, const std::string& table, const std::string& row) {
  if (length > longest_list) throw RowFault("table " + table + ", " + row + ": more rows than a study has");
}

/// The columns of a statement's row, each of which must be of the type that its table gives it: SQLite itself lets any
/// value stand in any column.
class Row {
 public:
  /// `named` of the first columns are unit, place and so on.
  Row(SQLite::Statement& statement, std::string table, int named = 1)
      : statement_(statement), table_(std::move(table)), named_(named) {}

  std::int64_t whole(int column) const {
    const SQLite::Column value = statement_.getColumn(column);
    if (!value.isInteger()) refuse(column, "whole number");
    return value.getInt64();
  }
  double real(int column) const {
    const SQLite::Column value = statement_.getColumn(column);
    if (!value.isFloat()) refuse(column, "real number");
    return value.getDouble();
  }
  std::string text(int column) const {
    const SQLite::Column value = statement_.getColumn(column);
    if (!value.isText()) refuse(column, "text");
    return value.getString();
  }

 private:
  [[noreturn]] void refuse(int column, const char* wanted) const {
    std::string row = "table " + table_;
    for (int i = 0; i < named_; ++i) {
      const SQLite::Column id = statement_.getColumn(i);
      if (id.isInteger()) row += std::string(", ") + id.getName() + " " + std::to_string(id.getInt64());
    }
    throw RowFault(row + ": " + statement_.getColumn(column).getName() + " is no " + wanted);
  }

  SQLite::Statement& statement_;
  std::string table_;
  int named_;
};

LayoutRow layout_of(SQLite::Statement& statement) {
  const Row row(statement, "layout", 2);
  return {.unit = row.whole(0),
          .place = row.whole(1),
          .choice = row.whole(2),
          .design = {},
          .achieved = {},
          .musts = row.whole(3),
          .musts_met = row.whole(4),
          .score = row.real(5),
          .margin = row.real(6),
          .linkage = row.whole(7),
          .must_margin = row.real(8),
          .wish_margin = row.real(9),
          .room = row.real(10)};
}

std::uint64_t seed_from(const std::string& text) {
  std::uint64_t seed = 0;
  const char* end = text.data() + text.size();
  const auto [stopped, error] = std::from_chars(text.data(), end, seed);
  if (stopped != end || error != std::errc{}) throw RowFault("table head: seed is no number of up to 64 bits");
  return seed;
}

}  // namespace

void insert_head(SQLite::Database& database, const StudyHead& head) {
  SQLite::Statement insert(database, "INSERT INTO head VALUES (?, ?, ?, ?, ?, ?, ?, ?)");
  run(insert, head.engine_version, head.brief_file, head.brief_text, head.brief_hash, std::to_string(head.seed),
      head.planned_units, head.slice, head.slices);
}

StudyHead select_head(SQLite::Database& database) {
  SQLite::Statement statement(database,
                              "SELECT engine_version, brief_file, brief_text, brief_hash, seed, planned_units, slice, "
                              "slices FROM head");
  if (!statement.executeStep()) throw RowFault("table head: has no row");
  const Row row(statement, "head", 0);
  StudyHead head{.engine_version = row.text(0),
                 .brief_file = row.text(1),
                 .brief_text = row.text(2),
                 .brief_hash = row.text(3),
                 .seed = seed_from(row.text(4)),
                 .planned_units = row.whole(5),
                 .slice = row.whole(6),
                 .slices = row.whole(7)};
  if (statement.executeStep()) throw RowFault("table head: has more than one row");
  demand_head(head);
  return head;
}

RowCounts count_rows(SQLite::Database& database) {
  const auto count = [&](const char* table) {
    return database.execAndGet(std::string("SELECT count(*) FROM ") + table).getInt64();
  };
  return {count("unit"), count("failure"), count("layout"), count("layout_design"), count("layout_achieved")};
}

std::string stray_row(SQLite::Database& database) {
  struct Part {
    const char* table;
    const char* rows;
  };
  constexpr Part parts[] = {
      {"failure", "unit, 0 FROM failure WHERE unit NOT IN (SELECT unit FROM unit)"},
      {"layout", "unit, place FROM layout WHERE unit NOT IN (SELECT unit FROM unit)"},
      {"layout_design", "unit, place FROM layout_design WHERE (unit, place) NOT IN (SELECT unit, place FROM layout)"},
      {"layout_achieved",
       "unit, place FROM layout_achieved WHERE (unit, place) NOT IN (SELECT unit, place FROM layout)"}};
  for (const auto& [table, rows] : parts) {
    SQLite::Statement stray(database, std::string("SELECT ") + rows + " LIMIT 1");
    if (!stray.executeStep()) continue;
    const std::string row = "table " + std::string(table) + ", ";
    return row + (stray.getColumn(0).isInteger() && stray.getColumn(1).isInteger()
                      ? layout_named(stray.getColumn(0).getInt64(), stray.getColumn(1).getInt64())
                      : "a row without a number of its unit");
  }
  return "a table of the study";
}

Totals select_totals(SQLite::Database& database) {
  Totals totals;
  SQLite::Statement units(database, "SELECT count(*), coalesce(sum(screened), 0), coalesce(sum(refined), 0) FROM unit");
  units.executeStep();
  totals.units = units.getColumn(0).getInt64();
  totals.screened = units.getColumn(1).getInt64();
  totals.refined = units.getColumn(2).getInt64();
  SQLite::Statement layouts(database, "SELECT count(*), coalesce(sum(musts_met = musts), 0) FROM layout");
  layouts.executeStep();
  totals.layouts = layouts.getColumn(0).getInt64();
  totals.feasible = layouts.getColumn(1).getInt64();
  SQLite::Statement failures(database, "SELECT cause, sum(count) FROM failure GROUP BY cause");
  while (failures.executeStep()) totals.failures[failures.getColumn(0).getString()] = failures.getColumn(1).getInt64();
  return totals;
}

UnitWriter::UnitWriter(SQLite::Database& database)
    : unit_(database, "INSERT OR IGNORE INTO unit VALUES (?, ?, ?, ?, ?)"),
      failure_(database, "INSERT INTO failure VALUES (?, ?, ?)"),
      layout_(database, "INSERT INTO layout VALUES (?, ?, ?, ?, ?, ?, ?, ?, ?, ?)"),
      design_(database, "INSERT INTO layout_design VALUES (?, ?, ?, ?)"),
      achieved_(database, "INSERT INTO layout_achieved VALUES (?, ?, ?, ?)") {}

void UnitWriter::insert(const UnitRow& unit) {
  if (run(unit_, unit.unit, unit.screened, unit.refined, unit.evaluations, unit.linkage) == 0) return;
  for (const FailureRow& failure : unit.failures) run(failure_, unit.unit, failure.cause, failure.count);
  for (const LayoutRow& layout : unit.layouts) insert_layout(layout);
}

void UnitWriter::insert_layout(const LayoutRow& layout) {
  run(layout_, layout.unit, layout.place, layout.choice, layout.musts, layout.musts_met, layout.score, layout.margin,
      layout.must_margin, layout.wish_margin, layout.room);
  std::int64_t index = 0;
  for (const double value : layout.design) run(design_, layout.unit, layout.place, index++, value);
  index = 0;
  for (const double value : layout.achieved) run(achieved_, layout.unit, layout.place, index++, value);
}

NumbersReader::NumbersReader(SQLite::Database& database)
    : design_(database, "SELECT variable, value FROM layout_design WHERE unit = ? AND place = ? ORDER BY variable"),
      achieved_(database, "SELECT target, value FROM layout_achieved WHERE unit = ? AND place = ? ORDER BY target") {}

void NumbersReader::fill(LayoutRow& layout) {
  layout.design = values(design_, "layout_design", layout);
  layout.achieved = values(achieved_, "layout_achieved", layout);
}

std::vector<double> NumbersReader::values(SQLite::Statement& statement, const char* table, const LayoutRow& layout) {
  const std::string named = layout_named(layout.unit, layout.place);
  const Row row(statement, std::string(table) + ", " + named);
  std::vector<double> numbers;
  ask(statement, layout.unit, layout.place);
  while (statement.executeStep()) {
    if (row.whole(0) != static_cast<std::int64_t>(numbers.size()))
      throw RowFault("table " + std::string(table) + ", " + named + ": number " + std::to_string(numbers.size()) +
                     " is missing");
    numbers.push_back(row.real(1));
    demand_short(numbers.size(), table, named);
  }
  return numbers;
}

UnitReader::UnitReader(SQLite::Database& database, const RowCheck* check)
    : check_(check),
      unit_(database, "SELECT unit, screened, refined, evaluations, linkage FROM unit ORDER BY unit"),
      one_(database, "SELECT unit, screened, refined, evaluations, linkage FROM unit WHERE unit = ?"),
      failure_(database, "SELECT unit, cause, count FROM failure WHERE unit = ? ORDER BY cause"),
      layout_(database, std::string(layout_columns) + " WHERE unit = ? ORDER BY place"),
      numbers_(database) {}

bool UnitReader::next(UnitRow& unit) {
  return read(unit_, unit);
}

bool UnitReader::find(std::int64_t number, UnitRow& unit) {
  ask(one_, number);
  return read(one_, unit);
}

bool UnitReader::read(SQLite::Statement& statement, UnitRow& unit) {
  if (!statement.executeStep()) return false;
  const Row row(statement, "unit");
  unit = {.unit = row.whole(0),
          .screened = row.whole(1),
          .refined = row.whole(2),
          .evaluations = row.whole(3),
          .layouts = {},
          .failures = {},
          .linkage = row.whole(4)};
  if (check_ != nullptr) check_->unit(unit);
  ask(failure_, unit.unit);
  const Row failure(failure_, "failure");
  while (failure_.executeStep()) {
    unit.failures.push_back({unit.unit, failure.text(1), failure.whole(2)});
    demand_short(unit.failures.size(), "failure", unit_named(unit.unit));
  }
  ask(layout_, unit.unit);
  while (layout_.executeStep()) {
    unit.layouts.push_back(layout_of(layout_));
    demand_short(unit.layouts.size(), "layout", unit_named(unit.unit));
    numbers_.fill(unit.layouts.back());
  }
  if (check_ != nullptr) check_->whole(unit);
  return true;
}

RankedReader::RankedReader(SQLite::Database& database, const RowCheck* check)
    : check_(check),
      layout_(database, std::string(layout_columns) + " ORDER BY " + merit_order()),
      numbers_(database) {}

bool RankedReader::next(LayoutRow& layout) {
  if (!layout_.executeStep()) return false;
  layout = layout_of(layout_);
  numbers_.fill(layout);
  if (check_ != nullptr) check_->layout(layout);
  return true;
}

}  // namespace trammel::store
