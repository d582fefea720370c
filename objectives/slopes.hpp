// The gradient of the figure to search by. What is as wished adds nothing to it, so derivatives are taken only at
// places where a target or rule is not.
#pragma once

#include "bike/follow.hpp"
#include "objectives/outcome.hpp"

namespace trammel::objectives {

/// Per-task workspace; nothing is allocated after the first layouts.
template <int W>
class Slopes {
 public:
  using P = math::Pack<W>;

  /// `demands` must outlive it.
  explicit Slopes(const Demands& demands) : demands_(&demands), follow_(demands.model, demands.formulas) {
    weights_.resize(demands.targets.size());
    for (std::size_t t = 0; t < weights_.size(); ++t) weights_[t].resize(demands.places.gatherings[t].seen());
  }

  /// Exact derivatives of the figure of the layout that `plain` has marched through and `outcome` tells of, for as many
  /// variables as `out` has elements.
  void gradient(const bike::Tangents& tangents, bike::Spread<W>& plain, const Outcome<double>& outcome,
                const Emphasis& emphasis, std::span<double> out) {
    std::fill(out.begin(), out.end(), 0.0);
    follow_.start(outcome.points, plain);
    gather_targets(outcome, emphasis);
    gather_stroke(outcome, plain.stations(), emphasis.must);
    follow_.finish();
    follow_.add_gradient(0, tangents, out);
    add_drawn(outcome, tangents, emphasis.must, out);
  }

 private:
  using Wide = math::Dual<1, P>;  ///< a value and its derivative with respect to another variable in each lane
  using Scalar = math::Dual<2>;   ///< a value and the derivative with respect to another

  void gather_targets(const Outcome<double>& outcome, const Emphasis& emphasis) {
    for (std::size_t t = 0; t < weights_.size(); ++t) weigh(outcome, emphasis, t);
    active_.clear();
    for (const std::size_t k : demands_->places.alike) {
      const auto& looks = demands_->places.looks[k];
      if (std::any_of(looks.begin(), looks.end(), [&](const Look& look) { return weight(look) != 0.0; }))
        active_.push_back(k);
    }
    for (std::size_t first = 0; first < active_.size(); first += W)
      gather_places(std::span(active_).subspan(first, std::min<std::size_t>(W, active_.size() - first)), outcome);
  }

  /// d(figure)/d(what target t sees).
  void weigh(const Outcome<double>& outcome, const Emphasis& emphasis, std::size_t t) {
    const Gathering& gathering = demands_->places.gatherings[t];
    const std::vector<double>& values = outcome.values[t];
    std::vector<double>& weights = weights_[t];
    const auto share = [&](std::size_t r) {
      return share_of(demands_->targets[t], demands_->allowed[t][r], Scalar::variable(values[r], 0), values.size(),
                      emphasis)
          .d[0];
    };
    if (gathering.kind == Reduction::none) {
      for (std::size_t r = 0; r < weights.size(); ++r) weights[r] = share(r);
      return;
    }
    std::fill(weights.begin(), weights.end(), 0.0);
    for (std::size_t r = 0; r < values.size(); ++r)
      if (const double of = share(r); of != 0.0) weigh_seen(gathering, r, outcome.seen[t], of, weights);
  }

  /// Adds d(the r-th judged value)/d(each number seen), times `of`; W of them at a time.
  static void weigh_seen(const Gathering& gathering, std::size_t r, const std::vector<double>& seen, double of,
                         std::vector<double>& weights) {
    for (std::size_t first = 0; first < seen.size(); first += W) {
      const Wide value = reduced<Wide>(gathering, r, [&](std::size_t i) {
        Wide x = Wide::constant(P(seen[i]));
        if (i >= first && i < first + W) math::set_lane(x.d.each[0], i - first, 1.0);
        return x;
      });
      for (std::size_t i = first; i < std::min<std::size_t>(first + W, seen.size()); ++i)
        weights[i] += math::lane(value.d[0], i - first) * of;
    }
  }
  double weight(const Look& look) const { return weights_[look.target][look.index]; }

  /// Up to W places.
  void gather_places(std::span<const std::size_t> places, const Outcome<double>& outcome) {
    P s;
    for (std::size_t lane = 0; lane < W; ++lane) {
      const std::size_t k = places[std::min(lane, places.size() - 1)];
      math::set_lane(s, lane, outcome.driving[k]);
      loci_[lane] = demands_->loci[k];
    }
    std::uint64_t curves = 0;
    for (const std::size_t k : places)
      for (const Look& look : demands_->places.looks[k])
        if (weight(look) != 0.0) curves |= math::result_bit(look.curve);
    math::FormulaRun<W>& run = follow_.at_places(s, loci_, curves);
    for (std::size_t lane = 0; lane < places.size(); ++lane)
      for (const Look& look : demands_->places.looks[places[lane]])
        if (weight(look) != 0.0) run.seed(look.curve, lane, weight(look));
    follow_.gather(run);
  }

