// Study files that somebody else has changed: each is refused with one message that names table and row, whatever was
// done to it, and left as it is.
#include <SQLiteCpp/SQLiteCpp.h>

#include <catch2/catch.hpp>
#include <random>
#include <sstream>

#include "store/row_rules.hpp"
#include "store/study_file.hpp"
#include "tests/store/study_samples.hpp"

using namespace trammel;
using Catch::Matchers::Contains;
using store::StoreError;
using store::StudyFile;
using test::Folder;

namespace {

/// Rules that the sample units keep.
store::RowRules sample_rules() {
  store::RowRules rules;
  rules.screened = 2048;
  rules.most_refined = 7;
  rules.linkages.assign(3, {.variables = 10, .targets = 5, .musts = 2, .choices = 1});
  return rules;
}

/// Sample units that take turns as those of a study do.
store::UnitRow turned_unit(std::int64_t id) {
  store::UnitRow unit = test::sample_unit(id);
  for (store::LayoutRow& layout : unit.layouts) {
    layout.choice = 0;
    layout.musts_met = std::min(layout.musts_met, layout.musts);
  }
  unit.linkage = id % 3;
  return unit;
}

std::string bytes_of(const std::filesystem::path& path) {
  std::ostringstream text;
  text << std::ifstream(path, std::ios::binary).rdbuf();
  return text.str();
}

/// A sound study of three units in slice 3 of 16.
void make_study(const std::filesystem::path& path) {
  StudyFile study = StudyFile::create(path, test::sample_head());
  study.commit({turned_unit(2), turned_unit(18), turned_unit(34)});
}

/// All that a verb does with a study.
void look_through(const std::filesystem::path& path) {
  StudyFile study = StudyFile::read(path);
  study.hold_to(sample_rules());
  study.verify();
  study.each_committed([](std::int64_t) {});
  study.each_ranked([](const store::LayoutRow&) { return true; });
  study.totals();
  study.digest();
}

}  // namespace

TEST_CASE("a sound study passes", "[store][stranger]") {
  const Folder folder;
  make_study(folder.study());
  CHECK_NOTHROW(look_through(folder.study()));
  const StudyFile study = StudyFile::read(folder.study());
  CHECK(test::same(study.unit(18).value(), turned_unit(18)));
  CHECK_FALSE(study.unit(19));
}

