// Titles made from a brief's own can be read again, however long that one is.
#include "brief/title.hpp"

#include <algorithm>
#include <catch2/catch.hpp>

#include "brief/fields.hpp"
#include "brief/read.hpp"
#include "corpus.hpp"

using namespace trammel;

TEST_CASE("a title with what is put behind it is never longer than a title may be") {
  const auto characters = [](const std::string& text) {
    return std::count_if(text.begin(), text.end(),
                         [](char c) { return (static_cast<unsigned char>(c) & 0xC0) != 0x80; });
  };
  const std::string which = "layout 123456-7";
  for (const std::string letter : {"x", "é", "漢"})
    for (std::size_t n = 1; n <= brief::longest_text; ++n) {
      std::string title;
      for (std::size_t i = 0; i < n; ++i) title += letter;
      const std::string made = brief::made_title(title, which);
      INFO(n << ": " << made);
      REQUIRE(characters(made) <= static_cast<long>(brief::longest_text));
      CHECK(made.ends_with(", " + which));
      const bool fits = n + 2 + which.size() <= brief::longest_text;
      CHECK(made.starts_with(title + ",") == fits);
      if (n % 20 != 0) continue;
      const auto reading = brief::read_text(
          test::edited(test::base_text("layout"), "title: Plain single pivot", "title: \"" + made + "\""), "x.yaml");
      INFO(reading.message());
      REQUIRE(reading.ok());
      CHECK(reading.brief.layout.title == made);
    }
  CHECK(brief::made_title("Trail", "") == "Trail");
}

TEST_CASE("a file without a title has its name for one, cut where that is too long") {
  const std::string text = test::edited(test::base_text("layout"), "title: Plain single pivot\n", "");
  CHECK(brief::read_text(text, "shed/old.yaml").brief.layout.title == "old");
  const std::string long_name(120, 'n');
  CHECK(brief::read_text(text, long_name + ".yaml").brief.layout.title == std::string(79, 'n') + "…");
}
