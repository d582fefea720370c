#include "report/labels.hpp"

#include <algorithm>
#include <catch2/catch.hpp>

using namespace trammel::report;

namespace {

bool overlap(const Label& a, const Label& b) {
  return std::min(a.corner.x + a.width, b.corner.x + b.width) > std::max(a.corner.x, b.corner.x) &&
         std::min(a.corner.y + a.height, b.corner.y + b.height) > std::max(a.corner.y, b.corner.y);
}

}  // namespace

TEST_CASE("names of crowded points do not cover each other, nor leave the drawing") {
  // Five points within a few pixels, one of them twice, and two in the corners.
  const std::vector<std::pair<std::string, Spot>> names{
      {"main", {200, 150}}, {"idler", {203, 152}}, {"rocker", {200, 150}}, {"lower eye", {195, 156}},
      {"shoe", {207, 144}}, {"axle", {1, 1}},      {"mount", {399.0, 299}}};
  const auto labels = place_labels(names, {{{0, 150}, {400, 150}}}, 14.0, 400.0, 300.0);
  REQUIRE(labels.size() == names.size());
  for (std::size_t i = 0; i < labels.size(); ++i) {
    CHECK(labels[i].words == names[i].first);
    CHECK(labels[i].corner.x >= 0.0);
    CHECK(labels[i].corner.y >= 0.0);
    CHECK(labels[i].corner.x + labels[i].width <= 400.0);
    CHECK(labels[i].corner.y + labels[i].height <= 300.0);
    for (std::size_t j = 0; j < i; ++j) CHECK_FALSE(overlap(labels[i], labels[j]));
  }
}