  /// A rule that is broken along the stroke: a result of the formula, where, and what it adds to the figure.
  struct Broken {
    std::size_t result;
    double s;
    double weight;
  };

  void gather_stroke(const Outcome<double>& outcome, const bike::March<double>& march, double must) {
    broken_.clear();
    std::size_t result = 0;
    const auto look_at = [&](const Least<double>& least, auto miss) {
      const Scalar share = rule_share(miss(Scalar::variable(least.value, 0)));
      if (share.v != 0.0)
        broken_.push_back({result, march.s[static_cast<std::size_t>(least.station)], share.d[0] * must});
      ++result;
    };
    const Packaging& packaging = demands_->packaging;
    const Fit<double>& fit = outcome.fit;
    for (const Least<double>& least : fit.transmission)
      look_at(least, [&](const Scalar& x) { return transmission_miss(packaging, x); });
    if (packaging.least_pivot_distance)
      for (const Least<double>& least : fit.distance2)
        look_at(least, [&](const Scalar& x) { return distance_miss(packaging, x); });
    result = fit.transmission.size() + fit.distance2.size();
    if (demands_->model.has_shock()) look_at(fit.slope, [](const Scalar& x) { return slope_miss(x); });
    const std::size_t first_measure = fit.transmission.size() + fit.distance2.size() + 1;
    for (std::size_t k = 0; k < outcome.nearest.size(); ++k) {
      const Scalar share = rule_share(room_miss(demands_->room.least(k), Scalar::variable(fit.room[k].value, 0)));
      if (share.v == 0.0) continue;
      const Nearest& at = outcome.nearest[k];
      const double weight = share.d[0] * must;
      broken_.push_back({first_measure + k, at.before, weight * at.weight_before});
      if (at.weight_before < 1.0) broken_.push_back({first_measure + k, at.after, weight * (1.0 - at.weight_before)});
    }
    for (std::size_t first = 0; first < broken_.size(); first += W)
      gather_broken(std::span(broken_).subspan(first, std::min<std::size_t>(W, broken_.size() - first)));
  }

  void gather_broken(std::span<const Broken> broken) {
    P s;
    for (std::size_t lane = 0; lane < W; ++lane) math::set_lane(s, lane, broken[std::min(lane, broken.size() - 1)].s);
    std::uint64_t watched = 0;
    for (const Broken& one : broken) watched |= math::result_bit(static_cast<int>(one.result));
    math::FormulaRun<W>& run = follow_.at_stations(s, watched);
    for (std::size_t lane = 0; lane < broken.size(); ++lane)
      run.seed(static_cast<int>(broken[lane].result), lane, broken[lane].weight);
    follow_.gather(run);
  }

  /// The rules on points as drawn, a variable in each lane.
  void add_drawn(const Outcome<double>& outcome, const bike::Tangents& tangents, double must, std::span<double> out) {
    if (drawn_figure(*demands_, outcome.points) == 0.0) return;
    points_.resize(outcome.points.size());
    for (std::size_t first = 0; first < out.size(); first += W) {
      const std::size_t n = std::min<std::size_t>(W, out.size() - first);
      for (std::size_t p = 0; p < points_.size(); ++p) {
        points_[p] = {Wide(outcome.points[p].x), Wide(outcome.points[p].y)};
        for (std::size_t i = 0; i < n; ++i) {
          math::set_lane(points_[p].x.d.each[0], i, tangents[first + i][p].x);
          math::set_lane(points_[p].y.d.each[0], i, tangents[first + i][p].y);
        }
      }
      const auto figure = drawn_figure(*demands_, points_);
      for (std::size_t i = 0; i < n; ++i) out[first + i] += math::lane(figure.d[0], i) * must;
    }
  }

  const Demands* demands_;
  bike::Follow<W> follow_;
  std::array<bike::Locus, static_cast<std::size_t>(W)> loci_;
  std::vector<std::vector<double>> weights_;  ///< of each target at each of its places
  std::vector<std::size_t> active_;           ///< places where something weighs
  std::vector<Broken> broken_;
  std::vector<math::Vec2<Wide>> points_;
};

}  // namespace trammel::objectives
