// Any text for a table or a drawing with moved points: it is read, or refused with words; no point becomes NaN.
#include <cmath>

#include "draft/moved_points.hpp"
#include "draft/onward.hpp"
#include "tests/fuzz/bytes.hpp"
#include "tests/support/bikes.hpp"

namespace {

const trammel::bike::Layout& drawn() {
  using namespace trammel;
  static const bike::Layout layout = test::bike_around(test::MechanismBuilder()
                                                           .point("main", -8, 55)
                                                           .point("axle", -437, 30)
                                                           .point("eye", -19, 250)
                                                           .point("mount", 180, 230)
                                                           .member("frame", {"main", "mount"})
                                                           .member("swingarm", {"main", "axle", "eye"})
                                                           .shock("mount", "eye", 55)
                                                           .build());
  return layout;
}

}  // namespace

extern "C" int LLVMFuzzerTestOneInput(const std::uint8_t* data, std::size_t size) {
  using namespace trammel;
  test::Bytes bytes(data, size);
  const bool drawing = bytes.flip();
  const std::string text = bytes.rest();
  try {
    const draft::MovedPoints moved =
        drawing ? draft::moved_from_dxf(text, "x.dxf", drawn()) : draft::moved_from_csv(text, "x.csv", drawn());
    test::demand(moved.points.size() == drawn().mechanism.points.size());
    for (const bike::Point& p : moved.points) test::demand(std::isfinite(p.x) && std::isfinite(p.y));
  } catch (const draft::NoWayOn& refusal) {
    test::demand(*refusal.what() != '\0');
  }
  return 0;
}
