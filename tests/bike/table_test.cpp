// The table of curves: its columns, its stations, sag, and the curves that come from the spring.
#include <catch2/catch.hpp>

#include "tests/support/bikes.hpp"
#include "tests/support/close.hpp"
#include "tests/support/rider.hpp"

using namespace trammel;
using bike::Curve;
using test::within;

namespace {

bike::Layout four_bar() {
  for (const auto& [name, mechanism] : test::every_topology())
    if (name == "four-bar, axle on the coupler") return test::bike_around(mechanism);
  throw std::invalid_argument("four-bar");
}

std::vector<std::string> names(const bike::Layout& layout) {
  std::vector<std::string> out;
  for (const bike::Column& c : bike::trace(layout, 3, false).table.columns) out.push_back(c.name);
  return out;
}

}  // namespace

TEST_CASE("the columns of the curves file, in order") {
  bike::Layout layout = four_bar();
  std::vector<std::string> wanted{"shock_mm",     "travel_mm",           "axle_x_mm",    "axle_y_mm",    "leverage",
                                  "chainstay_mm", "chainstay_growth_mm", "ic_x_mm",      "ic_y_mm",      "pitch_deg",
                                  "wheelbase_mm", "bb_height_mm",        "cg_height_mm", "anti_rise_pct"};
  for (const char* gear : {"[32x18]", "[32x50]"})
    for (const char* curve : {"chain_growth_mm", "kickback_deg", "anti_squat_pct"})
      wanted.push_back(std::string(curve) + gear);
  CHECK(names(layout) == wanted);

  layout.shock->spring = spring::Coil{80.0, 1.0};
  wanted.insert(wanted.end(), {"shock_force_n", "wheel_force_n", "wheel_rate_n_mm"});
  CHECK(names(layout) == wanted);

  // A head tube adds nothing to the file; without a shock its columns are missing.
  layout.front.head_tube = bike::HeadTube{{470, 640}};
  CHECK(names(layout) == wanted);
  const bike::Layout driven = test::bike_around(test::every_topology().back().second);
  const auto without = names(driven);
  CHECK(without.front() == "travel_mm");
  CHECK(std::find(without.begin(), without.end(), "leverage") == without.end());
  CHECK(without.size() == 14 - 2 + 6);
}

TEST_CASE("every record of the curve table stands in its own place and is found by its key") {
  for (std::size_t i = 0; i < bike::curve_table().size(); ++i) {
    const bike::CurveRecord& r = bike::curve_table()[i];
    INFO(r.key);
    CHECK(static_cast<std::size_t>(r.curve) == i);
    CHECK(bike::find_curve(r.key) == &r);
    CHECK(r.tolerance > 0.0);
    CHECK_FALSE(r.meaning.empty());
  }
  CHECK(bike::find_curve("anti_squad") == nullptr);
}

TEST_CASE("stations are even in the driving coordinate and carry every column") {
  const bike::Layout layout = four_bar();
  const bike::Motion motion = bike::trace(layout, 12, true);
  REQUIRE(motion.poses.size() == 12);
  for (const bike::Column& c : motion.table.columns) CHECK(c.values.size() == 12);
  for (std::size_t i = 0; i < 12; ++i)
    CHECK(motion.poses[i].shock == within(layout.shock->stroke * static_cast<double>(i) / 11.0, 1e-12));
  // The curves that are one another's complements.
  const auto column = [&](const char* name) { return test::column(motion.table, name); };
  const auto leverage = column("leverage"), ratio = column("motion_ratio"), x = column("axle_x_mm"),
             rearward = column("rearward_mm"), y = column("axle_y_mm"), stay = column("chainstay_mm"),
             travel = column("travel_mm"), growth = column("chainstay_growth_mm");
  for (std::size_t i = 0; i < 12; ++i) {
    CHECK(leverage[i] * ratio[i] == within(1.0, 1e-14));
    CHECK(rearward[i] == within(x[0] - x[i], 1e-12));
    CHECK(travel[i] == within(y[i] - y[0], 1e-12));
    CHECK(stay[i] == within(std::hypot(x[i], y[i]), 1e-11));
    CHECK(growth[i] == within(stay[i] - stay[0], 1e-12));
  }
}

TEST_CASE("sag is a share of the wheel's travel or of the shock's stroke") {
  bike::Layout layout = four_bar();
  const double whole = bike::trace(layout, 2, false).poses.back().travel;
  layout.sag = {0.3, bike::SagOf::wheel};
  CHECK(bike::sag_travel(layout) == within(0.3 * whole, 1e-11));
  layout.sag = {0.25, bike::SagOf::shock};
  const auto quarter = bike::trace(layout, 5, false).poses[1];
  CHECK(quarter.shock == within(0.25 * layout.shock->stroke, 1e-12));
  CHECK(bike::sag_travel(layout) == within(quarter.travel, 1e-10));
  const bike::Pose pose = bike::pose_at_travel(layout, bike::sag_travel(layout));
  CHECK(pose.travel == within(quarter.travel, 1e-10));
  CHECK(pose.shock == within(quarter.shock, 1e-10));
}

TEST_CASE("wheel force by the work of the spring, wheel rate by its slope") {
  bike::Layout layout = four_bar();
  layout.shock->spring = spring::Coil{80.0, 2.0};
  test::Rider rider(layout);
  const double stroke = rider.range();
  // Work put in at the wheel = work stored in the coil, k·((c + p)² − p²)/2. Simpson's rule over the shock's stroke,
  // with dz = LR·dc.
  const int n = 200;
  double work = 0.0;
  for (int i = 0; i <= n; ++i) {
    const double s = stroke * i / n;
    const double weight = i == 0 || i == n ? 1.0 : (i % 2 == 1 ? 4.0 : 2.0);
    work += weight * rider.curve(s, Curve::wheel_force) * rider.curve(s, Curve::leverage);
  }
  work *= stroke / n / 3.0;
  CHECK(work == test::relative(80.0 * (std::pow(stroke + 2.0, 2) - 4.0) / 2.0, 1e-12));
  for (double fraction : {0.05, 0.5, 0.95}) {
    const double s = fraction * stroke, h = 1e-3;
    const double force = rider.curve(s + h, Curve::wheel_force) - rider.curve(s - h, Curve::wheel_force);
    const double rise = rider.curve(s + h, Curve::travel) - rider.curve(s - h, Curve::travel);
    CHECK(rider.curve(s, Curve::wheel_rate) == test::relative(force / rise, 1e-7));
    CHECK(rider.curve(s, Curve::shock_force) == test::relative(80.0 * (s + 2.0), 1e-14));
  }
}

TEST_CASE("leverage is the slope of travel over shock, every topology") {
  for (const auto& [name, mechanism] : test::every_topology()) {
    if (mechanism.drive.kind != linkage::DriveKind::shock) continue;
    INFO(name);
    test::Rider rider(test::bike_around(mechanism));
    for (double fraction : {0.1, 0.5, 0.9}) {
      const double s = fraction * rider.range(), h = 1e-3;
      const double slope = (rider.curve(s + h, Curve::travel) - rider.curve(s - h, Curve::travel)) / (2.0 * h);
      CHECK(rider.curve(s, Curve::leverage) == test::relative(slope, 1e-6));
    }
  }
}
