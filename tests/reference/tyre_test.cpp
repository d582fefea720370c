// Wheel sizes from tyre designations.
//
// A tyre marked 32-622 has a nominal section width of 32 mm on a rim with a bead seat of 622 mm (ISO 5775, as described
// in public encyclopaedias, read). Its outside diameter is the bead seat plus twice the section's height, which usually
// equals its width (read at en-academic.com; the same rule read at a cyclists' club). The diameters and circumferences
// below are computed from that rule; bicycle computers' tables print 2155 mm for 32-622 (from memory). Bead seats: 622,
// 559, 507, 406 read, 584 from memory.
#include <catch2/catch.hpp>
#include <string>

#include "brief/read.hpp"
#include "tests/support/close.hpp"

using namespace trammel;

namespace {

std::string layout_on(int bead_seat, int height) {
  const std::string wheel =
      "{ bead_seat: " + std::to_string(bead_seat) + ", tyre_height: " + std::to_string(height) + " }";
  return "trammel: 1\n"
         "title: Tyres\n"
         "bike:\n"
         "  wheels:\n"
         "    rear: " +
         wheel +
         "\n"
         "    front: " +
         wheel +
         "\n"
         "  front: { axle: [806, 30], head_angle: 64.8, travel: 160 }\n"
         "  cg: { x: 20, height: 1120 }\n"
         "drivetrain:\n"
         "  chainring: 32\n"
         "  gears: [18]\n"
         "linkage:\n"
         "  points:\n"
         "    pivot: [10, 70]\n"
         "    axle: [-437, 30]\n"
         "    eye: [-50, 232]\n"
         "    mount: [176.5, 271.9]\n"
         "  members:\n"
         "    frame: [pivot, mount]\n"
         "    swingarm: [pivot, axle, eye]\n"
         "  axle: { point: axle, member: swingarm }\n"
         "shock: { between: [mount, eye], length: 230, stroke: 57.5 }\n";
}

}  // namespace

TEST_CASE("outside diameter and circumference of marked tyres") {
  struct Tyre {
    int width, bead_seat;
    double diameter, circumference;
  };
  const Tyre tyres[] = {{32, 622, 686, 2155.1}, {37, 622, 696, 2186.5}, {57, 622, 736, 2312.2}, {60, 622, 742, 2331.1},
                        {61, 584, 706, 2218.0}, {64, 584, 712, 2236.8}, {58, 559, 675, 2120.6}};
  for (const Tyre& tyre : tyres) {
    INFO(tyre.width << "-" << tyre.bead_seat);
    const brief::Reading reading = brief::read_text(layout_on(tyre.bead_seat, tyre.width), "tyres.yaml");
    INFO(reading.message());
    REQUIRE(reading.ok());
    const bike::Layout& layout = reading.brief.layout;
    CHECK(2.0 * layout.rear_radius == tyre.diameter);
    CHECK(2.0 * layout.front_radius == tyre.diameter);
    CHECK(2.0 * math::pi * layout.rear_radius == test::printed(tyre.circumference, 1));
  }
}
