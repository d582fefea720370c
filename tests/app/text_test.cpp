#include "app/text.hpp"

#include <catch2/catch.hpp>
#include <sstream>

using namespace trammel::app;
using Align = TextTable::Align;

namespace {

std::vector<std::string> lines_of(const std::string& text) {
  std::istringstream in(text);
  std::vector<std::string> lines;
  for (std::string line; std::getline(in, line);) lines.push_back(line);
  return lines;
}

}  // namespace

TEST_CASE("Widths count letters, not bytes", "[text]") {
  CHECK(width_of("") == 0);
  CHECK(width_of("12.5°") == 5);
  CHECK(width_of("✓ – ü") == 5);
}

TEST_CASE("Sentences fold between words and lose none", "[text]") {
  std::string sentence;
  for (int i = 0; i < 60; ++i) sentence += (i == 0 ? "" : " ") + std::string("wörd") + std::to_string(i);
  const auto lines = lines_of(folded(sentence, 2, 6));
  REQUIRE(lines.size() > 3);
  std::string together;
  for (std::size_t i = 0; i < lines.size(); ++i) {
    CHECK(width_of(lines[i]) <= page_width);
    CHECK(lines[i].find_first_not_of(' ') == (i == 0 ? 2 : 6));
    together += (i == 0 ? "" : " ") + lines[i].substr(lines[i].find_first_not_of(' '));
  }
  CHECK(together == sentence);
  CHECK(folded("", 2, 6) == "\n");
  CHECK(folded(std::string(130, 'x') + " y", 0, 0) == std::string(130, 'x') + "\ny\n");
}

TEST_CASE("A row of exactly a page is one line, one more letter folds it", "[text]") {
  for (const std::size_t more : {0, 1}) {
    TextTable table({Align::left, Align::left});
    table.add({std::string(38, 'a'), std::string(30, 'b') + " " + std::string(27 + more, 'c')});
    CHECK(lines_of(table.text(2)).size() == 1 + more);
  }
}

TEST_CASE("Columns line up, and what does not fit folds under its own cell", "[text]") {
  TextTable table({Align::left, Align::right, Align::left});
  table.add({"one", "1.0°", "short"});
  table.add({"another", "12.25", std::string(50, 'x') + " " + std::string(50, 'y')});
  table.add({"third", "", ""});
  CHECK(table.text(2) == "  one       1.0°  short\n  another  12.25  " + std::string(50, 'x') + "\n" +
                             std::string(18, ' ') + std::string(50, 'y') + "\n  third\n");
}

TEST_CASE("Long names get lines of their own", "[text]") {
  TextTable table({Align::left, Align::right, Align::left});
  table.add({std::string(80, 'n'), "1", "where it is decided, at some length"});
  table.add({"n", "2", "x"});
  const auto lines = lines_of(table.text(2));
  REQUIRE(lines.size() == 4);
  CHECK(lines[0] == "  " + std::string(80, 'n'));
  CHECK(lines[1] == "    1  where it is decided, at some length");
  CHECK(lines[3] == "    2  x");
}
