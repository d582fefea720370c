// What set-up finds at the end of the stroke, as targets see it, against set-up itself: it fits a spring and looks for
// the place of rest, where a target takes the wheel's load at sag.
#include <catch2/catch.hpp>
#include <cmath>

#include "bike/set_up.hpp"
#include "tests/objectives/judged.hpp"
#include "tests/objectives/single_pivot.hpp"
#include "tests/support/close.hpp"
#include "tests/support/springs.hpp"

using namespace trammel;
using namespace trammel::objectives;

namespace {

bike::Layout ridden(const spring::Spring& spring) {
  bike::Layout layout = test::SinglePivot().layout();
  layout.mass = bike::Masses{78.0, 15.0, 4.0, 3.0};
  layout.sag = {0.3, bike::SagOf::wheel};
  layout.shock->spring = spring;
  layout.shock->spring->stroke = layout.shock->stroke;
  layout.loads.landing = 2600.0;
  return layout;
}

Target asks(Measure measure, double rider, int spacers) {
  Target t;
  t.measure = measure;
  t.curve.curve = bike::Curve::set_up_bottom_force;
  t.curve.rider = rider;
  t.curve.spacers = spacers;
  t.at = {Station::Kind::sag, 0.0};
  t.to = {Station::Kind::bottomed, 0.0};
  t.wish = {Wish::Kind::floor, 0.0, 0.0, {}};
  return t;
}

double achieved(const bike::Layout& layout, const Target& target) {
  return test::Judged(layout, {target}).verdict().achieved;
}

}  // namespace

TEST_CASE("the bottom-out margin is that of set-up, for every rider, spring and number of spacers") {
  for (const auto of : {bike::SagOf::wheel, bike::SagOf::shock})
    for (const double rider : {52.0, 78.0, 110.0}) {
      bike::Layout layout = ridden(test::air_spring());
      layout.sag.of = of;
      layout.set_up.riders = {rider};
      for (const int spacers : {0, 1, 4}) {
        std::get<spring::Air>(layout.shock->spring->kind).spacers = spacers;
        const double margin = *bike::set_up(layout).front().bottom_margin;
        // Whatever the spring has, the target's own number counts; without one the spring's.
        CHECK(achieved(layout, asks(Measure::bottom_out_margin, rider, -1)) == test::within(margin, 1e-6));
        std::get<spring::Air>(layout.shock->spring->kind).spacers = 2;
        CHECK(achieved(layout, asks(Measure::bottom_out_margin, rider, spacers)) == test::within(margin, 1e-6));
      }
      layout = ridden(spring::Coil{80.0, 1.5});
      layout.sag.of = of;
      layout.set_up.riders = {rider};
      layout.shock->spring->bump_stop = spring::BumpStop{50.0, 900.0};  // so long that it works at sag
      CHECK(achieved(layout, asks(Measure::bottom_out_margin, rider, -1)) ==
            test::within(*bike::set_up(layout).front().bottom_margin, 1e-6));
      layout.shock->spring = spring::Spring(spring::Table({{0, 0}, {30, 2000}, {60, 5000}}));
      CHECK(achieved(layout, asks(Measure::bottom_out_margin, rider, -1)) ==
            test::within(*bike::set_up(layout).front().bottom_margin, 1e-6));
    }
}

TEST_CASE("a pressure that the pump's range cuts is cut in the margin, too") {
  bike::Layout layout = ridden(test::air_spring());
  const double free = achieved(layout, asks(Measure::bottom_out_margin, 0.0, -1));
  layout.set_up.pressures = {1.0, 0.8 * bike::set_up(layout).front().wanted};
  const double cut = achieved(layout, asks(Measure::bottom_out_margin, 0.0, -1));
  CHECK(cut < free - 1.0);
  CHECK(cut == test::within(*bike::set_up(layout).front().bottom_margin, 1e-6));
}

TEST_CASE("spacers are counted so that the next whole number is what set-up takes") {
  constexpr int most = 6;
  bike::Layout layout = ridden(test::air_spring());
  layout.set_up.most_spacers = most;
  const double without = [&] {
    bike::Layout easy = layout;
    easy.loads.landing = 1.0;
    return bike::set_up(easy).front().bottom_force;
  }();
  int counts = 0, last = -1;
  for (double landing = 0.905 * without; landing < 4.0 * without; landing += 0.013 * without) {
    layout.loads.landing = landing;
    const bike::SetUpRow row = bike::set_up(layout).front();
    const double spacers = achieved(layout, asks(Measure::set_up_spacers, 0.0, most));
    INFO(landing << " N: " << spacers << " against " << row.spacers);
    if (*row.bottom_margin < 0.0) {
      CHECK(spacers > most);
    } else if (row.spacers == 0) {
      CHECK(spacers <= 0.0);
    } else {
      CHECK(std::ceil(spacers) == row.spacers);
    }
    counts += row.spacers != last ? 1 : 0;
    last = row.spacers;
  }
  CHECK(counts == most + 1);  // all of them have been seen
}
