#include "store/rows.hpp"

#include <charconv>

#include "store/merit.hpp"

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

LayoutRow layout_of(SQLite::Statement& row) {
  return {.unit = row.getColumn(0).getInt64(),
          .place = row.getColumn(1).getInt64(),
          .choice = row.getColumn(2).getInt64(),
          .design = {},
          .achieved = {},
          .musts = row.getColumn(3).getInt64(),
          .musts_met = row.getColumn(4).getInt64(),
          .score = row.getColumn(5).getDouble(),
          .margin = row.getColumn(6).getDouble(),
          .linkage = row.getColumn(7).getInt64(),
          .must_margin = row.getColumn(8).getDouble(),
          .wish_margin = row.getColumn(9).getDouble(),
          .room = row.getColumn(10).getDouble()};
}

std::uint64_t seed_from(const std::string& text) {
  std::uint64_t seed = 0;
  const char* end = text.data() + text.size();
  const auto [stopped, error] = std::from_chars(text.data(), end, seed);
  if (stopped != end || error != std::errc{}) throw StoreError("the study's seed is damaged: '" + text + "'");
  return seed;
}

}  // namespace

void insert_head(SQLite::Database& database, const StudyHead& head) {
  SQLite::Statement insert(database, "INSERT INTO head VALUES (?, ?, ?, ?, ?, ?, ?, ?)");
  run(insert, head.engine_version, head.brief_file, head.brief_text, head.brief_hash, std::to_string(head.seed),
      head.planned_units, head.slice, head.slices);
}

StudyHead select_head(SQLite::Database& database) {
  SQLite::Statement row(database,
                        "SELECT engine_version, brief_file, brief_text, brief_hash, seed, planned_units, slice, slices "
                        "FROM head");
  if (!row.executeStep()) throw StoreError("the study has no head");
  return {.engine_version = row.getColumn(0).getString(),
          .brief_file = row.getColumn(1).getString(),
          .brief_text = row.getColumn(2).getString(),
          .brief_hash = row.getColumn(3).getString(),
          .seed = seed_from(row.getColumn(4).getString()),
          .planned_units = row.getColumn(5).getInt64(),
          .slice = row.getColumn(6).getInt64(),
          .slices = row.getColumn(7).getInt64()};
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
    : design_(database, "SELECT value FROM layout_design WHERE unit = ? AND place = ? ORDER BY variable"),
      achieved_(database, "SELECT value FROM layout_achieved WHERE unit = ? AND place = ? ORDER BY target") {}

void NumbersReader::fill(LayoutRow& layout) {
  layout.design = values(design_, layout);
  layout.achieved = values(achieved_, layout);
}

std::vector<double> NumbersReader::values(SQLite::Statement& statement, const LayoutRow& layout) {
  std::vector<double> numbers;
  ask(statement, layout.unit, layout.place);
  while (statement.executeStep()) numbers.push_back(statement.getColumn(0).getDouble());
  return numbers;
}

UnitReader::UnitReader(SQLite::Database& database)
    : unit_(database, "SELECT unit, screened, refined, evaluations, linkage FROM unit ORDER BY unit"),
      failure_(database, "SELECT cause, count FROM failure WHERE unit = ? ORDER BY cause"),
      layout_(database, std::string(layout_columns) + " WHERE unit = ? ORDER BY place"),
      numbers_(database) {}

bool UnitReader::next(UnitRow& unit) {
  if (!unit_.executeStep()) return false;
  unit = {.unit = unit_.getColumn(0).getInt64(),
          .screened = unit_.getColumn(1).getInt64(),
          .refined = unit_.getColumn(2).getInt64(),
          .evaluations = unit_.getColumn(3).getInt64(),
          .layouts = {},
          .failures = {},
          .linkage = unit_.getColumn(4).getInt64()};
  ask(failure_, unit.unit);
  while (failure_.executeStep()) {
    unit.failures.push_back({unit.unit, failure_.getColumn(0).getString(), failure_.getColumn(1).getInt64()});
  }
  ask(layout_, unit.unit);
  while (layout_.executeStep()) {
    unit.layouts.push_back(layout_of(layout_));
    numbers_.fill(unit.layouts.back());
  }
  return true;
}

RankedReader::RankedReader(SQLite::Database& database)
    : layout_(database, std::string(layout_columns) + " ORDER BY " + merit_order()), numbers_(database) {}

bool RankedReader::next(LayoutRow& layout) {
  if (!layout_.executeStep()) return false;
  layout = layout_of(layout_);
  numbers_.fill(layout);
  return true;
}

}  // namespace trammel::store
