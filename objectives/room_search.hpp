// Where along the stroke bodies come closest: between the stations of a march as well.
//
// A search looks around the closest station of each pair, where that may matter: eight places at a time close in on the
// least distance, a parabola ends it. For layouts that are judged the rest of the stroke is searched too: an interval
// is divided until it can hide no more than `room_accuracy`, by the better of two bounds. No corner of a body moves
// faster than 1.5 times its mean speed from one station to the next, so a distance cannot fall by more than that
// between two places where it is known (Piyavskii's and Shubert's method for functions of known steepest slope:
// Shubert, SIAM J. Numer. Anal. 9 (1972) 379–388; from memory). And no corner's way bends more than twice as much as at
// the stations around, so that between two places it stays near the straight line between them, on which the least
// distance is known (bike::Room::least_between); that bound's gap shrinks by four when an interval is halved, not by
// two.
#pragma once

#include <algorithm>
#include <cstdint>
#include <iterator>
#include <limits>
#include <vector>

#include "bike/spread.hpp"
#include "objectives/corner_ways.hpp"
#include "objectives/outcome.hpp"
#include "objectives/rules/clearances.hpp"
#include "objectives/rules/room.hpp"

namespace trammel::objectives {

/// Most places at which a judgement looks for one pair. A pair whose distance hardly changes while its bodies come 100
/// mm of way together needs some ten thousand; so many are enough for more than six metres of way. Where they are not,
/// Nearest::accuracy says so.
inline constexpr std::int64_t most_room_places = 1'000'000;

/// What a caller wants to know of the room between bodies.
struct RoomWanted {
  bool whole = false;   ///< of the whole stroke; else near the closest station, where that may matter
  double beyond = 0.0;  ///< distances are of interest up to so far over their limit, mm

  static RoomWanted nearby() { return {}; }
  /// What decides on a margin, which is 1 from its rule's depth on.
  static RoomWanted decisive() { return {true, rules::Clearances::record.depth}; }
  static RoomWanted exact() { return {true, std::numeric_limits<double>::infinity()}; }
};

/// Per-task workspace.
template <int W>
class RoomSearch {
 public:
  using P = math::Pack<W>;

  /// `demands` must outlive it.
  explicit RoomSearch(const Demands& demands, std::int64_t most_places = most_room_places)
      : demands_(&demands), room_(&demands.room), ways_(demands.room, march_intervals + 1), most_places_(most_places) {
    values_.assign(room_->measures(), std::vector<double>(march_intervals + 1));
  }

  bool asked() const { return room_->measures() > 0; }

  /// Takes a layout by its points as drawn; then its stations as a Spread visits them.
  void begin(const std::vector<math::Vec2<double>>& points) {
    if (!asked()) return;
    points_.resize(points.size());
    for (std::size_t p = 0; p < points.size(); ++p) points_[p] = {P(points[p].x), P(points[p].y)};
    room_->measure(points_, ratios_);
  }
  void watch(std::size_t first, std::size_t stride, const linkage::State<P>& state) {
    if (!asked()) return;
    room_->outline(state.position, ratios_, wide_);
    if (first == 0) topped_out_ = math::lane(state.position[axle()].y, 0);
    const std::size_t n = std::min(stride, ways_.stations() - first);
    for (std::size_t i = 0; i < n; ++i)
      for (std::size_t c = 0; c < wide_.size(); ++c)
        ways_.outline(first + i)[c] = {math::lane(wide_[c].x, i), math::lane(wide_[c].y, i)};
    for (std::size_t k = 0; k < values_.size(); ++k) {
      const P measured = room_->measured(k, state.position, wide_);
      for (std::size_t i = 0; i < n; ++i) values_[k][first + i] = math::lane(measured, i);
    }
  }

  /// Puts the closest places into the outcome.
  void finish(bike::Spread<W>& spread, const RoomWanted& wanted, Outcome<double>& out) {
    if (!asked()) return;
    spread_ = &spread;
    const bool whole = wanted.whole;
    out.nearest.resize(room_->measures());
    for (std::size_t k = 0; k < values_.size(); ++k) {
      k_ = k;
      accuracy_ = room_accuracy;
      closest(wanted);
      const std::vector<double>& at = spread.stations().s;
      const auto station = std::lower_bound(at.begin(), at.end(), best_.s, [&](double a, double b) {
        return spread.stations().forwards() ? a < b : a > b;
      });
      out.fit.room[k] = {best_.value,
                         static_cast<double>(std::min<std::ptrdiff_t>(station - at.begin(), march_intervals))};
      const double weight = weight_before();
      // At an end of the stroke there is one place only.
      const bool one = weight == 1.0;
      out.nearest[k] = {best_.s, whole ? travel_at(best_.s) : 0.0, one ? best_.s : before_.s, one ? best_.s : after_.s,
                        weight,  whole ? accuracy_ : 0.0};
    }
  }

