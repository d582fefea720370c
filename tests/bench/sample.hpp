// The layouts that are timed: evenly spread over the ranges of the shipped trail brief.
#pragma once

#include <algorithm>
#include <limits>

#include "search/score.hpp"
#include "tests/bench/same_curves.hpp"
#include "tests/search/briefs.hpp"

namespace trammel::bench {

/// As the search screens: a unit's first samples, and its figure.
inline constexpr objectives::Emphasis screening{4.0, 0.0};
/// As it refines.
inline constexpr objectives::Emphasis refining{20.0, 0.35};
/// Samples that a unit keeps in hand: 16 for each of the six that it refines.
inline constexpr std::size_t kept = 96;
/// Layouts whose curves are timed.
inline constexpr std::size_t whole = 1000;

struct Sample {
  brief::Brief brief = test::trail_brief();
  search::Setup setup{brief};
  std::vector<std::vector<double>> all;             ///< a unit's samples
  std::vector<std::vector<double>> best;            ///< the best of them, as kept
  std::size_t assembling = 0;                       ///< how many of a unit's samples assemble
  double limit = 0.0;                               ///< the figure of the last of the best
  std::vector<std::vector<linkage::Point>> moving;  ///< layouts that move well through the whole stroke

  Sample() {
    search::Scorer scorer(setup, 0);
    bike::Sweep<double> sweep(setup.models[0], static_cast<int>(stations) - 1);
    std::vector<std::pair<double, std::size_t>> figures;
    std::vector<double> x(static_cast<std::size_t>(setup.design.size()));
    std::vector<linkage::Point> points;
    const auto axle = static_cast<std::size_t>(brief.layout.axle.point);
    const double least_margin = objectives::rules::TransmissionAngle::sine2(brief.packaging);
    const auto samples = static_cast<std::size_t>(brief.search.samples);
    for (std::size_t i = 0; i < samples || moving.size() < whole; ++i) {
      setup.sobol.point(i, x);
      const objectives::Screened screened = scorer.screen(x, screening, std::numeric_limits<double>::infinity());
      if (i < samples) {
        all.push_back(x);
        if (screened.assembles) ++assembling;
        figures.emplace_back(screened.figure, i);
      }
      if (!screened.assembles || moving.size() == whole) continue;
      setup.design.place<double>(x, 0, points);
      bool sound = true;
      sweep.march(points, [&](std::size_t, const linkage::State<double>& state) {
        sound = sound && state.velocity[axle].y > 0.0 &&
                *std::min_element(state.margin.begin(), state.margin.end()) >= least_margin;
      });
      if (sound) moving.push_back(points);
    }
    std::sort(figures.begin(), figures.end());
    limit = figures[kept - 1].first;
    for (std::size_t i = 0; i < kept; ++i) best.push_back(all[figures[i].second]);
  }

  const bike::Model& model() const { return setup.models[0]; }
};

}  // namespace trammel::bench
