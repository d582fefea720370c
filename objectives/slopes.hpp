// Derivatives of what an outcome tells: of the figure to search by, or of its numbers one by one. What is as wished
// adds nothing to the figure, so its derivatives are taken only at places where a target or rule is not.
#pragma once

#include "bike/motion_adjoint.hpp"
#include "objectives/quantity.hpp"

namespace trammel::objectives {

/// Per-task workspace; nothing is allocated after the first layouts.
template <int W>
class Slopes {
 public:
  using P = math::Pack<W>;

  /// `demands` must outlive it, and have tapes.
  explicit Slopes(const Demands& demands) : demands_(&demands), adjoint_(demands.model, *demands.tapes) {
    const Places& places = demands.places;
    weights_.resize(demands.targets.size());
    seen_at_.resize(demands.targets.size());
    for (std::size_t t = 0; t < weights_.size(); ++t) {
      weights_[t].resize(places.gatherings[t].seen());
      seen_at_[t].resize(places.gatherings[t].seen());
    }
    for (std::size_t k = 0; k < places.looks.size(); ++k)
      for (const Look& look : places.looks[k]) seen_at_[look.target][look.index] = {k, look.curve};
  }

  // Both are of the layout that `plain` has marched through and `outcome` tells of, for as many variables as
  // `tangents` has.

  /// Exact derivatives of the figure.
  void gradient(const bike::Tangents& tangents, bike::Spread<W>& plain, const Outcome<double>& outcome,
                const Emphasis& emphasis, std::span<double> out) {
    start(outcome, plain);
    pull_targets(outcome, emphasis);
    each_rule(*demands_, outcome, Told::all_but_kept_distances, [&](const Quantity& quantity, const Scalar& miss) {
      if (quantity.kind == Quantity::Kind::drawn) return;
      if (const Scalar share = rule_share(miss); share.v != 0.0) pull_rule(0, quantity, share.d[0] * emphasis.must);
    });
    gather(true);
    adjoint_.gradient(tangents, out);
    add_drawn(tangents, emphasis.must, out);
  }

  /// Exact derivatives of each quantity, row by row.
  void rows(const bike::Tangents& tangents, bike::Spread<W>& plain, const Outcome<double>& outcome,
            std::span<const Quantity> quantities, std::span<double> out) {
    start(outcome, plain);
    const std::size_t n = tangents.variables();
    tangents.list(entries_);
    // Values look at places, rules at stations: side by side goes what flows back the same way.
    for (const bool values : {true, false}) {
      alike_.resize(quantities.size());
      std::size_t n_alike = 0;
      for (std::size_t q = 0; q < quantities.size(); ++q) {
        const Quantity::Kind kind = quantities[q].kind;
        if (kind != Quantity::Kind::drawn && (kind == Quantity::Kind::value) == values) alike_[n_alike++] = q;
      }
      for (std::size_t first = 0; first < n_alike; first += W) {
        const std::span rows = std::span(alike_).subspan(first, std::min<std::size_t>(W, n_alike - first));
        clear();
        for (std::size_t lane = 0; lane < rows.size(); ++lane) pull(lane, quantities[rows[lane]]);
        gather(false);
        adjoint_.rows(rows, entries_, n, out);
      }
    }
    put_drawn(tangents, quantities, out);
  }

 private:
  using Wide = math::Dual<1, P>;  ///< a value and its derivative with respect to another variable in each lane
  using Scalar = math::Dual<2>;   ///< a value and the derivative with respect to another

  /// Where a target sees a number.
  struct Seen {
    std::size_t place = 0;
    int curve = 0;
  };
  /// What a row takes from a result of the tape of places, or of that of stations.
  struct FromPlace {
    std::size_t row, place;
    int curve;
    double weight;
  };
  struct FromStation {
    std::size_t row;
    double s;
    int result;
    double weight;
  };

  void start(const Outcome<double>& outcome, bike::Spread<W>& plain) {
    outcome_ = &outcome;
    samples_ = &plain.stations();
    adjoint_.start(outcome.points, plain);
    clear();
  }
  void clear() {
    adjoint_.still();
    from_places_.clear();
    from_stations_.clear();
  }

