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