 private:
  struct Known {
    double s = 0.0;
    double value = 0.0;
  };
  /// An end of an interval, and where its corners are: a station, or past the stations among `outlines_`.
  struct End {
    Known known;
    std::size_t outline = 0;
  };
  struct Stretch {
    End from, to;
    std::size_t station = 0;  ///< the last one not behind it
    double least = 0.0;       ///< no value in it is lower
  };
  /// Closings-in of a search, and of a judgement: the width of two intervals shrinks by 2/(W + 1) each time.
  static constexpr int rounds = 3, judged_rounds = 6;
  static constexpr double faster = 1.5, bends = 2.0;

  std::size_t axle() const { return static_cast<std::size_t>(demands_->model.layout.axle.point); }

  void closest(const RoomWanted& wanted) {
    const std::vector<double>& values = values_[k_];
    const auto least = static_cast<std::size_t>(std::min_element(values.begin(), values.end()) - values.begin());
    best_ = before_ = after_ = known(least);
    if (!wanted.whole) {
      if (lowest_near(least) < room_->least(k_) + room_inset) close_in(least, rounds);
      return;
    }
    const double enough = room_->least(k_) + wanted.beyond;
    for (std::size_t i = 0; i < values.size(); ++i) {
      const bool low = (i == 0 || values[i] <= values[i - 1]) && (i + 1 == values.size() || values[i] <= values[i + 1]);
      if (low && lowest_near(i) < enough) close_in(i, judged_rounds);
    }
    search_stroke(enough);
  }

  /// No value between a station and its neighbours is lower.
  double lowest_near(std::size_t station) const {
    const std::size_t before = station > 0 ? station - 1 : 0, after = std::min(station, ways_.stations() - 2);
    return values_[k_][station] - faster * std::max(ways_.moved(k_, before), ways_.moved(k_, after));
  }

  Known known(std::size_t station) const { return {spread_->stations().s[station], values_[k_][station]}; }

  /// The measure at W places.
  P measured_at(const P& s) {
    const linkage::State<P>& state = spread_->move_to(s);
    room_->outline(state.position, ratios_, wide_);
    return room_->measured(k_, state.position, wide_);
  }
  double travel_at(double s) { return math::lane(spread_->move_to(P(s)).position[axle()].y, 0) - topped_out_; }

  void take(const Known& at) {
    if (at.value < best_.value) best_ = before_ = after_ = at;
  }

  /// Closes in on the least value between the neighbours of a station.
  void close_in(std::size_t station, int times) {
    Known lo = known(station > 0 ? station - 1 : 0), hi = known(std::min(station + 1, ways_.stations() - 1));
    Known middle = known(station);
    std::vector<Known>& places = places_;
    for (int round = 0; round < times; ++round) {
      P s;
      for (std::size_t i = 0; i < W; ++i)
        math::set_lane(s, i, lo.s + (hi.s - lo.s) * (static_cast<double>(i + 1) / static_cast<double>(W + 1)));
      const P found = measured_at(s);
      places.assign({lo});
      for (std::size_t i = 0; i < W; ++i) places.push_back({math::lane(s, i), math::lane(found, i)});
      places.push_back(hi);
      const auto lowest = std::min_element(places.begin(), places.end(),
                                           [](const Known& a, const Known& b) { return a.value < b.value; });
      middle = *lowest;
      if (lowest != places.begin()) lo = *(lowest - 1);
      if (lowest + 1 != places.end()) hi = *(lowest + 1);
    }
    // The bottom of a dip by a parabola, that of a corner by the straight lines on its two sides.
    Known found = middle;
    for (const double bottom : {vertex(lo, middle, hi), corner(lo, hi)}) {
      if (!((bottom - lo.s) * (hi.s - bottom) > 0.0)) continue;
      const Known at{bottom, math::lane(measured_at(P(bottom)), 0)};
      if (at.value < found.value) found = at;
    }
    if (!(found.value < best_.value) && found.s != best_.s) return;
    best_ = found;
    before_ = lo;
    after_ = hi;
  }

  static double vertex(const Known& lo, const Known& middle, const Known& hi) {
    const double a = middle.s - lo.s, b = hi.s - middle.s;
    const double left = (lo.value - middle.value) / a, right = (hi.value - middle.value) / b;
    return middle.s + 0.5 * (left * b - right * a) / (left + right);
  }