  void pull_targets(const Outcome<double>& outcome, const Emphasis& emphasis) {
    for (std::size_t t = 0; t < weights_.size(); ++t) weigh(outcome, emphasis, t);
    for (const std::size_t k : demands_->places.alike)
      for (const Look& look : demands_->places.looks[k])
        if (const double weight = weights_[look.target][look.index]; weight != 0.0)
          from_places_.push_back({0, k, look.curve, weight});
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

  void pull(std::size_t row, const Quantity& quantity) {
    if (quantity.kind != Quantity::Kind::value) {
      pull_rule(row, quantity, 1.0);
      return;
    }
    const std::size_t t = quantity.index;
    const std::vector<Seen>& at = seen_at_[t];
    const Gathering& gathering = demands_->places.gatherings[t];
    if (gathering.kind == Reduction::none) {
      from_places_.push_back({row, at[quantity.of].place, at[quantity.of].curve, 1.0});
      return;
    }
    std::vector<double>& weights = weights_[t];
    std::fill(weights.begin(), weights.end(), 0.0);
    weigh_seen(gathering, quantity.of, outcome_->seen[t], 1.0, weights);
    for (std::size_t i = 0; i < weights.size(); ++i)
      if (weights[i] != 0.0) from_places_.push_back({row, at[i].place, at[i].curve, weights[i]});
  }

  /// What is watched along the stroke; see MotionTapes::stand_slopes for the order of its results.
  void pull_rule(std::size_t row, const Quantity& quantity, double weight) {
    using Kind = Quantity::Kind;
    const Fit<double>& fit = outcome_->fit;
    const std::size_t margins = fit.transmission.size(), apart = fit.distance2.size();
    const auto at_least = [&](std::size_t result, const Least<double>& least) {
      const double s = samples_->s[static_cast<std::size_t>(least.station)];
      from_stations_.push_back({row, s, static_cast<int>(result), weight});
    };
    if (quantity.kind == Kind::transmission) at_least(quantity.index, fit.transmission[quantity.index]);
    if (quantity.kind == Kind::distance2) at_least(margins + quantity.index, fit.distance2[quantity.index]);
    if (quantity.kind == Kind::slope) at_least(margins + apart, fit.slope);
    if (quantity.kind != Kind::room) return;
    const Nearest& near = outcome_->nearest[quantity.index];
    const int result = static_cast<int>(margins + apart + 1 + quantity.index);
    from_stations_.push_back({row, near.before, result, weight * near.weight_before});
    if (near.weight_before < 1.0)
      from_stations_.push_back({row, near.after, result, weight * (1.0 - near.weight_before)});
  }

  /// Takes all that is pulled back to the points as drawn: each row in its lane, or a single row in parts, in all
  /// lanes.
  void gather(bool single) {
    single_ = single;
    for (std::size_t first = 0; first < from_places_.size();) first = gather_places(first);
    for (std::size_t first = 0; first < from_stations_.size(); first += W)
      gather_stations(
          std::span(from_stations_).subspan(first, std::min<std::size_t>(W, from_stations_.size() - first)));
    adjoint_.finish();
  }

  /// Up to W places, from pull number `first` on; what one row takes from one place shares a lane. Returns where the
  /// next ones begin.
  std::size_t gather_places(std::size_t first) {
    std::size_t lanes = 0, last = first;
    std::array<std::size_t, W> rows{}, begin{};
    for (; last < from_places_.size(); ++last) {
      const FromPlace& pull = from_places_[last];
      const bool shares =
          last > first && from_places_[last - 1].row == pull.row && from_places_[last - 1].place == pull.place;
      if (shares) continue;
      if (lanes == W) break;
      rows[lanes] = single_ ? lanes : pull.row;
      begin[lanes++] = last;
    }
    std::array<double, W> s{};
    for (std::size_t lane = 0; lane < W; ++lane) {
      const std::size_t place = from_places_[begin[std::min(lane, lanes - 1)]].place;
      s[lane] = outcome_->driving[place];
      loci_[lane] = demands_->loci[place];
    }
    tape::AdjointExecutor<W>& slopes = adjoint_.at_places(math::pack_of<W>(s), loci_);
    for (std::size_t lane = 0; lane < lanes; ++lane)
      for (std::size_t i = begin[lane]; i < (lane + 1 < lanes ? begin[lane + 1] : last); ++i)
        slopes.add(from_places_[i].curve, lane, from_places_[i].weight);
    adjoint_.gather(slopes, std::span(rows).first(lanes));
    return last;
  }

  void gather_stations(std::span<const FromStation> pulls) {
    std::array<double, W> s{};
    for (std::size_t lane = 0; lane < W; ++lane) s[lane] = pulls[std::min(lane, pulls.size() - 1)].s;
    tape::AdjointExecutor<W>& slopes = adjoint_.at_stations(math::pack_of<W>(s));
    std::array<std::size_t, W> rows{};
    for (std::size_t lane = 0; lane < pulls.size(); ++lane) {
      slopes.add(pulls[lane].result, lane, pulls[lane].weight);
      rows[lane] = single_ ? lane : pulls[lane].row;
    }
    adjoint_.gather(slopes, std::span(rows).first(pulls.size()));
  }

  /// Hands the points as drawn, with another variable in each lane, to take(first variable, how many, points).
  template <class Take>
  void each_drawn(const bike::Tangents& tangents, Take take) {
    points_.resize(outcome_->points.size());
    for (std::size_t first = 0; first < tangents.variables(); first += W) {
      const std::size_t n = std::min<std::size_t>(W, tangents.variables() - first);
      for (std::size_t p = 0; p < points_.size(); ++p) {
        points_[p] = {Wide(outcome_->points[p].x), Wide(outcome_->points[p].y)};
        for (std::size_t i = 0; i < n; ++i) {
          math::set_lane(points_[p].x.d.each[0], i, tangents.at(first + i, p, 0));
          math::set_lane(points_[p].y.d.each[0], i, tangents.at(first + i, p, 1));
        }
      }
      take(first, n, points_);
    }
  }
  void add_drawn(const bike::Tangents& tangents, double must, std::span<double> out) {
    if (drawn_figure(*demands_, outcome_->points) == 0.0) return;
    each_drawn(tangents, [&](std::size_t first, std::size_t n, const std::vector<math::Vec2<Wide>>& points) {
      const auto figure = drawn_figure(*demands_, points);
      for (std::size_t i = 0; i < n; ++i) out[first + i] += math::lane(figure.d[0], i) * must;
    });
  }
  void put_drawn(const bike::Tangents& tangents, std::span<const Quantity> quantities, std::span<double> out) {
    each_drawn(tangents, [&](std::size_t first, std::size_t n, const std::vector<math::Vec2<Wide>>& points) {
      misses_.clear();
      drawn_misses(*demands_, points, [&](const Wide& miss) { misses_.push_back(miss); });
      for (std::size_t q = 0; q < quantities.size(); ++q)
        if (quantities[q].kind == Quantity::Kind::drawn)
          for (std::size_t i = 0; i < n; ++i)
            out[q * tangents.variables() + first + i] = math::lane(misses_[quantities[q].index].d[0], i);
    });
  }

  const Demands* demands_;
  bike::MotionAdjoint<W> adjoint_;
  const Outcome<double>* outcome_ = nullptr;
  const bike::StrokeSamples<double>* samples_ = nullptr;
  std::array<bike::Locus, W> loci_;
  std::vector<std::vector<double>> weights_;  ///< of each target, of what it sees
  std::vector<std::vector<Seen>> seen_at_;    ///< likewise
  bool single_ = false;                       ///< one row is asked for
  std::vector<FromPlace> from_places_;
  std::vector<FromStation> from_stations_;
  std::vector<math::Vec2<Wide>> points_;
  std::vector<bike::Tangents::Entry> entries_;
  std::vector<std::size_t> alike_;
  std::vector<Wide> misses_;  ///< of the rules on points as drawn
};

}  // namespace trammel::objectives