TEST_CASE("every altered row is named with its table", "[store][stranger]") {
  struct Altered {
    const char* sql;
    const char* words;
  };
  const auto altered = GENERATE(
      Altered{"DELETE FROM layout_design WHERE unit = 18 AND place = 1",
              "table layout_design, unit 18, place 1: 0 rows; by the brief there are 10"},
      Altered{"DELETE FROM layout_design WHERE unit = 18 AND place = 1 AND variable = 9",
              "table layout_design, unit 18, place 1: 9 rows"},
      Altered{"DELETE FROM layout_design WHERE unit = 18 AND place = 1 AND variable = 3",
              "table layout_design, unit 18, place 1: number 3 is missing"},
      Altered{"UPDATE layout_design SET variable = 99 WHERE unit = 18 AND place = 1 AND variable = 9",
              "number 9 is missing"},
      Altered{"DELETE FROM layout_achieved WHERE unit = 2 AND place = 0",
              "table layout_achieved, unit 2, place 0: 0 rows"},
      Altered{"INSERT INTO layout_achieved VALUES (2, 0, 5, 1.0)", "table layout_achieved, unit 2, place 0: 6 rows"},
      Altered{"UPDATE layout_design SET value = 1e300 WHERE unit = 34 AND variable = 4 AND place = 2",
              "table layout_design, unit 34, place 2, variable 4: value is 1e+300; allowed: from 0 to 1"},
      Altered{"UPDATE layout_design SET value = 9e999 WHERE unit = 34 AND variable = 4 AND place = 2", "value is inf"},
      Altered{"UPDATE layout_design SET value = -0.001 WHERE unit = 34 AND variable = 4 AND place = 2",
              "value is -0.001"},
      Altered{"UPDATE layout_achieved SET value = -9e999 WHERE unit = 34 AND target = 4 AND place = 2",
              "table layout_achieved, unit 34, place 2, target 4: value is -inf; allowed: a finite number"},
      Altered{"UPDATE layout SET choice = 99 WHERE unit = 2 AND place = 3",
              "table layout, unit 2, place 3: choice is 99; allowed: 0"},
      Altered{"UPDATE layout SET choice = -1 WHERE unit = 2 AND place = 3", "choice is -1"},
      Altered{"UPDATE layout SET musts = -1 WHERE unit = 2 AND place = 3",
              "table layout, unit 2, place 3: musts is -1"},
      Altered{"UPDATE layout SET musts_met = 9 WHERE unit = 2 AND place = 3", "musts_met is 9; allowed: from 0 to 4"},
      Altered{"UPDATE layout SET musts_met = -2 WHERE unit = 2 AND place = 3", "musts_met is -2"},
      Altered{"UPDATE layout SET score = -1.0 WHERE unit = 2 AND place = 3", "score is -1"},
      Altered{"UPDATE layout SET score = 9e999 WHERE unit = 2 AND place = 3", "score is inf"},
      Altered{"UPDATE layout SET margin = 1.5 WHERE unit = 2 AND place = 3", "margin is 1.5; allowed: at most 1"},
      Altered{"UPDATE layout SET room = 7.0 WHERE unit = 2 AND place = 3", "room is 7"},
      Altered{"UPDATE layout SET place = 40 WHERE unit = 2 AND place = 5", "table layout, unit 2, place 40"},
      Altered{"UPDATE layout SET unit = 50 WHERE unit = 2", "table layout, unit 50, place 0: belongs to nothing"},
      Altered{"UPDATE unit SET linkage = 99 WHERE unit = 18", "table unit, unit 18: linkage is 99; allowed: 0"},
      Altered{"UPDATE unit SET linkage = -1 WHERE unit = 18", "linkage is -1"},
      Altered{"UPDATE unit SET screened = 9223372036854775807 WHERE unit = 18",
              "table unit, unit 18: screened is 9223"},
      Altered{"UPDATE unit SET refined = -5 WHERE unit = 18", "refined is -5"},
      Altered{"UPDATE unit SET refined = 2 WHERE unit = 18", "table layout, unit 18: 6 layouts of 2 refined"},
      Altered{"UPDATE unit SET evaluations = -1 WHERE unit = 18", "evaluations is -1"},
      Altered{"UPDATE unit SET unit = -14 WHERE unit = 18", "table unit, unit -14: unit is -14"},
      Altered{"UPDATE unit SET unit = 19 WHERE unit = 18", "belongs to another slice than 3 of 16"},
      Altered{"DELETE FROM unit WHERE unit = 18", "table failure, unit 18, place 0: belongs to nothing"},
      Altered{"UPDATE failure SET count = 99999 WHERE unit = 34", "table failure, unit 34: count is 99999"},
      Altered{"UPDATE failure SET count = -3 WHERE unit = 34", "count is -3"},
      Altered{"INSERT INTO failure VALUES (77, 'invented', 1)", "table failure, unit 77"},
      Altered{"UPDATE failure SET count = 'many' WHERE unit = 34", "table failure, unit 34: count is no whole number"},
      Altered{"UPDATE unit SET refined = 'x' WHERE unit = 18", "table unit, unit 18: refined is no whole number"},
      Altered{"UPDATE layout SET musts = x'00ff' WHERE unit = 2 AND place = 3",
              "table layout, unit 2, place 3: musts is no whole number"},
      Altered{"UPDATE head SET slices = 0", "table head: slices is 0"},
      Altered{"UPDATE head SET slice = 0", "table head: slice is 0; allowed: from 1 to 16"},
      Altered{"UPDATE head SET slice = 17", "table head: slice is 17"},
      Altered{"UPDATE head SET planned_units = -1", "table head: planned_units is -1"},
      Altered{"UPDATE head SET seed = '-1'", "table head: seed is no number"},
      Altered{"UPDATE head SET brief_text = x'00'", "table head: brief_text is no text"},
      Altered{"INSERT INTO head SELECT * FROM head", "table head: has more than one row"},
      Altered{"DELETE FROM head", "table head: has no row"},
      Altered{"ALTER TABLE head RENAME TO tail", "its tables are not those of a study"},
      Altered{"CREATE TRIGGER t AFTER INSERT ON unit BEGIN DELETE FROM unit; END",
              "its tables are not those of a study"},
      Altered{"CREATE TABLE more (x)", "its tables are not those of a study"},
      // Endless rows.
      Altered{
          "DROP TABLE failure; CREATE VIEW failure AS WITH RECURSIVE n(i) AS (SELECT 1 UNION ALL SELECT i + 1 FROM n)"
          " SELECT 2 AS unit, 'x' AS cause, i AS count FROM n",
          "its tables are not those of a study"});
  CAPTURE(altered.sql);
  const Folder folder;
  make_study(folder.study());
  {
    SQLite::Database database(folder.study().string(), SQLite::OPEN_READWRITE);
    database.exec("PRAGMA ignore_check_constraints = ON");
    database.exec(altered.sql);
  }
  const std::string before = bytes_of(folder.study());
  CHECK_THROWS_AS(look_through(folder.study()), StoreError);
  CHECK_THROWS_WITH(look_through(folder.study()), Contains(altered.words) && Contains(folder.study().string() + ": "));
  CHECK(bytes_of(folder.study()) == before);
}

TEST_CASE("a file that stands for another is not opened", "[store][stranger]") {
  const Folder folder;
  make_study(folder.study("real"));
  std::filesystem::create_symlink("real", folder.study());
  CHECK_THROWS_WITH(StudyFile::read(folder.study()), Contains("is a symbolic link"));
  CHECK_THROWS_WITH(StudyFile::open(folder.study()), Contains("is a symbolic link"));
  std::ofstream(folder.study("mine")) << "a text of mine";
  std::filesystem::create_symlink("mine", folder.study("real.lock.new"));
  std::filesystem::rename(folder.study("real.lock.new"), folder.study("real.lock"));
  CHECK_THROWS_WITH(StudyFile::open(folder.study("real")),
                    Contains("real.lock: the lock cannot be taken, as it is a symbolic link"));
  CHECK(bytes_of(folder.study("mine")) == "a text of mine");
}

TEST_CASE("random flips of bytes are refused or harmless", "[store][stranger]") {
  const Folder folder;
  make_study(folder.study("sound"));
  const std::string sound = bytes_of(folder.study("sound"));
  std::mt19937 random(20261127);
  int refused = 0;
  constexpr int rounds = 600;
  for (int round = 0; round < rounds; ++round) {
    std::string bytes = sound;
    for (int flips = 1 + static_cast<int>(random() % 8); flips > 0; --flips)
      bytes[random() % bytes.size()] = static_cast<char>(random());
    if (random() % 8 == 0) bytes.resize(random() % bytes.size());
    CAPTURE(round);
    std::ofstream(folder.study(), std::ios::binary | std::ios::trunc) << bytes;
    try {
      look_through(folder.study());
    } catch (const StoreError& error) {
      ++refused;
      CHECK_THAT(error.what(), Contains(folder.study().string()));
    }
  }
  CHECK(refused > rounds / 3);
}
