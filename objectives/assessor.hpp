// Holds a layout against a brief: one figure to search by, and verdicts to report.
#pragma once

#include "objectives/fit.hpp"
#include "objectives/places.hpp"
#include "objectives/verdict.hpp"
#include "objectives/wish.hpp"

namespace trammel::objectives {

/// How the figure to search by is put together.
struct Emphasis {
  double must = 20.0;  ///< weight of a must and of a rule, against 1 for a wish of weight 1
  double inset = 0.0;  ///< margin asked of every target

  double weight(const Target& target) const { return target.must ? must : target.weight; }
};

/// A residual grows no further than this: what fails badly anyway must not drown the rest.
inline constexpr double residual_limit = 40.0;

/// A residual as it enters the figure: unchanged while small, never over the limit.
template <class T>
T limited(const T& r) {
  return r / math::sqrt(T(1.0) + math::square(r * (1.0 / residual_limit)));
}

/// What a value y at one of a target's `places` places adds to the figure.
template <class T>
T share_of(const Target& target, const Allowed& allowed, const T& y, std::size_t places, const Emphasis& emphasis) {
  const T r = limited(residual(allowed, y, target.tolerance, emphasis.inset));
  return math::square(r) * (emphasis.weight(target) / static_cast<double>(places));
}

/// (LR(from) − LR(to)) / LR(from), positive = progressive.
template <class T>
T progressivity(const T& from, const T& to) {
  return (from - to) / math::select(math::abs(from) < T(1e-6), T(1e-6), from);
}

/// Per-task workspace for one model; nothing is allocated after the first evaluation.
template <class T>
class Assessor {
 public:
  /// `targets` and `packaging` must outlive it.
  Assessor(const bike::Model& model, const std::vector<Target>& targets, const Packaging& packaging)
      : model_(&model),
        targets_(&targets),
        packaging_(&packaging),
        places_(plan_places(targets, model.circles.size())),
        pairs_(pivot_pairs(model.layout.mechanism)),
        sweep_(model, march_stations),
        values_(targets.size()),
        at_travel_(targets.size()) {
    for (std::size_t t = 0; t < targets.size(); ++t) {
      const std::size_t n = targets[t].measure ? 1 : places_.targets[t].at.size();
      values_[t].assign(n, T(0.0));
      at_travel_[t].assign(n, T(0.0));
    }
    curve_at_.resize(targets.size());
    driving_.resize(places_.stations.size());
  }

  /// Moves the layout through its stroke and watches the rules. Returns whether it assembles everywhere.
  bool march(const std::vector<math::Vec2<T>>& points) {
    begin(points);
    for (std::size_t i = 0; i < sweep_.stations().size(); ++i) stop_at(i);
    return assembles();
  }

  /// Computes the curves that targets need; after `march`.
  void curves() {
    for (std::size_t k = 0; k < places_.stations.size(); ++k) compute_place(k);
    for (std::size_t t = 0; t < targets_->size(); ++t) finish_measure(t);
  }

  // The same in parts, for a screening that stops early.

  void begin(const std::vector<math::Vec2<T>>& points) {
    points_ = points;
    fit_.start(static_cast<std::size_t>(model_->program.margins()), pairs_.size());
    if (model_->has_shock()) fit_.shock_length = drawn_shock_length(*model_, points);
    sweep_.begin(points);
  }
  /// One station of the march; see Sweep::stop_at for their order.
  void stop_at(std::size_t i) {
    sweep_.stop_at(i, [&](std::size_t at, const linkage::State<T>& state) { watch(*model_, pairs_, at, state, fit_); });
  }
  /// Whether it assembles at the stations so far.
  bool assembles() const {
    return std::all_of(fit_.transmission.begin(), fit_.transmission.end(),
                       [](const T& margin) { return margin > T(0.0); });
  }
  /// The curves that targets need at place k of `places`.
  void compute_place(std::size_t k) {
    driving_[k] = driving_coordinate(*model_, sweep_, places_.stations[k]);
    const bike::StationValues<T>& station = sweep_.at(driving_[k], places_.wanted);
    for (std::size_t t = 0; t < targets_->size(); ++t) note(t, k, station);
  }
  /// The value of a target on a measure, once its places are computed; nothing for other targets.
  void finish_measure(std::size_t t) {
    if ((*targets_)[t].measure) values_[t][0] = progressivity(curve_at_[t][0], curve_at_[t][1]);
  }
  /// What the i-th value of target t adds to the figure.
  T share(std::size_t t, std::size_t i, const Emphasis& emphasis) const {
    return share_of((*targets_)[t], allowed(t, i), values_[t][i], values_[t].size(), emphasis);
  }

