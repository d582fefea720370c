#include "report/photo.hpp"

#include <catch2/catch.hpp>

#include "report/base64.hpp"

using namespace trammel::report;
using namespace std::string_literals;

namespace {

/// The head of a PNG (ISO/IEC 15948, 5.2 and 11.2.2), up to its first chunk's check sum.
std::string png(const std::string& width, const std::string& height) {
  return "\x89PNG\r\n\x1a\n\0\0\0\rIHDR"s + width + height + "\x08\x02\0\0\0"s + "CRC!";
}

/// A JPEG (ITU-T T.81, B.1.1.4 and B.2): an application segment of 16 bytes, then the frame's header by `marker`.
std::string jpeg(char marker, const std::string& height, const std::string& width) {
  return "\xFF\xD8\xFF\xE0\0\x10"s + std::string(14, 'x') + "\xFF\xFF"s + marker + "\0\x11\x08"s + height + width +
         "\x03"s;
}

}  // namespace

TEST_CASE("kind and size of a picture are read off its first bytes") {
  const auto small = read_photo("a.png", png("\0\0\x06\x40"s, "\0\0\x03\xE8"s));
  INFO(small.flaw);
  REQUIRE(small.photo);
  CHECK(small.photo->kind == "image/png");
  CHECK(small.photo->width == 1600);
  CHECK(small.photo->height == 1000);
  CHECK(small.photo->name == "a.png");
  for (const char frame : {'\xC0', '\xC1', '\xC2'}) {  // baseline, extended, progressive
    const auto photo = read_photo("b.jpg", jpeg(frame, "\x0B\xB8"s, "\x0F\xA0"s)).photo;
    REQUIRE(photo);
    CHECK(photo->kind == "image/jpeg");
    CHECK(photo->width == 4000);
    CHECK(photo->height == 3000);
  }
}

TEST_CASE("what is no picture, is cut short or too large is refused in words") {
  CHECK(read_photo("", "").flaw.find("is empty") == 0);
  for (const std::string& other : {"GIF89a"s, "RIFF\0\0\0\0WEBPVP8 "s, "<svg/>"s, "%PDF-1.7"s, "\xFF\xD8"s, "\x89PN"s})
    CHECK(read_photo("", other).flaw.find("allowed: PNG or JPEG") != std::string::npos);
  const std::string whole = png("\0\0\0\1"s, "\0\0\0\1"s), frame = jpeg('\xC0', "\0\1"s, "\0\1"s);
  REQUIRE(read_photo("", whole).photo);
  REQUIRE(read_photo("", frame).photo);
  for (std::size_t end = 8; end < whole.size(); ++end) CHECK_FALSE(read_photo("", whole.substr(0, end)).photo);
  for (std::size_t end = 3; end + 1 < frame.size(); ++end) CHECK_FALSE(read_photo("", frame.substr(0, end)).photo);
  CHECK_FALSE(read_photo("", png("\0\0\0\0"s, "\0\0\0\1"s)).photo);
  CHECK_FALSE(read_photo("", jpeg('\xC4', "\0\1"s, "\0\1"s)).photo);  // tables, and no frame after them
  CHECK_FALSE(
      read_photo("", "\xFF\xD8\xFF\xE0\0\1"s + std::string(40, '\0')).photo);  // a segment shorter than its length
  CHECK(read_photo("", png("\0\0\x4E\x20"s, "\0\0\0\1"s)).photo);              // 20000, the farthest pixel of a brief
  CHECK(read_photo("", png("\0\0\0\1"s, "\0\0\x4E\x21"s)).flaw.find("1 x 20001 pixels") != std::string::npos);
  CHECK(read_photo("", png("\xFF\xFF\xFF\xFF"s, "\0\0\0\1"s)).flaw.find("4294967295 x 1 pixels") != std::string::npos);
}

TEST_CASE("bytes become text by RFC 4648") {
  // The test vectors of its section 10.
  CHECK(base64("").empty());
  CHECK(base64("f") == "Zg==");
  CHECK(base64("fo") == "Zm8=");
  CHECK(base64("foo") == "Zm9v");
  CHECK(base64("foob") == "Zm9vYg==");
  CHECK(base64("fooba") == "Zm9vYmE=");
  CHECK(base64("foobar") == "Zm9vYmFy");
  CHECK(base64("\xFF\xFE\0"s) == "//4A");
}
