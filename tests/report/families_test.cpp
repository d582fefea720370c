// What a report's page says of families, of how many sorts they are.
#include <catch2/catch.hpp>

#include "report/pages.hpp"
#include "tests/report/fixture.hpp"

using namespace trammel;

TEST_CASE("families of several sorts are so by definition, and of one sort because no path was found") {
  search::StudyReport study = test::invented_study();
  search::Families& all = study.families;
  all.families.resize(2);
  all.feasible = all.looked_at = 12;
  all.paths = 30;
  all.places = 50;
  const auto says = [&](std::int64_t sorts, const std::string& words) {
    all.sorts = sorts;
    return report::families_section(study).str().find(words) != std::string::npos;
  };
  const std::string by_definition = "are of another family by definition", no_path = "no such path was found";
  CHECK_FALSE(says(1, by_definition));
  CHECK(says(1, no_path));
  CHECK(says(2, by_definition));
  CHECK_FALSE(says(2, no_path));
  all.families.resize(3);
  CHECK(says(2, by_definition));
  CHECK(says(2, "alike in these no such path was found"));
  CHECK(says(3, by_definition));
  CHECK_FALSE(says(3, no_path));
}
