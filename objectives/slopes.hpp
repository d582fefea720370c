// The figure to search by with its derivatives. What is as wished adds nothing to them, so they are computed only at
// places where a target or rule is not.
#pragma once

#include "bike/follow.hpp"
#include "objectives/assessor.hpp"

namespace trammel::objectives {

/// Per-task workspace for one model and number type; nothing is allocated after the first evaluation.
template <class T>
class Slopes {
 public:
  /// `plain` must outlive it.
  explicit Slopes(const Assessor<double>& plain) : plain_(&plain), follow_(plain.model()) {
    wanted_ = bike::Wanted::nothing(plain.model().circles.size());
  }

  /// The figure of the layout that `plain` has marched through and computed the curves of; `points` are its points
  /// with derivatives. Its value is that of `plain.figure(emphasis)` to rounding, its derivatives are exact.
  T figure(const std::vector<math::Vec2<T>>& points, const Emphasis& emphasis) {
    follow_.start(points, plain_->sweep());
    return targets_figure(emphasis) + rules_figure(points) * emphasis.must;
  }

 private:
  /// A target's share of the figure at one of its places.
  struct Share {
    std::size_t target, index;
  };

  T targets_figure(const Emphasis& emphasis) {
    T sum(0.0);
    const std::vector<Target>& targets = plain_->targets();
    measures_.assign(targets.size(), {T(0.0), T(0.0)});
    for (std::size_t k = 0; k < plain_->places().stations.size(); ++k) {
      find_shares(k, emphasis.inset);
      if (shares_.empty()) continue;
      const bike::StationValues<T>& station = follow_.at(plain_->driving(k), wheel_travel(k), wanted_);
      for (const Share& s : shares_) {
        if (targets[s.target].measure)
          measures_[s.target][s.index] = station[bike::Curve::leverage];
        else
          sum = sum + share(s.target, s.index, station.at(targets[s.target].curve), emphasis);
      }
    }
    for (std::size_t t = 0; t < targets.size(); ++t)
      if (targets[t].measure && misses(t, 0, emphasis.inset))
        sum = sum + share(t, 0, progressivity(measures_[t][0], measures_[t][1]), emphasis);
    return sum;
  }

  /// Who looks at place k and does not have what it wishes, and which curves they need.
  void find_shares(std::size_t k, double inset) {
    shares_.clear();
    wanted_.clear();
    for (std::size_t t = 0; t < plain_->targets().size(); ++t) {
      const Target& target = plain_->targets()[t];
      const std::vector<std::size_t>& at = plain_->places().targets[t].at;
      for (std::size_t i = 0; i < at.size(); ++i) {
        if (at[i] != k || !misses(t, target.measure ? 0 : i, inset)) continue;
        shares_.push_back({t, i});
        if (!target.measure) wanted_.add(target.curve);
      }
    }
  }

  bool misses(std::size_t t, std::size_t i, double inset) const {
    return residual(plain_->allowed(t, i), plain_->values(t)[i], plain_->targets()[t].tolerance, inset) > 0.0;
  }

  T share(std::size_t t, std::size_t i, const T& y, const Emphasis& emphasis) const {
    return share_of(plain_->targets()[t], plain_->allowed(t, i), y, plain_->values(t).size(), emphasis);
  }

  /// The wheel travel that fixes place k, when one does.
  std::optional<T> wheel_travel(std::size_t k) const {
    const Station& station = plain_->places().stations[k];
    const bike::Sag& sag = plain_->model().layout.sag;
    if (station.kind == Station::Kind::travel) return T(station.amount);
    if (station.kind == Station::Kind::fraction) return follow_.whole_travel() * station.amount;
    if (station.kind == Station::Kind::sag && sag.of == bike::SagOf::wheel)
      return follow_.whole_travel() * sag.fraction;
    return std::nullopt;
  }

  T rules_figure(const std::vector<math::Vec2<T>>& points) {
    const Fit<double>& plain = plain_->fit();
    const bike::Model& model = plain_->model();
    fit_.start(plain.transmission.size(), plain.distance2.size());
    const double least_sine2 = least_transmission(plain_->packaging());
    for (std::size_t j = 0; j < plain.transmission.size(); ++j)
      fit_.transmission[j] = plain.transmission[j] < least_sine2
                                 ? follow_.at_station(plain.transmission_at[j]).margin[j]
                                 : T(plain.transmission[j]);
    const double least = plain_->packaging().least_pivot_distance.value_or(0.0);
    for (std::size_t k = 0; k < plain.distance2.size(); ++k)
      fit_.distance2[k] = plain.distance2[k] < least * least
                              ? distance2_of(plain_->pairs()[k], follow_.at_station(plain.distance_at[k]))
                              : T(plain.distance2[k]);
    if (model.has_shock()) {
      fit_.slope = plain.slope < least_slope ? wheel_slope(model, follow_.at_station(plain.slope_at)) : T(plain.slope);
      fit_.shock_length = drawn_shock_length(model, points);
    }
    T sum(0.0);
    rule_residuals(model, plain_->packaging(), fit_, points, [&](const T& r) { sum = sum + math::square(limited(r)); });
    return sum;
  }

  const Assessor<double>* plain_;
  bike::Follow<T> follow_;
  bike::Wanted wanted_;
  Fit<T> fit_;
  std::vector<Share> shares_;
  std::vector<std::array<T, 2>> measures_;
};

}  // namespace trammel::objectives
