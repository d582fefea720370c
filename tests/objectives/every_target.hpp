// A brief that asks for everything.
#pragma once

#include <vector>

#include "bike/layout.hpp"
#include "objectives/target.hpp"

namespace trammel::test {

/// A target on every curve that the layout has, at sag and over the whole travel, and on every measure.
inline std::vector<objectives::Target> every_target(const bike::Layout& layout) {
  std::vector<objectives::Target> all;
  for (const bike::CurveRecord& r : bike::curve_table()) {
    const bool has = r.needs == bike::Needs::nothing || r.needs == bike::Needs::gear ||
                     (r.needs == bike::Needs::shock && layout.shock);
    if (!has) continue;
    objectives::Target t;
    t.curve = {r.curve, r.needs == bike::Needs::gear ? 1 : -1};
    t.wish.lo = 1.0;
    t.wish.hi = 2.0;
    t.must = true;
    all.push_back(t);
    t.over = objectives::Stretch{0.0, 1.0};
    all.push_back(t);
  }
  for (const objectives::MeasureRecord& r : objectives::measure_table()) {
    const bike::Curve curve = r.curve ? *r.curve : bike::Curve::anti_squat;
    const bike::Needs needs = bike::record(curve).needs;
    if (needs == bike::Needs::spring || bike::about_rider(needs) || (needs == bike::Needs::shock && !layout.shock))
      continue;
    objectives::Target t;
    t.measure = r.measure;
    t.curve = {curve, needs == bike::Needs::gear ? 0 : -1};
    if (needs == bike::Needs::gear) t.gears = {0, 1};
    t.at = {objectives::Station::Kind::topped_out, 0.0};
    if (r.where == objectives::Where::stretch || r.where == objectives::Where::whole) t.over = objectives::Stretch{};
    t.crosses = 90.0;
    t.path = {{-430.0, 20.0}, {-441.0, 90.0}, {-425.0, 180.0}};
    t.wish.hi = 0.2;
    t.must = true;
    all.push_back(t);
  }
  return all;
}

}  // namespace trammel::test
