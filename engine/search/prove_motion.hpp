// The motion of all layouts in a box: parts, stations of the march and places, over Taylor forms.
#pragma once

// Before all templates that call math::sqrt and its like by their full names: see math/number_types.hpp.
#include "math/taylor_form.hpp"

#include <array>
#include <map>

#include "linkage/kernel_steps.hpp"
#include "objectives/demands.hpp"
#include "tape/enclosure.hpp"

namespace trammel::search {

/// A tape's excerpt with room for its numbers.
template <class T>
class EnclosureRun {
 public:
  /// Of layouts in which every joint's sin² of the transmission angle is at least `sine2`.
  EnclosureRun(const math::Tape& tape, const std::vector<int>& results, double sine2)
      : excerpt_(tape, results),
        floors_(excerpt_.guarded(tape, linkage::steps::least_radicand)),
        sine2_(sine2),
        v_(excerpt_.size()) {}

  const tape::TapeExcerpt& excerpt() const { return excerpt_; }
  T& input(int i) { return v_[static_cast<std::size_t>(excerpt_.input_at(i))]; }
  const T& result(int i) const { return v_[static_cast<std::size_t>(excerpt_.result_at(i))]; }
  void run() { tape::run_enclosed(excerpt_, floors_, sine2_, known_, v_); }
  /// What result i is known to be; to be set before a run. The result must be one of the excerpt's.
  void know(int i, const T& x) {
    const int at = excerpt_.result_at(i);
    for (std::size_t step = 0; step < excerpt_.steps().size(); ++step)
      if (excerpt_.steps()[step].out == at) known_[step] = x;
  }

 private:
  tape::TapeExcerpt excerpt_;
  std::vector<tape::TapeExcerpt::Guarded> floors_;
  double sine2_;
  std::map<std::size_t, T> known_;  ///< by step
  std::vector<T> v_;
};

/// Numbers 0 … n − 1.
inline std::vector<int> all_results(const math::Tape& tape) {
  std::vector<int> out(static_cast<std::size_t>(tape.results()));
  for (std::size_t i = 0; i < out.size(); ++i) out[i] = static_cast<int>(i);
  return out;
}

/// One that goes on from what has been made; its further inputs come after.
template <class T>
class GoingRun {
 public:
  GoingRun(const bike::Going& going, const std::vector<int>& results, double sine2)
      : takes_(going.takes), run_(going.program.tape(), results, sine2), needed_(run_.excerpt().inputs()) {}

  void take(const EnclosureRun<T>& made) {
    for (const int i : needed_)
      if (static_cast<std::size_t>(i) < takes_.size()) run_.input(i) = made.result(takes_[static_cast<std::size_t>(i)]);
  }
  /// Input number i of those that follow.
  T& coming(int i) { return run_.input(static_cast<int>(takes_.size()) + i); }
  /// Which of those are needed.
  std::vector<int> coming_needed() const {
    std::vector<int> out;
    for (const int i : needed_)
      if (static_cast<std::size_t>(i) >= takes_.size()) out.push_back(i - static_cast<int>(takes_.size()));
    return out;
  }
  /// Results of the making that it takes.
  void each_taken(std::vector<bool>& taken) const {
    for (const int i : needed_)
      if (static_cast<std::size_t>(i) < takes_.size())
        taken[static_cast<std::size_t>(takes_[static_cast<std::size_t>(i)])] = true;
  }
  void run() { run_.run(); }
  const T& result(int i) const { return run_.result(i); }

 private:
  std::vector<int> takes_;
  EnclosureRun<T> run_;
  std::vector<int> needed_;
};

/// Variable N − 1 of the forms is the motion's own: where in the stroke.
template <int N>
class BoxMotion {
 public:
  using T = math::TaylorForm<N>;