  /// Where the lines through the last two places before the lowest and the first two after it meet.
  double corner(const Known& lo, const Known& hi) const {
    if (!(places_.front().s != lo.s) || !(places_.back().s != hi.s)) return lo.s;
    const auto at = std::find_if(places_.begin(), places_.end(), [&](const Known& x) { return x.s == lo.s; });
    const Known &further = *(at - 1), &beyond = *(at + 3);
    const double down = (lo.value - further.value) / (lo.s - further.s);
    const double up = (beyond.value - hi.value) / (beyond.s - hi.s);
    return lo.s + (hi.value - lo.value - up * (hi.s - lo.s)) / (down - up);
  }

  /// How much the place before the closest weighs; see Nearest.
  double weight_before() const {
    const double a = std::abs(best_.s - before_.s), b = std::abs(after_.s - best_.s);
    if (a == 0.0 || b == 0.0) return 1.0;
    const double fall = (before_.value - best_.value) / a, rise = (after_.value - best_.value) / b;
    return fall + rise > 0.0 ? rise / (fall + rise) : 1.0;
  }

  const std::vector<math::Vec2<double>>& outline(const End& end) const {
    return end.outline < ways_.stations() ? ways_.outline(end.outline) : outlines_[end.outline - ways_.stations()];
  }
  /// No value in an interval is lower; the nearer bound where by speed one could be under `worth`.
  double least_in(const Stretch& x, double worth) const {
    const std::vector<double>& at = spread_->stations().s;
    const double part = std::abs((x.to.known.s - x.from.known.s) / (at[x.station + 1] - at[x.station]));
    const double by_speed = 0.5 * (x.from.known.value + x.to.known.value - faster * ways_.moved(k_, x.station) * part);
    if (!(x.from.known.value > 0.0 && x.to.known.value > 0.0) || !(by_speed < worth)) return by_speed;
    return std::max(by_speed,
                    room_->least_between(k_, outline(x.from), outline(x.to), ways_.aside(k_, x.station, part)));
  }

  /// Divides every interval that could hide a lower value, and one lower than `enough`.
  void search_stroke(double enough) {
    stretches_.clear();
    const auto put = [&](Stretch x) {
      const double worth = std::min(best_.value - room_accuracy, enough);
      x.least = least_in(x, worth);
      if (x.least < worth) stretches_.push_back(x);
    };
    for (std::size_t i = 0; i + 1 < ways_.stations(); ++i) put({{known(i), i}, {known(i + 1), i + 1}, i, 0.0});
    for (std::int64_t looked = 0; !stretches_.empty() && looked < most_places_; looked += W) {
      const std::size_t n = std::min<std::size_t>(W, stretches_.size());
      divided_.assign(stretches_.end() - static_cast<std::ptrdiff_t>(n), stretches_.end());
      stretches_.resize(stretches_.size() - n);
      P s;
      for (std::size_t i = 0; i < W; ++i) {
        const Stretch& x = divided_[std::min(i, n - 1)];
        math::set_lane(s, i, 0.5 * (x.from.known.s + x.to.known.s));
      }
      const P found = measured_at(s);
      // Those past what waits and is divided are of no more use: what comes last is divided first.
      std::size_t next = ways_.stations();
      for (const std::vector<Stretch>* all : {&stretches_, &divided_})
        for (const Stretch& x : *all) next = std::max({next, x.from.outline + 1, x.to.outline + 1});
      if (outlines_.size() < next + n - ways_.stations()) outlines_.resize(next + n - ways_.stations());
      for (std::size_t i = 0; i < n; ++i) {
        const End middle{{math::lane(s, i), math::lane(found, i)}, next + i};
        std::vector<math::Vec2<double>>& outline = outlines_[middle.outline - ways_.stations()];
        outline.resize(wide_.size());
        for (std::size_t c = 0; c < wide_.size(); ++c)
          outline[c] = {math::lane(wide_[c].x, i), math::lane(wide_[c].y, i)};
        take(middle.known);
        const Stretch x = divided_[i];
        put({x.from, middle, x.station, 0.0});
        put({middle, x.to, x.station, 0.0});
      }
    }
    for (const Stretch& x : stretches_) accuracy_ = std::max(accuracy_, best_.value - x.least);
  }

  const Demands* demands_;
  const bike::Room* room_;
  bike::Spread<W>* spread_ = nullptr;
  std::vector<std::vector<double>> values_;  ///< of each measure at the stations
  CornerWays ways_;
  std::vector<math::Vec2<P>> points_, ratios_, wide_;
  std::vector<Known> places_;
  std::vector<Stretch> stretches_, divided_;
  std::vector<std::vector<math::Vec2<double>>> outlines_;  ///< corners where intervals were divided
  std::size_t k_ = 0;                                      ///< the measure in hand
  Known best_, before_, after_;                            ///< the closest place, and those around it
  double topped_out_ = 0.0;                                ///< the axle's height there
  std::int64_t most_places_;
  double accuracy_ = room_accuracy;  ///< of the measure in hand
};

}  // namespace trammel::objectives
