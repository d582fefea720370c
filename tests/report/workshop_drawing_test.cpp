// Tables of the workshop drawing, as they stand on the sheet.
#include "report/workshop_drawing.hpp"

#include <algorithm>
#include <catch2/catch.hpp>
#include <map>
#include <regex>

#include "tests/report/fixture.hpp"

using namespace trammel;

namespace {

struct Rule {
  double x, top, bottom;  ///< of an upright line, mm
};

std::vector<Rule> uprights_in(const std::string& svg) {
  static const std::regex line("<line x1=\"([^\"]*)\" y1=\"([^\"]*)\" x2=\"([^\"]*)\" y2=\"([^\"]*)\"");
  std::vector<Rule> out;
  for (std::sregex_iterator at(svg.begin(), svg.end(), line), end; at != end; ++at) {
    const double x = std::stod((*at)[1]), a = std::stod((*at)[2]), b = std::stod((*at)[4]);
    if (x == std::stod((*at)[3])) out.push_back({x, std::min(a, b), std::max(a, b)});
  }
  return out;
}

/// Where words stand, by what they say; the first of each.
std::map<std::string, bike::Point> words_in(const std::string& svg) {
  static const std::regex words("<text x=\"([^\"]*)\" y=\"([^\"]*)\"[^>]*>([^<]*)</text>");
  std::map<std::string, bike::Point> out;
  for (std::sregex_iterator at(svg.begin(), svg.end(), words), end; at != end; ++at)
    out.try_emplace((*at)[3], bike::Point{std::stod((*at)[1]), std::stod((*at)[2])});
  return out;
}

}  // namespace

TEST_CASE("a rule stands between any two columns of a workshop drawing's tables") {
  const search::Sheet sheet = test::invented_sheet(test::invented_layout(), 3);
  brief::Tolerances tolerances;
  tolerances.points.resize(sheet.layout.mechanism.points.size(), {0.1, 0.1});
  const std::string svg = report::workshop_drawing(sheet.layout, sheet.topped_out, {&tolerances, false},
                                                   {"Invented", "layout 1", "", "test"})
                              .svg("test");
  const std::vector<Rule> rules = uprights_in(svg);
  const std::map<std::string, bike::Point> words = words_in(svg);
  for (const std::vector<std::string>& heads :
       {std::vector<std::string>{"point", "x", "y", "± of x, y", "joins"}, {"part", "centres", "mm"}}) {
    for (std::size_t c = 0; c + 1 < heads.size(); ++c) {
      INFO(heads[c] << " and " << heads[c + 1]);
      REQUIRE(words.contains(heads[c]));
      REQUIRE(words.contains(heads[c + 1]));
      const bike::Point left = words.at(heads[c]), right = words.at(heads[c + 1]);
      CHECK(std::any_of(rules.begin(), rules.end(), [&](const Rule& rule) {
        return rule.x > left.x && rule.x < right.x && rule.top < left.y && rule.bottom > left.y;
      }));
    }
  }
}
