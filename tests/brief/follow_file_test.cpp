// Paths to follow from a CSV file beside the brief.
#include <catch2/catch.hpp>
#include <fstream>

#include "brief/read.hpp"
#include "corpus.hpp"
#include "folder.hpp"

namespace trammel::test {
namespace {

using Path = std::vector<std::pair<double, double>>;

std::string brief_with(const std::string& target) {
  return edited(base_text("brief"), "{ curve: leverage, over: [0, 1], follow: [[0, 2.9], [1, 2.3]], tolerance: 0.05 }",
                target);
}

/// The brief of the corpus with that target, read from a folder with `content` in wish.csv.
brief::Reading read_with(const std::string& target, const std::string& content) {
  const Folder folder;
  std::ofstream(folder.path / "wish.csv", std::ios::binary) << content;
  return brief::read_text(brief_with(target), (folder.path / "bike.yaml").string());
}

Path path_of(const brief::Reading& reading) {
  INFO(reading.message());
  REQUIRE(reading.ok());
  CHECK(reading.brief.targets[2].wish.kind == objectives::Wish::Kind::follow);
  return reading.brief.targets[2].wish.path;
}

}  // namespace

TEST_CASE("two columns, with or without a header, and kept in the brief's text") {
  const std::string target = "{ curve: leverage, follow_file: wish.csv, tolerance: 0.05 }";
  for (const std::string content :
       {"0,2.9\n0.4,2.6\n1,2.3\n", "fraction of travel,ratio\r\n0, 2.9\r\n0.4,2.6\r\n1,2.3"}) {
    const auto reading = read_with(target, content);
    CHECK(path_of(reading) == Path{{0.0, 2.9}, {0.4, 2.6}, {1.0, 2.3}});
    CHECK(reading.brief.text.find("wish.csv") == std::string::npos);
    const auto again = brief::read_text(reading.brief.text, "elsewhere.yaml");
    CHECK(path_of(again) == path_of(reading));
    CHECK(again.brief.text == reading.brief.text);
    CHECK(again.brief.targets[2].tolerance == 0.05);
  }
}

TEST_CASE("named columns among others") {
  const std::string content =
      "shock_mm,leverage,fraction,anti_squat_pct[32x50]\n0,2.9,0,120\n20,2.6,0.4,101\n57,2.3,1,80\n";
  CHECK(path_of(read_with("{ curve: leverage, follow_file: wish.csv }", content)) ==
        Path{{0.0, 2.9}, {0.4, 2.6}, {1.0, 2.3}});
  CHECK(path_of(read_with("{ curve: anti_squat, gear: 32x50, follow_file: \"wish.csv\" }", content)) ==
        Path{{0.0, 120.0}, {0.4, 101.0}, {1.0, 80.0}});
}

TEST_CASE("a file that is no path is refused at its name") {
  const auto problem_of = [&](const std::string& content) {
    const auto reading = read_with("{ curve: leverage, over: [0, 1], follow_file: wish.csv }", content);
    INFO(reading.message());
    REQUIRE(reading.problems.size() == 1);
    CHECK(reading.problems[0].where == "targets[2].follow_file");
    return reading.problems[0].what;
  };
  CHECK(problem_of("0,2.9\n1;2.3\n").find("line 2 of wish.csv is '1;2.3'") == 0);
  CHECK(problem_of("a,b,c\n0,2.9,1\n").find("line 2") == 0);
  CHECK(problem_of("fraction,leverage\n").find("wish.csv holds 0 points") == 0);
  CHECK(problem_of("0,2.9\n").find("wish.csv holds 1 points") == 0);
  CHECK(problem_of("0,2.9\n1.2,2.3\n").find("fraction 1.2 was read") == 0);
  CHECK(problem_of("0,2.9\n0.6,2.5\n0.5,2.4\n1,2.3\n").find("fraction 0.5 was given, but it must be above") == 0);
  CHECK(problem_of("0.1,2.9\n1,2.3\n").find("the path runs from 0.1 to 1, but it must cover") == 0);
}

}  // namespace trammel::test
