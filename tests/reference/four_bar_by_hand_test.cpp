// The engine against a routine written by hand for one linkage, which shares no code with it.
#include <catch2/catch.hpp>

#include "bike/table.hpp"
#include "search/score.hpp"
#include "tests/bench/by_hand_bike.hpp"
#include "tests/search/briefs.hpp"

using namespace trammel;

namespace {

constexpr std::size_t stations = test::by_hand_stations, gears = 3;

/// Both divide by the same quantities and lose digits at the same places, so that rounding alone parts them: 1e-9 of a
/// curve's greatest value leaves three digits to spare for layouts near a dead point.
constexpr double tolerance = 1e-9;

void compare(const std::array<double, stations>& by_hand, const std::vector<double>& engine) {
  REQUIRE(engine.size() == stations);
  double greatest = 0.0, worst = 0.0;
  for (double value : by_hand) greatest = std::max(greatest, std::abs(value));
  for (std::size_t i = 0; i < stations; ++i) worst = std::max(worst, std::abs(by_hand[i] - engine[i]));
  CHECK(greatest > 0.0);
  CHECK(worst <= tolerance * greatest);
}

void compare_all(const bike::Layout& layout) {
  by_hand::Curves<double, stations, gears> mine;
  by_hand::sweep<stations>(test::by_hand_bike<gears>(layout),
                           test::by_hand_pivots(layout.mechanism, layout.mechanism.points), mine);
  const bike::CurveTable table = bike::trace(layout, static_cast<int>(stations), true).table;
  compare(mine.travel, test::column(table, "travel_mm"));
  compare(mine.leverage, test::column(table, "leverage"));
  compare(mine.axle_x, test::column(table, "axle_x_mm"));
  compare(mine.axle_y, test::column(table, "axle_y_mm"));
  compare(mine.anti_rise, test::column(table, "anti_rise_pct"));
  for (std::size_t g = 0; g < gears; ++g) {
    const std::string gear = "[" + layout.drivetrain.gears[g].name() + "]";
    INFO(gear);
    compare(mine.anti_squat[g], test::column(table, "anti_squat_pct" + gear));
    compare(mine.chain_growth[g], test::column(table, "chain_growth_mm" + gear));
  }
}

}  // namespace

TEST_CASE("four-bar written by hand: the layout that ships, and wheels of two sizes") {
  bike::Layout layout = test::trail_brief().layout;
  compare_all(layout);
  layout.rear_radius -= 18.0;
  compare_all(layout);
}

TEST_CASE("four-bar written by hand: layouts all over the brief's ranges") {
  const brief::Brief brief = test::trail_brief();
  const search::Setup setup(brief);
  std::vector<double> x(static_cast<std::size_t>(setup.design.size()));
  int compared = 0;
  for (std::uint64_t i = 0; i < 400; ++i) {
    setup.sobol.point(i, x);
    const bike::Layout layout = setup.design.layout(x, 0);
    try {
      bike::trace(layout, 2, false);
    } catch (const bike::MotionFailure&) {
      continue;
    }
    INFO("sample " << i);
    compare_all(layout);
    ++compared;
  }
  CHECK(compared >= 50);
}
