// Drawings with moved points; those that a CAD program would save are in tests/app/onward_test.py.
#include <catch2/catch.hpp>

#include "draft/moved_points.hpp"
#include "draft/onward.hpp"
#include "tests/support/bikes.hpp"

namespace {

using namespace trammel;

std::string refusal(const std::string& text) {
  const bike::Layout layout = test::bike_around(test::MechanismBuilder()
                                                    .point("main", -8, 55)
                                                    .point("axle", -437, 30)
                                                    .point("mount", 180, 230)
                                                    .member("frame", {"main", "mount"})
                                                    .member("swingarm", {"main", "axle"})
                                                    .shock("mount", "axle", 55)
                                                    .build());
  try {
    draft::moved_from_dxf(text, "x.dxf", layout);
  } catch (const draft::NoWayOn& refused) {
    return refused.what();
  }
  return {};
}

}  // namespace

// Found by tests/fuzz/points_fuzz.cpp: the value was looked for behind the end of the text.
TEST_CASE("a drawing that ends behind a group code is refused at its line", "[dxf]") {
  const std::string whole = "0\nSECTION\n2\nENTITIES\n0\nPOINT\n8\nPIVOTS\n";
  for (const std::string end : {"10", "10\r", "10\n", " 10 \r\n"}) {
    CAPTURE(end);
    CHECK(refusal(whole + end) ==
          "--points: x.dxf:9: the drawing ends behind the group code 10, without its value; it was cut off, so save it "
          "again\n");
  }
  CHECK(refusal("1").find("x.dxf:1: the drawing ends behind the group code 1,") != std::string::npos);
}

TEST_CASE("a drawing's last value needs no line end, and an empty value is one", "[dxf]") {
  for (const std::string end : {"0\nEOF", "0\nEOF\n", "0\nEOF\r\n", "1\n\n", "0\nEOF\n\n"}) {
    CAPTURE(end);
    // What is wrong with these drawings is that they have no points, and no more.
    const std::string words = refusal("0\nSECTION\n2\nENTITIES\n" + end);
    CHECK(words.find("0 points lie on the layer") != std::string::npos);
    CHECK(words.find("group code") == std::string::npos);
  }
}

// Found by tests/fuzz/points_fuzz.cpp: a name that was nowhere, or so far off that no distance was less than endless,
// left its point without a mark, and the program ended on a bad access.
TEST_CASE("a coordinate that is no number is refused at its line, a name that is far off by its place", "[dxf]") {
  const auto drawn = [](const std::string& name_x) {
    std::string text = "0\nSECTION\n2\nENTITIES\n";
    for (const auto* at : {"-9\n20\n56", "-437\n20\n30", "180\n20\n230"})
      text += std::string("0\nPOINT\n8\nPIVOTS\n10\n") + at + "\n";
    return text + "0\nTEXT\n8\nNAMES\n10\n" + name_x + "\n20\n36\n1\naxle\n0\nENDSEC\n0\nEOF\n";
  };
  CHECK(refusal(drawn("-429")).empty());
  for (const std::string no_number : {"-\x14"
                                      "29",
                                      "", "nan", "inf", "1e400", "12,5", "4 mm", "+"}) {
    CAPTURE(no_number);
    const std::string words = refusal(drawn(no_number));
    CHECK(words.find("x.dxf:34: '") != std::string::npos);
    CHECK(words.find("' is no coordinate; allowed: a number with a decimal point, in mm\n") != std::string::npos);
  }
  for (const std::string far : {"1e300", "-1e160", "4000"}) {
    CAPTURE(far);
    CHECK(refusal(drawn(far)).find("x.dxf: the name axle lies at ") != std::string::npos);
  }
}