  /// `demands` has tapes and must outlive it; `wanted` are the numbers of the curves that are asked for in each
  /// place.
  BoxMotion(const objectives::Demands& demands, const std::vector<std::vector<int>>& wanted)
      : demands_(&demands),
        sine2_(least_sine2(demands, 0.0)),
        sine2_between_(least_sine2(demands, between_stations)),
        stand_(demands.tapes->stand, all_results(demands.tapes->stand.program.tape()), sine2_),
        rise_(demands.tapes->rise, {0, 1}, sine2_between_),
        making_(demands.tapes->making.tape(), {}, sine2_) {
    const bike::MotionTapes& tapes = *demands.tapes;
    for (const std::vector<int>& curves : wanted) place_of_.push_back(number_of(curves));
    std::vector<bool> taken(static_cast<std::size_t>(tapes.making.tape().results()), false);
    stand_.each_taken(taken);
    rise_.each_taken(taken);
    for (Place& place : places_) {
      place.move.each_taken(taken);
      place.look.each_taken(taken);
    }
    std::vector<int> results;
    for (std::size_t i = 0; i < taken.size(); ++i)
      if (taken[i]) results.push_back(static_cast<int>(i));
    making_ = EnclosureRun<T>(tapes.making.tape(), results, sine2_);
    find_topped_out();
    stations_.resize(demands.model.program, objectives::march_intervals + 1);
  }

  /// Takes all layouts with points within these.
  void begin(const std::vector<math::Vec2<T>>& points) {
    int next = 0;
    for (const math::Vec2<T>& p : points) {
      making_.input(next++) = p.x;
      making_.input(next++) = p.y;
    }
    know_topped_out(points);
    making_.run();
    stand_.take(making_);
    rise_.take(making_);
    for (Place& place : places_) {
      place.move.take(making_);
      place.look.take(making_);
    }
    rises_ = Rises::unknown;
    stopped_.assign(stations(), false);
  }

  // At a station of the march.

  std::size_t stations() const { return stations_.stations(); }
  void stop_at(std::size_t i) {
    stand_.coming(0) = T(stations_.s[i]);
    stand_.run();
    stations_.travel[i] = stand_.result(0);
    stopped_[i] = true;
    if (i + 1 == stations()) whole_ = stand_.result(0);
  }
  const T& slope() const { return stand_.result(1); }
  const T& margin(std::size_t joint) const { return stand_.result(static_cast<int>(2 + joint)); }
  const T& distance2(std::size_t k) const { return stand_.result(static_cast<int>(2 + demands_->model.joints() + k)); }

  /// Stands at place k, once the ends have been stopped at.
  void stand_at(std::size_t k) {
    here_ = &places_[place_of_[k]];
    here_->move.coming(0) = driving_at(demands_->loci[k]);
    here_->move.run();
    for (const int i : here_->moved) here_->look.coming(i) = here_->move.result(i);
    here_->look.run();
  }
  /// There, curve number i of those wanted.
  T curve(int i) const { return settled(here_->look.result(1 + i)); }

 private:
  /// Topped out all points are where they are drawn, which the tapes find by the loops.
  void know_topped_out(const std::vector<math::Vec2<T>>& points) {
    const bike::Layout& layout = demands_->model.layout;
    const auto know = [&](std::array<int, 2> results, const math::Vec2<T>& x) {
      making_.know(results[0], x.x);
      making_.know(results[1], x.y);
    };
    know(axle_, points[static_cast<std::size_t>(layout.axle.point)]);
    if (!demands_->model.has_shock()) return;
    const linkage::Drive& drive = layout.mechanism.drive;
    know(shock_, points[static_cast<std::size_t>(drive.b)] - points[static_cast<std::size_t>(drive.a)]);
  }
  /// Which results of the making these are.
  void find_topped_out() {
    const bike::Model& model = demands_->model;
    bike::Parts<double> parts;
    parts.geometry.points.resize(model.layout.mechanism.points.size());
    parts.geometry.constants.resize(static_cast<std::size_t>(model.program.constants) + model.program.groups.size());
    parts.geometry.inverse_bases2.resize(model.program.bases.size());
    parts.ref.runs.resize(model.circles.size());
    parts.carried.resize(demands_->room.carried());
    int next = 0;
    parts.each(model, [&](double& part) {
      if (&part == &parts.ref.axle.x) axle_[0] = next;
      if (&part == &parts.ref.axle.y) axle_[1] = next;
      if (&part == &parts.ref.shock.x) shock_[0] = next;
      if (&part == &parts.ref.shock.y) shock_[1] = next;
      ++next;
    });
  }

  /// Places at which the same curves are wanted share their excerpts.
  struct Place {
    std::vector<int> curves;
    GoingRun<T> look;
    std::vector<int> moved;
    GoingRun<T> move;
  };
  std::size_t number_of(const std::vector<int>& curves) {
    for (std::size_t i = 0; i < places_.size(); ++i)
      if (places_[i].curves == curves) return i;
    std::vector<int> results;
    for (const int curve : curves) results.push_back(1 + curve);
    GoingRun<T> look(demands_->tapes->look, results, sine2_between_);
    std::vector<int> moved = look.coming_needed();
    GoingRun<T> move(demands_->tapes->move, moved, sine2_between_);
    places_.push_back({curves, std::move(look), std::move(moved), std::move(move)});
    return places_.size() - 1;
  }

