// Input that aims at the parser, or hits it by accident: a problem comes out, never a crash, a hang or a NaN.
#include <algorithm>
#include <catch2/catch.hpp>
#include <clocale>
#include <cmath>
#include <filesystem>
#include <locale>
#include <random>
#include <tuple>

#include "brief/read.hpp"
#include "corpus.hpp"

namespace trammel::test {
namespace {

using namespace std::string_literals;

/// The only problem of a text.
brief::Problem only_problem(const std::string& text) {
  const auto reading = brief::read_text(text, "x.yaml");
  INFO(reading.message());
  REQUIRE(reading.problems.size() == 1);
  return reading.problems.front();
}

bool holds(const std::string& text, const std::string& phrase) {
  return text.find(phrase) != text.npos;
}

TEST_CASE("an alias inside its own anchor") {
  for (const std::string text : {"a: &a [*a]", "&a {b: *a}", "a: &a {b: &b [*b, *a]}"}) {
    const auto problem = only_problem(text);
    CHECK(holds(problem.what, "alias"));
    CHECK(problem.line == 1);
    CHECK(problem.column == static_cast<int>(text.find('*')) + 1);
  }
}

TEST_CASE("an alias bomb") {
  std::string text = "a0: &a0 [1, 1, 1, 1, 1, 1, 1, 1, 1]\n";
  for (int i = 1; i < 10; ++i) {
    const std::string last = "*a" + std::to_string(i - 1), name = "a" + std::to_string(i);
    text += name + ": &" + name + " [" + last;
    for (int k = 0; k < 8; ++k) text += ", " + last;
    text += "]\n";
  }
  REQUIRE(text.size() < 600);
  CHECK(holds(only_problem(text).what, "more than 20000 values"));
}

TEST_CASE("deep nesting") {
  for (const std::string open : {"[", "{a: ", "- ", "? ", "{? "}) {
    std::string text;
    while (text.size() < 100000) text += open;
    CHECK_FALSE(brief::read_text(text, "x.yaml").ok());
  }
  CHECK(holds(only_problem("a: " + std::string(17, '[') + std::string(17, ']')).what, "more than 16 lists"));
}

TEST_CASE("too much text, too many values") {
  CHECK(holds(only_problem(std::string(256 * 1024 + 1, ' ')).what, "bytes"));
  std::string many = "[";
  for (int i = 0; i < 20001; ++i) many += "1,";
  CHECK(holds(only_problem(many + "]").what, "more than 20000 values"));
}

TEST_CASE("files that are no brief") {
  CHECK(holds(only_problem("").what, "is empty"));
  CHECK(holds(only_problem("# nothing\n").what, "is empty"));
  CHECK(holds(only_problem("---\n...\n").what, "is empty"));
  CHECK(holds(only_problem("- 1\n").what, "a list of 1 was given"));
  CHECK(holds(only_problem("trammel").what, "trammel was given"));
  CHECK(holds(only_problem("a: [1, 2\n").what, "is not YAML"));
  CHECK(holds(only_problem("!2").what, ""));
  const auto second = only_problem(base_text("layout") + "---\ntrammel: 1\n");
  CHECK(holds(second.what, "second document"));
  CHECK(second.line == 24);  // the layout has 23 lines
}

TEST_CASE("files that cannot be read") {
  const auto missing = brief::read_file("no/such/file.yaml");
  REQUIRE(missing.problems.size() == 1);
  CHECK(holds(missing.message(), "no/such/file.yaml:1:1: file: cannot be read"));
  CHECK(holds(brief::read_file(std::filesystem::temp_directory_path()).message(), "cannot be read"));
  CHECK(holds(brief::read_file("/dev/zero").message(), "cannot be read, as it is a device"));
}

TEST_CASE("keys that are no words") {
  for (const std::string text : {"{[1]: 2}", "? {a: 1}\n: 2\n", "? - 1\n: 2\n"}) {
    CHECK(holds(only_problem(text).what, "where a key is wanted"));
  }
  CHECK(holds(brief::read_text(": 2\n", "x.yaml").message(), "a key is missing or null"));
}

TEST_CASE("all problems come at once, in the order of the file") {
  auto text = edited(base_text("brief"), "trammel: 1", "trammel: 3");
  text = edited(text, "radius: 371", "radius: -371");
  text = edited(text, "chainstay: [main", "chainstay: [mian");
  text = edited(text, "seed: 1", "seed: one");
  text = edited(text, "gear: 32x50", "gear: 11x50");
  text = edited(text, "title:", "titel:");
  const auto reading = brief::read_text(text, "b.yaml");
  INFO(reading.message());
  REQUIRE(reading.problems.size() == 6);
  CHECK(std::is_sorted(reading.problems.begin(), reading.problems.end(), [](const auto& a, const auto& b) {
    return std::tie(a.line, a.column) < std::tie(b.line, b.column);
  }));
  const std::string message = reading.message();
  CHECK(std::count(message.begin(), message.end(), '\n') == 6);
  CHECK(message.starts_with("b.yaml:1:10: trammel: 3 was given"));
  CHECK(holds(message, "b.yaml:2:1: file: unknown key 'titel'"));
  CHECK(holds(message, "targets[0].gear: 11x50 was given"));
}

TEST_CASE("control characters stay out of messages") {
  const auto reading = brief::read_text("trammel: \"\\e[31m\\n\"\n", "x.yaml");
  CHECK(holds(reading.message(), "\\x1b[31m\\x0a"));
  CHECK_FALSE(holds(reading.message(), "\x1b"));
}

/// A locale whose decimal point is a comma, whatever is installed.
struct CommaPoint : std::numpunct<char> {
  char do_decimal_point() const override { return ','; }
  char do_thousands_sep() const override { return '.'; }
  std::string do_grouping() const override { return "\3"; }
};

TEST_CASE("numbers do not depend on the locale") {
  const auto before = std::locale::global(std::locale(std::locale::classic(), new CommaPoint));
  for (const char* name : {"de_DE.UTF-8", "fr_FR.UTF-8"}) {
    if (std::setlocale(LC_ALL, name) != nullptr) break;
  }
  const auto reading = brief::read_text(base_text("layout"), "x.yaml");
  const auto wrong = brief::read_text(edited(base_text("layout"), "stroke: 57.5", "stroke: 57x5"), "x.yaml");
  std::setlocale(LC_ALL, "C");
  std::locale::global(before);
  INFO(reading.message());
  REQUIRE(reading.ok());
  CHECK(reading.brief.layout.shock->stroke == 57.5);
  CHECK(reading.brief.layout.mechanism.points[3].y == 271.9);
  CHECK(holds(wrong.message(), "x.yaml:23:54: shock.stroke: 57x5 was given"));
}

/// Every number that a search would start from.
bool all_finite(const brief::Brief& read) {
  const auto& layout = read.layout;
  const auto finite = [](const auto& point) { return std::isfinite(point.x) && std::isfinite(point.y); };
  return std::all_of(layout.mechanism.points.begin(), layout.mechanism.points.end(), finite) &&
         finite(layout.front.axle) && std::isfinite(layout.rear_radius) && std::isfinite(layout.mechanism.drive.range);
}

TEST_CASE("damaged files give problems or a sound brief") {
  const std::string sound = base_text("brief");
  const std::string bytes = "\0\n\t :-[]{},&*!|>'\"%@`#?<.0123456789eEaxyz~\xff\xc3\xa9"s;
  std::mt19937 random(20240229);
  const auto below = [&](std::size_t n) { return static_cast<std::size_t>(random() % n); };
  int refused = 0;
  for (int round = 0; round < 3000; ++round) {
    std::string text = sound;
    for (std::size_t edits = 1 + below(4); edits > 0; --edits) {
      const std::size_t at = below(text.size()), length = std::min(text.size() - at, below(12));
      switch (below(3)) {
        case 0:
          text.replace(at, 1, 1, bytes[below(bytes.size())]);
          break;
        case 1:
          text.erase(at, length);
          break;
        default:
          text.insert(at, text.substr(below(text.size() - length), length));
      }
    }
    const auto reading = brief::read_text(text, "x.yaml");
    if (reading.ok()) {
      REQUIRE(all_finite(reading.brief));
    } else {
      ++refused;
      REQUIRE(std::all_of(reading.problems.begin(), reading.problems.end(), [](const auto& problem) {
        return problem.line >= 1 && problem.column >= 1 && !problem.what.empty();
      }));
    }
  }
  CHECK(refused > 1000);
}

}  // namespace
}  // namespace trammel::test
