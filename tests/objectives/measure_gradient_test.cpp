// The gradient of the figure through measures, and through the curves that came with them, against central differences
// of the plain figure.
#include <catch2/catch.hpp>

#include "objectives/evaluator.hpp"
#include "tests/objectives/single_pivot.hpp"
#include "tests/support/bikes.hpp"
#include "tests/support/builder.hpp"
#include "tests/support/close.hpp"

using namespace trammel;
using namespace trammel::objectives;
using bike::Curve;

namespace {

/// Never as wished, so that every slope counts.
Target unmet(Target t) {
  t.wish = {Wish::Kind::value, -1000.0, -1000.0, {}};
  t.tolerance = 100.0;
  return t;
}

Target on_measure(const MeasureRecord& r, Curve curve) {
  Target t;
  t.measure = r.measure;
  t.curve.curve = r.curve.value_or(curve);
  if (bike::record(t.curve.curve).needs == bike::Needs::gear) {
    t.curve.gear = 0;
    t.gears = {0, 1};
  }
  t.at = {Station::Kind::topped_out, 0.0};
  if (r.where == Where::stretch) t.over = Stretch{0.1, 0.9};
  if (r.where == Where::whole) t.over = Stretch{};
  t.crosses = r.own_curve ? resting_support : 111.0;
  t.path = {{-430.0, 20.0}, {-441.0, 90.0}, {-425.0, 180.0}};
  return unmet(t);
}

bike::Layout ready(bike::Layout layout) {
  layout.mass = bike::Masses{78.0, 15.0, 4.0, 3.0};
  layout.shock->spring = spring::Spring(spring::Coil{80.0, 1.0});
  layout.shock->spring->stroke = layout.shock->stroke;
  return layout;
}

/// With two chambers in place of the coil.
void put_on_air(bike::Layout& layout) {
  spring::Air air;
  air.bore = 46.0;
  air.shaft = 10.0;
  air.positive = 165.0;
  air.negative = 62.0;
  air.transfer = 5.0;
  air.pressure = 12.0;
  air.spacer = 9.0;
  layout.shock->spring = spring::Spring(air);
  layout.shock->spring->stroke = layout.shock->stroke;
}

/// Compares at the points as drawn, moved a little so that nothing is symmetrical.
void compare(const bike::Layout& layout, const Target& target, const std::string& name) {
  const bike::Model model = bike::make_model(layout);
  const std::vector<Target> targets{target};
  const Packaging packaging;
  const Demands demands(model, targets, packaging);
  const auto evaluator = make_evaluator(demands, usable_instruction_sets().back());
  const Emphasis emphasis{20.0, 0.0};
  const auto figure_at = [&](const std::vector<linkage::Point>& points) {
    const Outcome<double>& outcome = evaluator->evaluate(points);
    // The rules are not what is looked at here.
    double sum = 0.0;
    for (std::size_t i = 0; i < outcome.values[0].size(); ++i) sum += share(demands, outcome, 0, i, emphasis);
    return sum;
  };
  std::vector<linkage::Point> points = layout.mechanism.points;
  const std::size_t n = 2 * points.size();
  bike::Tangents tangents;
  tangents.reset(n, points.size());
  for (std::size_t v = 0; v < n; ++v) tangents.at(v, v / 2, v % 2) = 1.0;
  std::vector<double> gradient(n);
  figure_at(points);
  evaluator->gradient(tangents, emphasis, gradient);
  double size = 0.0;
  for (double g : gradient) size = std::max(size, std::abs(g));
  INFO(name);
  REQUIRE(size > 0.0);
  for (std::size_t v = 0; v < n; ++v) {
    // Fourth order: (8·(f(h) − f(−h)) − (f(2h) − f(−2h))) / 12h. Places fixed by travel are good to nanometres, which
    // over a step of 0.02 mm leaves 1e-6 of the greatest entry.
    const double h = 0.02;
    const auto moved = [&](double by) {
      std::vector<linkage::Point> there = points;
      (v % 2 == 0 ? there[v / 2].x : there[v / 2].y) += by;
      return figure_at(there);
    };
    const double slope = (8.0 * (moved(h) - moved(-h)) - (moved(2.0 * h) - moved(-2.0 * h))) / (12.0 * h);
    INFO("variable " << v << ", greatest entry " << size);
    // The figure, some 2e3, is rounded at 4e-13, which over the step is 2e-11.
    CHECK(gradient[v] == test::within(slope, 1e-5 * size + 1e-10));
  }
}

}  // namespace

