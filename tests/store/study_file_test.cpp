// What goes into a study file comes out of it, and what is wrong with one is said in words.
#include <SQLiteCpp/SQLiteCpp.h>

#include <catch2/catch.hpp>
#include <limits>
#include <regex>
#include <sstream>

#include "store/study_file.hpp"
#include "tests/store/study_samples.hpp"
#include "tests/support/tree.hpp"

using namespace trammel;
using Catch::Matchers::Contains;
using store::StoreError;
using store::StudyFile;
using store::UnitRow;
using test::Folder;
using test::sample_head;
using test::sample_unit;

TEST_CASE("a study's head reads back as it was given", "[store]") {
  const Folder folder;
  const store::StudyHead head = sample_head();
  const auto check = [&](const StudyFile& study) {
    CHECK(study.head().engine_version == head.engine_version);
    CHECK(study.head().brief_file == head.brief_file);
    CHECK(study.head().brief_text == head.brief_text);
    CHECK(study.head().brief_hash == head.brief_hash);
    CHECK(study.head().seed == head.seed);
    CHECK(study.head().planned_units == head.planned_units);
    CHECK(study.head().slice == head.slice);
    CHECK(study.head().slices == head.slices);
  };
  check(StudyFile::create(folder.study(), head));
  check(StudyFile::open(folder.study()));
  check(StudyFile::read(folder.study()));
}

TEST_CASE("units read back whole, in order of id, whatever the order of commits", "[store]") {
  const Folder folder;
  {
    StudyFile study = StudyFile::create(folder.study(), sample_head());
    CHECK(study.committed().empty());
    CHECK(study.units().empty());
    study.commit({});
    study.commit({sample_unit(7), sample_unit(2)});
    study.commit({sample_unit(5, 0)});
  }
  const StudyFile study = StudyFile::read(folder.study());
  CHECK(study.committed() == std::vector<std::int64_t>{2, 5, 7});
  const std::vector<UnitRow> units = study.units();
  REQUIRE(units.size() == 3);
  CHECK(test::same(units[0], sample_unit(2)));
  CHECK(test::same(units[1], sample_unit(5, 0)));
  CHECK(test::same(units[2], sample_unit(7)));
  CHECK_FALSE(test::same(units[2], sample_unit(8)));
}

TEST_CASE("numbers read back to the last bit", "[store]") {
  using limits = std::numeric_limits<double>;
  const Folder folder;
  UnitRow unit = sample_unit(0, 1);
  unit.layouts[0].design = {0.0, -0.0, 1.0, 0.1, std::nextafter(1.0, 2.0), 1.0 / 3.0};
  unit.layouts[0].achieved = {limits::denorm_min(), -limits::denorm_min(), limits::min(), limits::max(),
                              limits::lowest(),     9007199254740993.0,    1e22,          123456789012345678.0};
  unit.layouts[0].score = 3.0;
  unit.layouts[0].margin = -0.0;
  StudyFile study = StudyFile::create(folder.study(), sample_head());
  study.commit({unit});
  CHECK(test::same(study.units().at(0), unit));
}

TEST_CASE("a unit that is committed again is left as it was", "[store]") {
  const Folder folder;
  StudyFile study = StudyFile::create(folder.study(), sample_head());
  study.commit({sample_unit(1)});
  UnitRow other = sample_unit(1);
  other.layouts[0].score = 99.0;
  other.layouts.pop_back();
  study.commit({other, sample_unit(2), sample_unit(2)});
  CHECK(study.committed() == std::vector<std::int64_t>{1, 2});
  CHECK(test::same(study.units().at(0), sample_unit(1)));
}

TEST_CASE("a commit that fails leaves nothing of itself", "[store]") {
  const Folder folder;
  StudyFile study = StudyFile::create(folder.study(), sample_head());
  study.commit({sample_unit(1)});
  const std::string before = study.digest();

  UnitRow spoilt = sample_unit(3);
  SECTION("a number that is not finite") {
    spoilt.layouts[2].achieved[1] = std::numeric_limits<double>::quiet_NaN();
    CHECK_THROWS_WITH(study.commit({sample_unit(2), spoilt}),
                      Contains("unit 3: layout 2 has a number that is not finite"));
  }
  SECTION("infinity") {
    spoilt.layouts[0].margin = -std::numeric_limits<double>::infinity();
    CHECK_THROWS_WITH(study.commit({sample_unit(2), spoilt}), Contains("not finite"));
  }
  SECTION("a layout of another unit") {
    spoilt.layouts[1].unit = 4;
    CHECK_THROWS_WITH(study.commit({sample_unit(2), spoilt}), Contains("unit 3: holds a layout of unit 4"));
  }
  SECTION("two layouts at one place") {
    spoilt.layouts[1].place = 0;
    CHECK_THROWS_WITH(study.commit({sample_unit(2), spoilt}), Contains("UNIQUE constraint failed: layout.unit"));
  }
  CHECK(study.committed() == std::vector<std::int64_t>{1});
  CHECK(study.digest() == before);
  study.commit({sample_unit(2)});  // and the study goes on
  CHECK(study.committed().size() == 2);
}

