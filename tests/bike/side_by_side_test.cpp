// Layouts side by side, and places of one layout side by side: each lane has the bits of the layout by itself.
#include <bit>
#include <catch2/catch.hpp>
#include <cstdint>
#include <random>

#include "bike/compiled_motion.hpp"
#include "bike/spread.hpp"
#include "bike/sweep.hpp"
#include "tests/support/bikes.hpp"
#include "tests/support/builder.hpp"

using namespace trammel;
using bike::Curve;

namespace {

constexpr int width = 8;
constexpr int intervals = 23;
using Pack = math::Pack<width>;

/// How many of two lists of numbers differ in their bits; numbers that are none are alike.
class Bits {
 public:
  void compare(double a, double b) {
    ++compared_;
    if (std::isnan(a) && std::isnan(b)) return;
    if (std::bit_cast<std::uint64_t>(a) != std::bit_cast<std::uint64_t>(b)) ++different_;
  }
  int compared() const { return compared_; }
  int different() const { return different_; }

 private:
  int compared_ = 0, different_ = 0;
};

/// Layouts around the drawn one, some of which do not assemble.
std::vector<std::vector<linkage::Point>> around(const linkage::Mechanism& mechanism, std::mt19937_64& random) {
  std::vector<std::vector<linkage::Point>> layouts;
  for (int i = 0; i < width; ++i) {
    std::normal_distribution<double> off(0.0, i < 5 ? 4.0 : 40.0);
    auto points = mechanism.points;
    for (auto& p : points) p = {p.x + off(random), p.y + off(random)};
    layouts.push_back(points);
  }
  return layouts;
}

void compare_curves(const bike::StationValues<Pack>& wide, const bike::StationValues<double>& plain, std::size_t lane,
                    Bits& bits) {
  for (std::size_t c = 0; c < plain.plain.size(); ++c) bits.compare(math::lane(wide.plain[c], lane), plain.plain[c]);
  for (std::size_t g = 0; g < plain.anti_squat.size(); ++g) {
    bits.compare(math::lane(wide.anti_squat[g], lane), plain.anti_squat[g]);
    bits.compare(math::lane(wide.chain_growth[g], lane), plain.chain_growth[g]);
  }
  for (std::size_t i = 0; i < plain.named.size(); ++i)
    bits.compare(math::lane(wide.named[i].second, lane), plain.named[i].second);
}

bike::Layout layout_of(const linkage::Mechanism& mechanism) {
  bike::Layout layout = test::bike_around(mechanism);
  if (layout.shock) layout.shock->spring = spring::Coil{80.0, 1.0};
  layout.loads.cases = {{"stop", 500.0, 350.0, 0.0, -1}, {"climb", 700.0, 0.0, 250.0, 1}};
  return layout;
}

/// All curves, with the force in every pivot under every load.
bike::Wanted all_curves(const bike::Model& model) {
  bike::Wanted wanted = bike::Wanted::everything(model.circles.size());
  for (const int pivot : linkage::pivots(model.layout.mechanism))
    for (int load = 0; load < 2; ++load) wanted.add({Curve::pivot_force, -1, pivot, -1, load});
  return wanted;
}

}  // namespace

TEST_CASE("layouts side by side have the bits of each by itself, every topology") {
  std::mt19937_64 random(4);
  for (const auto& [name, mechanism] : test::every_topology()) {
    INFO(name);
    const bike::Model model = bike::make_model(layout_of(mechanism));
    const bike::Wanted everything = all_curves(model);
    bike::Sweep<Pack> wide(model, intervals);
    bike::Sweep<double> plain(model, intervals);
    Bits bits;
    for (int trial = 0; trial < 6; ++trial) {
      const auto layouts = around(mechanism, random);
      std::vector<math::Vec2<Pack>> points(mechanism.points.size());
      for (std::size_t p = 0; p < points.size(); ++p)
        for (std::size_t i = 0; i < width; ++i) {
          math::set_lane(points[p].x, i, layouts[i][p].x);
          math::set_lane(points[p].y, i, layouts[i][p].y);
        }
      std::vector<std::vector<Pack>> margins;
      wide.march(points, [&](std::size_t, const linkage::State<Pack>& state) { margins.push_back(state.margin); });
      std::vector<bike::StationValues<Pack>> found;
      for (double share : {0.03, 0.3, 0.71, 1.0})
        found.push_back(wide.at(wide.driving_at({false, share, 0.0}), everything));
      for (std::size_t i = 0; i < width; ++i) {
        plain.march(layouts[i], [&](std::size_t at, const linkage::State<double>& state) {
          for (std::size_t j = 0; j < state.margin.size(); ++j)
            bits.compare(math::lane(margins[at][j], i), state.margin[j]);
        });
        std::size_t k = 0;
        for (double share : {0.03, 0.3, 0.71, 1.0})
          compare_curves(found[k++], plain.at(plain.driving_at({false, share, 0.0}), everything), i, bits);
      }
    }
    CHECK(bits.compared() > 1000);
    CHECK(bits.different() == 0);
  }
}