TEST_CASE("gradient of every measure on a single pivot") {
  const bike::Layout layout = ready(test::SinglePivot().layout());
  for (const MeasureRecord& r : measure_table()) {
    if (r.curve == Curve::set_up_bottom_force) continue;  // below
    for (Curve curve : {Curve::anti_squat, Curve::leverage}) {
      if (r.reduction == Reduction::spread && curve == Curve::leverage) continue;
      // Both fall all the way here: no rise to take a slope of.
      if (r.reduction == Reduction::total_rise) curve = Curve::chain_growth;
      compare(layout, on_measure(r, curve), std::string(r.key) + " of " + std::string(bike::record(curve).key));
    }
  }
}

TEST_CASE("gradient of the curves that measures brought") {
  const bike::Layout layout = ready(test::SinglePivot().layout());
  const linkage::Mechanism& m = layout.mechanism;
  const int axle = layout.axle.point, eye = test::point_named(m, "eye"), mount = test::point_named(m, "mount");
  for (const bike::CurveKey& key :
       {bike::CurveKey{Curve::shock_angle}, bike::CurveKey{Curve::shock_rotation},
        bike::CurveKey{Curve::chainstay_growth_share}, bike::CurveKey{Curve::spring_support},
        bike::CurveKey{Curve::point_x, -1, eye, -1}, bike::CurveKey{Curve::point_y, -1, axle, -1},
        bike::CurveKey{Curve::point_distance, -1, axle, mount}})
    for (const auto place : {Station::Kind::sag, Station::Kind::bottomed}) {
      Target t;
      t.curve = key;
      t.at = {place, 0.0};
      compare(layout, unmet(t), std::string(bike::record(key.curve).key));
    }
}

TEST_CASE("gradient of what set-up asks for, and of the sag that a rider reaches") {
  bike::Layout layout = ready(test::SinglePivot().layout());
  const auto compare_for = [&](Curve curve, double rider) {
    Target t;
    t.curve.curve = curve;
    t.curve.rider = rider;
    for (const auto place : {Station::Kind::sag, Station::Kind::bottomed}) {
      t.at = {place, 0.0};
      compare(layout, unmet(t), std::string(bike::record(curve).key));
    }
  };
  for (const double rider : {0.0, 60.0, 110.0}) compare_for(Curve::set_up_rate, rider);
  compare_for(Curve::spring_support, 60.0);
  Target sag = on_measure(record(Measure::sag_travel), Curve::leverage);
  sag.curve.rider = 60.0;
  compare(layout, sag, "sag of a rider");
  put_on_air(layout);
  for (const double rider : {0.0, 60.0, 110.0}) compare_for(Curve::set_up_pressure, rider);
}

TEST_CASE("gradient of what set-up finds at the end of the stroke") {
  bike::Layout layout = ready(test::SinglePivot().layout());
  layout.loads.landing = 2600.0;
  const auto compare_all = [&](std::initializer_list<int> spacers) {
    for (const double rider : {0.0, 60.0, 110.0})
      for (const int k : spacers) {
        Target t = on_measure(record(Measure::bottom_out_margin), Curve::leverage);
        t.at = {Station::Kind::sag, 0.0};
        t.to = {Station::Kind::bottomed, 0.0};
        t.curve.rider = rider;
        t.curve.spacers = k;
        compare(layout, t, "bottom-out margin");
        if (k < 1) continue;
        t.measure = Measure::set_up_spacers;
        t.wish.lo = t.wish.hi = -20.0;
        t.tolerance = 1.0;
        compare(layout, t, "spacers");
      }
  };
  compare_all({-1});
  put_on_air(layout);
  layout.shock->spring->bump_stop = spring::BumpStop{12.0, 900.0};
  compare_all({0, 1, 4});
}

TEST_CASE("gradient of the force in every pivot, for every topology") {
  int compared = 0;
  for (const auto& [name, mechanism] : test::every_topology()) {
    bike::Layout layout = test::bike_around(mechanism);
    if (!layout.shock) continue;
    layout = ready(layout);
    layout.loads.cases = {{"stop", 500.0, 350.0, 0.0, -1}, {"climb", 900.0, 0.0, 250.0, 1}};
    const std::vector<int> pivots = linkage::pivots(mechanism);
    for (std::size_t i = 0; i < pivots.size(); ++i) {
      Target t;
      t.curve = {Curve::pivot_force, -1, pivots[i], -1, static_cast<int>(i % 2)};
      t.at = {i % 2 == 0 ? Station::Kind::sag : Station::Kind::bottomed, 0.0};
      compare(layout, unmet(t), name + ", " + mechanism.point_names[static_cast<std::size_t>(pivots[i])]);
      ++compared;
    }
  }
  CHECK(compared > 40);
}