TEST_CASE("what is no study is refused in words", "[store]") {
  const Folder folder;
  const auto refused = [&](const std::string& words) {
    CHECK_THROWS_AS(StudyFile::open(folder.study()), StoreError);
    CHECK_THROWS_WITH(StudyFile::open(folder.study()), Contains(words) && Contains(folder.study().string()));
    CHECK_THROWS_WITH(StudyFile::read(folder.study()), Contains(words));
  };
  const auto other_database = [&](const std::string& sql) {
    SQLite::Database database(folder.study().string(), SQLite::OPEN_READWRITE | SQLite::OPEN_CREATE);
    database.exec(sql);
  };
  SECTION("no file") {
    refused("there is no study");
  }
  SECTION("a folder") {
    std::filesystem::create_directory(folder.study());
    refused("it is no file");
  }
  SECTION("a text") {
    std::ofstream(folder.study()) << std::string(5000, 'x');
    refused("it is no SQLite file");
  }
  SECTION("an empty file") {
    std::ofstream(folder.study()).flush();
    refused("is empty");
  }
  SECTION("another program's database") {
    other_database("CREATE TABLE t (x)");
    refused("another program's SQLite file");
  }
  SECTION("a newer schema") {
    StudyFile::create(folder.study(), sample_head());
    other_database("PRAGMA user_version = 4");
    refused("is a study of schema 4; this version reads schema 3");
  }
  SECTION("a study cut off in the middle") {
    {
      StudyFile study = StudyFile::create(folder.study(), sample_head());
      for (int i = 0; i < 50; ++i) study.commit({sample_unit(i)});
    }
    std::filesystem::resize_file(folder.study(), 8192);
    CHECK_THROWS_AS(StudyFile::open(folder.study()).units(), StoreError);
    CHECK_THROWS_WITH(StudyFile::open(folder.study()).units(), Contains("damaged"));
  }
}

TEST_CASE("a new study never overwrites anything", "[store]") {
  const Folder folder;
  StudyFile::create(folder.study(), sample_head()).commit({sample_unit(1)});
  CHECK_THROWS_WITH(StudyFile::create(folder.study(), sample_head()), Contains("never overwrites"));
  CHECK(StudyFile::read(folder.study()).committed().size() == 1);

  std::ofstream(folder.study("notes")) << "mine";
  CHECK_THROWS_AS(StudyFile::create(folder.study("notes"), sample_head()), StoreError);
  std::string kept;
  std::ifstream(folder.study("notes")) >> kept;
  CHECK(kept == "mine");

  CHECK_THROWS_WITH(StudyFile::create(folder.path / "none" / "trammel.study", sample_head()), Contains("No such file"));
}

TEST_CASE("a study open for reading takes no commits", "[store]") {
  const Folder folder;
  StudyFile::create(folder.study(), sample_head());
  StudyFile study = StudyFile::read(folder.study());
  CHECK_THROWS_WITH(study.commit({sample_unit(1)}), Contains("open for reading only"));
}

TEST_CASE("the documented queries run, and every column is documented", "[store]") {
  const Folder folder;
  StudyFile::create(folder.study(), sample_head()).commit({sample_unit(0), sample_unit(1)});
  SQLite::Database database(folder.study().string());

  std::ifstream file(test::in_tree("docs/study-file.md"));
  std::stringstream page;
  page << file.rdbuf();
  const std::string text = page.str();
  REQUIRE_FALSE(text.empty());

  int queries = 0;
  for (std::size_t at = 0; (at = text.find("```sql\n", at)) != std::string::npos; ++queries) {
    at += 7;
    const std::string query = text.substr(at, text.find("```", at) - at);
    CAPTURE(query);
    SQLite::Statement statement(database, query);
    const bool found = statement.executeStep();
    CHECK((found || query.find("0.999") != std::string::npos));  // no sample rests on the end of its range
  }
  CHECK(queries == 6);

  // A table's section runs from its name at the start of a line to the next table's.
  SQLite::Statement columns(database,
                            "SELECT t.name, c.name FROM sqlite_schema t, pragma_table_info(t.name) c "
                            "WHERE t.type = 'table'");
  int count = 0;
  while (columns.executeStep()) {
    const std::string table = columns.getColumn(0).getString(), column = columns.getColumn(1).getString();
    CAPTURE(table, column);
    const std::size_t start = text.find("\n`" + table + "`, ");
    REQUIRE(start != std::string::npos);
    const std::string section = text.substr(start, text.find("\n\n`", start + 2) - start);
    CHECK(std::regex_search(section, std::regex("\\n\\|[^|]*`" + column + "`[^|]*\\|")));
    ++count;
  }
  CHECK(count == 34);
  CHECK_THAT(text, Contains("`PRAGMA application_id` is " +
                            std::to_string(database.execAndGet("PRAGMA application_id").getInt())));
}
