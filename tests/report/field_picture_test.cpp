// Where layouts lie in the brief's ranges: every place is drawn once, every range with both axes as a box.
#include "report/field_picture.hpp"

#include <algorithm>
#include <catch2/catch.hpp>
#include <string>

#include "fixture.hpp"

using namespace trammel;

namespace {

std::size_t count(const std::string& text, const std::string& what) {
  std::size_t n = 0;
  for (auto at = text.find(what); at != text.npos; at = text.find(what, at + what.size())) ++n;
  return n;
}

/// How many figures `what` are in the figure alone, without its legend.
std::size_t drawn(const std::string& page, const std::string& what) {
  return count(page.substr(0, page.find("<figcaption")), what);
}

}  // namespace

TEST_CASE("every mark's points are in the picture, told apart by what they meet") {
  const auto study = test::invented_study();
  const std::string page = report::field_pictures(study).str();
  const auto points = study.shortlist.front().layout.mechanism.points.size();
  std::size_t meets = 0, fails = 0, listed = 0;
  for (const search::Mark& mark : study.marks) ++(mark.rank_in_shortlist > 0 ? listed : mark.feasible ? meets : fails);
  REQUIRE(meets > 0);
  REQUIRE(fails > 0);
  CHECK(drawn(page, "h0") == meets * points);
  CHECK(drawn(page, "m0 -4.40l") == fails * points);
  CHECK(drawn(page, "r=\"4.00\"") == listed * points);
  std::size_t boxes = 0;
  for (const auto& x : study.shortlist.front().varied)
    for (const auto& y : study.shortlist.front().varied)
      boxes += x.name.ends_with(".x") && y.name == x.name.substr(0, x.name.size() - 1) + "y" ? 1 : 0;
  REQUIRE(boxes > 0);
  CHECK(drawn(page, "stroke-dasharray=\"5 3\"") == boxes);
}

TEST_CASE("a point that stands still in all of them has no cloud, and without a shortlist there is no picture") {
  auto study = test::invented_study();
  const std::string name = study.shortlist.front().layout.mechanism.point_names[0];
  for (auto& mark : study.marks) mark.points[0] = study.shortlist.front().layout.mechanism.points[0];
  const std::string page = report::field_pictures(study).str();
  CHECK(page.find(">" + name + "<") == std::string::npos);
  CHECK(page.find(">" + study.shortlist.front().layout.mechanism.point_names[1] + "<") != std::string::npos);
  study.shortlist.clear();
  CHECK(report::field_pictures(study).empty());
}

TEST_CASE("each linkage has a picture of its own, of its own marks") {
  auto study = test::invented_study();
  study.shortlist.back().linkage = "Rail";
  study.marks.back().linkage = "Rail";
  study.marks.back().feasible = true;
  study.marks.back().rank_in_shortlist = 0;
  const std::string page = report::field_pictures(study).str();
  CHECK(count(page, "<figure") == 2);
  const std::string second = page.substr(page.rfind("<figure"));
  CHECK(drawn(second, "h0") == study.shortlist.back().layout.mechanism.points.size());
  CHECK(drawn(second, "m0 -4.40l") == 0);
}