  /// The figure to search by: Σ weight·residual² over targets and rules, each residual limited; 0 = all is as wished.
  T figure(const Emphasis& emphasis) const {
    T sum(0.0);
    for (std::size_t t = 0; t < targets_->size(); ++t)
      for (std::size_t i = 0; i < values_[t].size(); ++i) sum = sum + share(t, i, emphasis);
    return sum + rules_figure() * emphasis.must;
  }

  /// The rules' part of the figure; needs `march` only.
  T rules_figure() const {
    T sum(0.0);
    rule_residuals(*model_, *packaging_, fit_, points_, [&](const T& r) { sum = sum + math::square(limited(r)); });
    return sum;
  }

  const Places& places() const { return places_; }
  const Fit<T>& fit() const { return fit_; }
  const std::vector<PivotPair>& pairs() const { return pairs_; }
  const bike::Sweep<T>& sweep() const { return sweep_; }
  const bike::Model& model() const { return *model_; }
  const std::vector<Target>& targets() const { return *targets_; }
  const Packaging& packaging() const { return *packaging_; }
  const std::vector<math::Vec2<T>>& points() const { return points_; }
  /// Where place k of `places` is, in the driving coordinate.
  const T& driving(std::size_t place) const { return driving_[place]; }
  /// What a target allows at its i-th place.
  Allowed allowed(std::size_t t, std::size_t i) const {
    const Target& target = (*targets_)[t];
    return allowed_at(target, target.over ? places_.targets[t].fractions[i] : 0.0);
  }
  /// Values of a target at its places, and the wheel travel there in mm.
  const std::vector<T>& values(std::size_t target) const { return values_[target]; }
  const std::vector<T>& travels(std::size_t target) const { return at_travel_[target]; }

  /// Mean of the squared residuals of a target over its places, without limit or inset.
  T mean_square(std::size_t t) const {
    T sum(0.0);
    for (std::size_t i = 0; i < values_[t].size(); ++i)
      sum = sum + math::square(residual(allowed(t, i), values_[t][i], (*targets_)[t].tolerance, 0.0));
    return sum * (1.0 / static_cast<double>(values_[t].size()));
  }

 private:
  /// Intervals of the march: dead points and pivot distances are watched at its ends.
  static constexpr int march_stations = 24;

  void note(std::size_t t, std::size_t place, const bike::StationValues<T>& station) {
    const Target& target = (*targets_)[t];
    const std::vector<std::size_t>& at = places_.targets[t].at;
    for (std::size_t i = 0; i < at.size(); ++i) {
      if (at[i] != place) continue;
      if (target.measure) {
        curve_at_[t][i] = station[bike::Curve::leverage];
        if (i == 0) at_travel_[t][0] = station[bike::Curve::travel];
      } else {
        values_[t][i] = station.at(target.curve);
        at_travel_[t][i] = station[bike::Curve::travel];
      }
    }
  }

  const bike::Model* model_;
  const std::vector<Target>* targets_;
  const Packaging* packaging_;
  Places places_;
  std::vector<PivotPair> pairs_;
  bike::Sweep<T> sweep_;
  Fit<T> fit_;
  std::vector<math::Vec2<T>> points_;
  std::vector<std::vector<T>> values_;
  std::vector<std::vector<T>> at_travel_;
  std::vector<std::array<T, 2>> curve_at_;
  std::vector<T> driving_;
};

/// Verdicts on all targets and rules; after `march` and `curves`.
Assessment assess(const Assessor<double>& assessor);

/// Why a layout does not assemble: its worst joint, by name; after `march`.
std::string assembly_failure(const Assessor<double>& assessor);

}  // namespace trammel::objectives