  static constexpr int own = N - 1;

  /// Layouts that break the rule on transmission angles at a station are of no interest. So much further below it an
  /// angle may fall between stations, degrees, or by half of it.
  static constexpr double between_stations = 2.0;
  static double least_sine2(const objectives::Demands& demands, double lower) {
    const double rule = demands.packaging.least_transmission_angle;
    const double sine = std::sin(math::radians(std::max(rule - lower, 0.5 * rule)));
    return sine * sine * (1.0 - 1e-6);
  }

  /// The motion's own variable counts as an error.
  static T settled(const T& x) { return x.without(own); }

  /// Whether every layout's wheel rises all along the stroke, not only at stations; how fast at least
  /// and at most.
  enum class Rises { unknown, yes, perhaps };
  void look_whether_it_rises() {
    constexpr int pieces = 6;
    const double range = demands_->model.range();
    rises_ = Rises::yes;
    for (int i = 0; i < pieces && rises_ == Rises::yes; ++i) {
      const double a = range * i / pieces, b = range * (i + 1) / pieces;
      const math::Interval slope = rise(T::variable({std::min(a, b), std::max(a, b)}, own)).second.range();
      slopes_ = i == 0 ? slope : math::hull(slopes_, slope);
      if (!(slope.lo > 0.0)) rises_ = Rises::perhaps;
    }
  }
  std::pair<T, T> rise(const T& s) {
    rise_.coming(0) = s;
    rise_.run();
    return {rise_.result(0), rise_.result(1)};
  }

  /// Where in the stroke a place of any layout is.
  T driving_at(const bike::Locus& locus) {
    if (locus.driving) return T(locus.offset);
    // A search finds a place to rounding; so much of wheel travel is allowed for all the same, mm.
    constexpr double found_to = 1e-3;
    const double range = demands_->model.range();
    const math::Interval stroke{std::min(0.0, range), std::max(0.0, range)};
    if (rises_ == Rises::unknown) look_whether_it_rises();
    const T wanted = whole_ * T(locus.factor) + T(locus.offset);
    const bool within = wanted.range().lo >= 0.0 && (wanted - whole_).range().hi <= 0.0;
    if (rises_ != Rises::yes || !within || range < 0.0) return T::variable(stroke, own);
    const double middle = guess(wanted.mid());
    // travel(s) = wanted, so by the mean value theorem s = middle − (travel(middle) − wanted)/slope(ξ), ξ between them.
    const T off = (rise(T(middle)).first - wanted).widened(found_to);
    const math::Interval reach = math::meet(math::Interval(middle) - off.range() / slopes_, stroke);
    const math::Interval between = math::meet(math::hull(reach, math::Interval(middle)), stroke);
    const T slope = settled(rise(T::variable(between, own)).second.within(slopes_));
    return (T(middle) - off / slope).within(reach).error_as(own);
  }
  /// The place of a travel of the layout in the middle, about.
  double guess(double travel) const {
    std::size_t from = 0;
    for (std::size_t to = 1; to < stations(); ++to) {
      if (!stopped_[to]) continue;
      const double a = stations_.travel[from].mid(), b = stations_.travel[to].mid();
      if (travel <= b || to + 1 == stations()) {
        const double share = b > a ? std::clamp((travel - a) / (b - a), 0.0, 1.0) : 0.5;
        return stations_.s[from] + share * (stations_.s[to] - stations_.s[from]);
      }
      from = to;
    }
    return 0.0;
  }

  const objectives::Demands* demands_;
  double sine2_, sine2_between_;
  GoingRun<T> stand_, rise_;
  std::vector<Place> places_;
  std::vector<std::size_t> place_of_;
  Place* here_ = nullptr;
  EnclosureRun<T> making_;
  std::array<int, 2> axle_{}, shock_{};  ///< results of the making: the axle topped out, the shock's line
  bike::StrokeSamples<T> stations_;
  std::vector<bool> stopped_;
  T whole_;
  Rises rises_ = Rises::unknown;
  math::Interval slopes_;
};

}  // namespace trammel::search
