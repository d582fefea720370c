// A caliper on the frame, whose only point is the pivot: the wheel is locked to the frame.
#include <catch2/catch.hpp>

#include "bike/table.hpp"
#include "tests/support/builder.hpp"
#include "tests/support/close.hpp"

using namespace trammel;

TEST_CASE("a caliper on a frame with one pivot: the force line is that of the axle's path") {
  bike::Layout layout;
  layout.rear_radius = layout.front_radius = 371;
  layout.front = {{806, 30}, 64.8, 160, bike::ForkFollows::matched, 0.0, {}};
  layout.cg = {20, 1120, bike::CgFollows::frame};
  layout.mechanism = test::MechanismBuilder()
                         .point("main", -8, 55)
                         .point("axle", -437, 30)
                         .member("frame", {"main"})
                         .member("swingarm", {"main", "axle"})
                         .travel("axle", 150)
                         .build();
  layout.axle = {1, 1};
  layout.brake_member = 0;
  const bike::Motion motion = bike::trace(layout, 2, false);
  // Topped out both axles are level, so the ground is: the axle moves across its arm (-429, -25), and the line across
  // its path rises by 25 in 429.
  const double wheelbase = 806 + 437, height = 1120;
  const double share = 100.0 * (25.0 / 429.0) * wheelbase / height;
  const bike::Column* column = motion.table.find({bike::Curve::anti_rise, -1});
  REQUIRE(column != nullptr);
  REQUIRE(column->values.front());
  CHECK(*column->values.front() == test::within(share, 1e-10));
}
