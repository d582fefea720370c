// Changed values in a brief's text: what is to change changes, and nothing else does, by what the reader makes of it.
#include "brief/edit.hpp"

#include <catch2/catch.hpp>
#include <stdexcept>

#include "brief/meaning.hpp"
#include "brief/read.hpp"
#include "tests/support/tree.hpp"

using namespace trammel;
using brief::with_changes;

namespace {

const std::string trail = brief::read_file(test::in_tree("configs/trail-150.yaml")).brief.text;

std::string with(const std::string& text, const std::string& old, const std::string& fresh) {
  REQUIRE(text.find(old) != std::string::npos);
  return std::string(text).replace(text.find(old), old.size(), fresh);
}

/// What a change makes of the brief, as "path: before → after".
std::string said(const std::string& before, const std::string& after) {
  std::string out;
  for (const brief::Difference& d : brief::differences(before, after))
    out += d.path + ": " + d.before + " → " + d.after + "\n";
  return out;
}

}  // namespace

TEST_CASE("a value changes where it stands, and every other byte stays") {
  CHECK(with_changes(trail, {{"targets[1].band[0]", "91.5"}}) == with(trail, "band: [96, 108]", "band: [91.5, 108]"));
  CHECK(with_changes(trail, {{"targets[1].band[0]", "91.5"}, {"targets[1].band[1]", "120"}}) ==
        with(trail, "band: [96, 108]", "band: [91.5, 120]"));
  CHECK(with_changes(trail, {{"packaging.boxes.eye.x[1]", "35"}}) ==
        with(trail, "eye: { x: [-90, 20] }", "eye: { x: [-90, 35] }"));
  CHECK(with_changes(trail, {{"packaging.least_pivot_distance", "20"}}) ==
        with(trail, "least_pivot_distance: 32", "least_pivot_distance: 20"));
  // Behind a mark that some editors put in front, and with their line ends.
  std::string other = "\xEF\xBB\xBF" + trail;
  for (std::size_t at = 0; (at = other.find('\n', at)) != std::string::npos; at += 2) other.insert(at, "\r");
  CHECK(with_changes(other, {{"targets[1].band[0]", "91.5"}}) == with(other, "band: [96, 108]", "band: [91.5, 108]"));
}

TEST_CASE("a key that is left out is put in, comments kept") {
  for (const auto& [path, value, difference] : std::vector<std::tuple<std::string, std::string, std::string>>{
           {"targets[1].tolerance", "2.5", "targets[1].tolerance:  → 2.5\n"},
           {"packaging.least_transmission_angle", "8", ""},
           {"bike.kind", "trail", ""},
           {"search.distinct", "0.3", "search.distinct:  → 0.3\n"},
       }) {
    INFO(path);
    const std::string after = with_changes(trail, {{path, value}});
    CHECK(brief::read_text(after, "changed.yaml").message() == "");
    CHECK(after.find("# ") != std::string::npos);
    CHECK(std::count(after.begin(), after.end(), '#') == std::count(trail.begin(), trail.end(), '#'));
    if (!difference.empty()) CHECK(said(trail, after) == difference);
  }
  // A group that is not there at all, and one in a list of groups a line each.
  const std::string small =
      "trammel: 1\ntargets:\n  # first\n  - curve: travel   # what\n    at: bottomed\n    value: 3\n";
  CHECK(with_changes(small, {{"targets[0].tolerance", "2"}}) ==
        "trammel: 1\ntargets:\n  # first\n  - tolerance: 2\n    curve: travel   # what\n    at: bottomed\n    value: "
        "3\n");
  CHECK(with_changes(small, {{"search.seed", "7"}}) == small + "search: { seed: 7 }\n");
}

TEST_CASE("a value that an alias repeats elsewhere changes in one place only") {
  const std::string repeated =
      "trammel: 1\n"
      "targets:\n"
      "  - { name: one, curve: leverage, at: sag, band: &limits [2, 3] }  # the first\n"
      "  - { name: two, curve: leverage, at: bottomed, band: *limits }\n"
      "search: { seed: 3 }\n";
  for (const char* path : {"targets[0].band[1]", "targets[1].band[1]"}) {
    const std::string after = with_changes(repeated, {{path, "4"}});
    INFO(after);
    CHECK(said(repeated, after) == std::string(path).substr(0, 15) + ": [2, 3] → [2, 4]\n");
  }
}

TEST_CASE("what cannot be changed is refused") {
  CHECK_THROWS_AS(with_changes(trail, {{"targets[99].band[0]", "1"}}), std::invalid_argument);
  CHECK_THROWS_AS(with_changes(trail, {{"targets[x]", "1"}}), std::invalid_argument);
  CHECK_THROWS_AS(with_changes("[", {{"trammel", "1"}}), std::invalid_argument);
}
