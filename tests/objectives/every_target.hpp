// A brief that asks for everything.
#pragma once

#include <vector>

#include "bike/layout.hpp"
#include "objectives/target.hpp"

namespace trammel::test {

/// A target on every curve that the layout has, at sag and over the whole travel.
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
  objectives::Target progressivity;
  progressivity.measure = objectives::Measure::progressivity;
  progressivity.at = {objectives::Station::Kind::topped_out, 0.0};
  progressivity.wish.hi = 0.2;
  if (layout.shock) all.push_back(progressivity);
  return all;
}

}  // namespace trammel::test
