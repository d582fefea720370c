// What may be shown and what is written out instead.
#include "io/escape.hpp"

#include <catch2/catch.hpp>

using namespace trammel;
using io::escaped;
using io::LineBreaks;

TEST_CASE("plain text of any script stays as it is") {
  for (const std::string text :
       {"", "Trail bike, 150 mm", "Übungsrad „ß“", "前 後 サス", "🚲 a\\x1b", "e\xCC\x81", "\xF4\x8F\xBF\xBF"}) {
    CHECK(escaped(text) == text);
    CHECK(escaped(text, LineBreaks::kept) == text);
  }
}

TEST_CASE("control characters are written out") {
  CHECK(escaped("a\x1b[2Jb\x07\x7f") == "a\\x1b[2Jb\\x07\\x7f");
  CHECK(escaped("one\ntwo\r\n\tthree") == "one\\x0atwo\\x0d\\x0a\\x09three");
  CHECK(escaped("one\ntwo\r\n", LineBreaks::kept) == "one\ntwo\\x0d\n");
  CHECK(escaped(std::string_view("\0", 1)) == "\\x00");
  CHECK(escaped("\xC2\x9B"
                "31m") == "\\u009b31m");  // C1 in UTF-8: the single-character form of ESC [
}

// The directional formatting characters of Unicode Standard Annex 9, section 2 (memory), and the separators of lines
// and paragraphs.
TEST_CASE("what turns a line around is written out") {
  CHECK(escaped("a\xE2\x80\xAE"
                "b") == "a\\u202eb");
  int written_out = 0;
  for (std::uint32_t code = 0x20; code < 0x3000; ++code) {
    std::string text;
    if (code >= 0x800)
      text = {static_cast<char>(0xE0 | code >> 12), static_cast<char>(0x80 | (code >> 6 & 0x3F)),
              static_cast<char>(0x80 | (code & 0x3F))};
    else if (code >= 0x80)
      text = {static_cast<char>(0xC0 | code >> 6), static_cast<char>(0x80 | (code & 0x3F))};
    else
      text = {static_cast<char>(code)};
    if (escaped(text) != text) ++written_out;
  }
  // DEL and C1 33; 061C; 200E and 200F; 2028 and 2029; 202A to 202E; 2066 to 2069.
  CHECK(written_out == 33 + 1 + 2 + 2 + 5 + 4);
}

// RFC 3629: no second way to write a character, no halves of pairs, nothing beyond 10FFFF.
TEST_CASE("bytes that are no UTF-8 are written out one by one") {
  CHECK(escaped("\xff") == "\\xff");
  CHECK(escaped("a\xC3") == "a\\xc3");
  CHECK(escaped("\xC0\x8A") == "\\xc0\\x8a");  // a line break, two bytes long
  CHECK(escaped("\xE0\x80\x9B") == "\\xe0\\x80\\x9b");
  CHECK(escaped("\xED\xA0\x80") == "\\xed\\xa0\\x80");  // a surrogate
  CHECK(escaped("\xF4\x90\x80\x80") == "\\xf4\\x90\\x80\\x80");
  CHECK(escaped("\xE2\x28\xA1") == "\\xe2(\\xa1");
}