TEST_CASE("places side by side have the bits of each by itself, every topology") {
  std::mt19937_64 random(8);
  for (const auto& [name, mechanism] : test::every_topology()) {
    INFO(name);
    const bike::Model model = bike::make_model(layout_of(mechanism));
    const bike::Wanted everything = all_curves(model);
    bike::Spread<width> wide(model, intervals);
    bike::Sweep<double> plain(model, intervals);
    std::vector<bike::Locus> places{{true, 0.0, 0.0}, {true, 0.0, model.range()}, {false, 0.0, 12.5}};
    for (double share : {0.1, 0.3, 0.55, 0.9, 0.97}) places.push_back({false, share, 0.0});
    Bits bits;
    for (int trial = 0; trial < 6; ++trial)
      for (const auto& points : around(mechanism, random)) {
        wide.begin(points);
        wide.march([](std::size_t, const linkage::State<Pack>&) {});
        plain.march(points, [](std::size_t, const linkage::State<double>&) {});
        for (std::size_t i = 0; i < plain.stations().stations(); ++i) {
          bits.compare(wide.stations().travel[i], plain.stations().travel[i]);
          bits.compare(wide.stations().slope[i], plain.stations().slope[i]);
        }
        const Pack s = wide.driving_at(places);
        const auto& found = wide.at(s, everything);
        for (std::size_t lane = 0; lane < places.size(); ++lane) {
          const double driving = plain.driving_at(places[lane]);
          bits.compare(math::lane(s, lane), driving);
          compare_curves(found, plain.at(driving, everything), lane, bits);
        }
      }
    CHECK(bits.compared() > 1000);
    CHECK(bits.different() == 0);
  }
}

TEST_CASE("the tapes of a motion have the bits of the kernel, every topology without blocks") {
  std::mt19937_64 random(15);
  int served = 0;
  for (const auto& [name, mechanism] : test::every_topology()) {
    INFO(name);
    const bike::Model model = bike::make_model(layout_of(mechanism));
    if (model.program.tears > 0) continue;
    ++served;
    const bike::Wanted everything = all_curves(model);
    std::vector<bike::CurveKey> keys = everything.named;
    for (const bike::CurveRecord& record : bike::curve_table()) {
      if (bike::named_by_target({record.curve})) continue;
      const bool geared = record.needs == bike::Needs::gear;
      for (int gear = geared ? 0 : -1; gear < (geared ? static_cast<int>(model.circles.size()) : 0); ++gear)
        keys.push_back({record.curve, gear});
    }
    const std::vector<bike::Separation> apart{{0, 1, 1}, {1, 2, 2}, {0, 3, 3}, {3, 0, 1}, {2, 0, 3, 0.2, 0.7}};
    const bike::MotionTapes tapes(model, keys, apart);
    bike::CompiledMotion<width> motion(model, tapes);
    bike::Sweep<double> plain(model, intervals);
    Bits bits;
    for (int trial = 0; trial < 6; ++trial) {
      const auto layouts = around(mechanism, random);
      std::vector<math::Vec2<Pack>> points(mechanism.points.size());
      for (std::size_t p = 0; p < points.size(); ++p)
        for (std::size_t i = 0; i < width; ++i) {
          math::set_lane(points[p].x, i, layouts[i][p].x);
          math::set_lane(points[p].y, i, layouts[i][p].y);
        }
      motion.begin(points);
      for (std::size_t lane = 0; lane < width; ++lane)
        plain.march(layouts[lane], [&](std::size_t at, const auto& state) {
          const double s = plain.stations().s[at];
          motion.stand(Pack(s));
          for (std::size_t j = 0; j < state.margin.size(); ++j)
            bits.compare(math::lane(motion.margin(j), lane), state.margin[j]);
          for (std::size_t k = 0; k < apart.size(); ++k) {
            bits.compare(math::lane(motion.distance2(k), lane), bike::squared(apart[k], state.position));
          }
          const auto [travel, slope] = motion.rise(Pack(s));
          for (const Pack& x : {travel, motion.travel()})
            bits.compare(math::lane(x, lane), plain.stations().travel[at]);
          for (const Pack& x : {slope, motion.slope()}) bits.compare(math::lane(x, lane), plain.stations().slope[at]);
        });
      for (std::size_t lane = 0; lane < width; ++lane) {
        plain.march(layouts[lane], [](std::size_t, const auto&) {});
        for (const double share : {0.0, 0.03, 0.31, 0.7, 1.0}) {
          const double s = share * model.range();
          motion.place(Pack(s));
          const auto& found = plain.at(s, everything);
          bits.compare(math::lane(motion.place_travel(), lane), found[Curve::travel]);
          for (std::size_t c = 0; c < keys.size(); ++c)
            bits.compare(math::lane(motion.curve(static_cast<int>(c)), lane), found.at(keys[c]));
        }
      }
    }
    CHECK(bits.compared() > 10000);
    CHECK(bits.different() == 0);
  }
  CHECK(served >= 8);
}
