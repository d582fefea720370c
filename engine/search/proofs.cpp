#include <algorithm>
#include <cmath>
#include <limits>
#include <optional>

#include "objectives/in_words.hpp"
#include "objectives/rules/table.hpp"
#include "objectives/wish.hpp"
#include "search/bounds.hpp"
#include "search/preflight.hpp"

namespace trammel::search {
namespace {

using objectives::Station;
using objectives::Target;

constexpr double infinity = std::numeric_limits<double>::infinity();

using objectives::in_words;
using objectives::number_text;
using objectives::with_unit;

bool disjoint(const Interval& a, const Interval& b) {
  return a.hi < b.lo || b.hi < a.lo;
}

/// A place that two targets can be seen to share: a fraction of wheel travel, or wheel travel in mm, or sag on the
/// shock.
struct Place {
  enum class Kind { fraction, travel, shock_sag } kind = Kind::fraction;
  double amount = 0.0;
  bool operator==(const Place&) const = default;
};

Place place_of(const Station& station, const bike::Sag& sag) {
  switch (station.kind) {
    case Station::Kind::topped_out:
      return {Place::Kind::fraction, 0.0};
    case Station::Kind::bottomed:
      return {Place::Kind::fraction, 1.0};
    case Station::Kind::travel:
      return station.amount == 0.0 ? Place{} : Place{Place::Kind::travel, station.amount};
    case Station::Kind::fraction:
      return {Place::Kind::fraction, station.amount};
    case Station::Kind::sag:
      break;
  }
  return {sag.of == bike::SagOf::wheel ? Place::Kind::fraction : Place::Kind::shock_sag, sag.fraction};
}

std::string in_words(const Place& place) {
  if (place.kind == Place::Kind::travel) return "at " + number_text(place.amount) + " mm of wheel travel";
  if (place.kind == Place::Kind::shock_sag) return "at sag";
  if (place.amount == 0.0) return "topped out";
  return place.amount == 1.0 ? "bottomed" : "at " + number_text(100.0 * place.amount) + " % of wheel travel";
}

/// Where points may lie, for the proofs of rules.
class Ranges : public objectives::PointRanges {
 public:
  Ranges(const brief::Brief& brief, const std::vector<PointBounds>& bounds) : brief_(brief), bounds_(bounds) {}
  Interval x(int point) const override { return bounds_[static_cast<std::size_t>(point)].x; }
  Interval y(int point) const override { return bounds_[static_cast<std::size_t>(point)].y; }
  Interval distance(int a, int b) const override { return distance_between(brief_, bounds_, a, b); }

 private:
  const brief::Brief& brief_;
  const std::vector<PointBounds>& bounds_;
};

class Proofs {
 public:
  /// With `places_known` false nothing is made of where points lie.
  Proofs(const brief::Brief& brief, bool places_known)
      : brief_(brief), places_known_(places_known), bounds_(point_bounds(brief)) {
    for (const Target& t : brief.targets)
      if (t.must) musts_.push_back(&t);
  }

  std::vector<std::string> all() {
    for (std::size_t i = 0; i < musts_.size(); ++i) {
      known_values(*musts_[i]);
      for (std::size_t j = 0; j < i; ++j) pair(*musts_[j], *musts_[i]);
    }
    if (places_known_) {
      const Ranges ranges(brief_, bounds_);
      for (const objectives::RuleFunctions& rule : objectives::rule_table())
        rule.prove(brief_.packaging, brief_.layout.mechanism, ranges, sentences_);
    }
    return std::move(sentences_);
  }

 private:
  static std::string unit(const Target& t) { return unit_of(t); }
  std::string quoted(const Target& t) const { return "'" + t.name + "'"; }

  /// What a target allows at a place; absent when it does not look there.
  std::optional<Interval> allowed(const Target& t, const Place& place) const {
    if (t.measure) return std::nullopt;
    double fraction = 0.0;
    if (t.over) {
      if (place.kind != Place::Kind::fraction || place.amount < t.over->from || place.amount > t.over->to)
        return std::nullopt;
      fraction = place.amount;
    } else if (!(place_of(t.at, brief_.layout.sag) == place)) {
      return std::nullopt;
    }
    const objectives::Allowed a = objectives::allowed_at(t, fraction);
    return Interval{a.lo, a.hi};
  }

  /// Places at which a target's limits are decided: its own, or the ends and corners of its stretch.
  std::vector<Place> places(const Target& t) const {
    if (t.measure) return {};
    if (!t.over) return {place_of(t.at, brief_.layout.sag)};
    std::vector<Place> out{{Place::Kind::fraction, t.over->from}, {Place::Kind::fraction, t.over->to}};
    for (const auto& [fraction, value] : t.wish.path)
      if (fraction > t.over->from && fraction < t.over->to) out.push_back({Place::Kind::fraction, fraction});
    return out;
  }

  void pair(const Target& a, const Target& b) {
    if (a.measure && b.measure) {
      const auto stretch = [](const Target& t) { return std::pair(t.over->from, t.over->to); };
      const bool where = a.over && b.over ? stretch(a) == stretch(b) : a.over.has_value() == b.over.has_value();
      const bool same = same_quantity(a, b) && where &&
                        place_of(a.at, brief_.layout.sag) == place_of(b.at, brief_.layout.sag) &&
                        place_of(a.to, brief_.layout.sag) == place_of(b.to, brief_.layout.sag);
      const objectives::Allowed x = objectives::allowed_at(a, 0.0), y = objectives::allowed_at(b, 0.0);
      if (same && disjoint({x.lo, x.hi}, {y.lo, y.hi}))
        say_pair(a, b, {x.lo, x.hi}, {y.lo, y.hi}, "the same measure", unit(a));
      return;
    }
    if (a.measure || b.measure) return;
    using bike::Curve;
    const bool reciprocal = (a.curve.curve == Curve::leverage && b.curve.curve == Curve::motion_ratio) ||
                            (a.curve.curve == Curve::motion_ratio && b.curve.curve == Curve::leverage);
    if (!(a.curve == b.curve) && !reciprocal) {
      travel_against_leverage(a, b);
      travel_against_leverage(b, a);
      return;
    }
    std::vector<Place> common = places(a);
    const std::vector<Place> more = places(b);
    common.insert(common.end(), more.begin(), more.end());
    for (const Place& place : common) {
      const auto x = allowed(a, place), y = allowed(b, place);
      if (!x || !y) continue;
      // Motion ratio is 1/leverage, so limits above zero turn over.
      if (reciprocal && (y->lo <= 0.0 || x->lo <= 0.0)) continue;
      const Interval other = reciprocal ? Interval{1.0 / y->hi, 1.0 / y->lo} : *y;
      if (!disjoint(*x, other)) continue;
      say_pair(a, b, *x, *y, in_words(place), unit(a));
      return;
    }
  }

  void say_pair(const Target& a, const Target& b, const Interval& x, const Interval& y, const std::string& where,
                std::string_view its_unit) {
    sentences_.push_back(quoted(a) + " and " + quoted(b) + " exclude each other " + where + ": " +
                         in_words(x, its_unit) + " against " + in_words(y, its_unit) + ".");
  }

  /// Wheel travel when bottomed is the mean leverage times the stroke.
  void travel_against_leverage(const Target& travel, const Target& leverage) {
    const bool whole = leverage.over && leverage.over->from == 0.0 && leverage.over->to == 1.0;
    const auto wanted = allowed(travel, {Place::Kind::fraction, 1.0});
    if (!brief_.layout.shock || travel.curve.curve != bike::Curve::travel || !wanted || !whole ||
        leverage.curve.curve != bike::Curve::leverage)
      return;
    Interval ratio{infinity, -infinity};
    for (const Place& place : places(leverage)) {
      const Interval here = *allowed(leverage, place);
      ratio = {std::min(ratio.lo, here.lo), std::max(ratio.hi, here.hi)};
    }
    const Interval stroke = strokes(brief_);
    const Interval reach{std::max(0.0, ratio.lo) * stroke.lo, ratio.hi * stroke.hi};
    if (!disjoint(*wanted, reach)) return;
    sentences_.push_back(quoted(travel) + " and " + quoted(leverage) +
                         " exclude each other: the mean leverage times the stroke gives " + in_words(reach, "mm") +
                         " of wheel travel, and " + in_words(*wanted, "mm") + " is demanded.");
  }

  /// What a curve is at a place by definition or by the ranges of the points.
  std::optional<Interval> known(bike::Curve curve, const Place& place) const {
    using bike::Curve;
    if (curve == Curve::travel && place.kind == Place::Kind::travel) return Interval{place.amount, place.amount};
    if (curve == Curve::shock && place == Place{Place::Kind::fraction, 1.0} && brief_.layout.shock)
      return strokes(brief_);
    if (!(place == Place{})) return std::nullopt;
    const PointBounds& axle = bounds_[static_cast<std::size_t>(brief_.layout.axle.point)];
    switch (curve) {
      case Curve::shock:
      case Curve::travel:
      case Curve::rearward:
      case Curve::chainstay_growth:
      case Curve::chain_growth:
      case Curve::kickback:
        return Interval{0.0, 0.0};
      case Curve::axle_x:
        return places_known_ ? std::optional(axle.x) : std::nullopt;
      case Curve::axle_y:
        return places_known_ ? std::optional(axle.y) : std::nullopt;
      case Curve::chainstay:
        return places_known_ ? std::optional(distance_from_origin(axle)) : std::nullopt;
      default:
        return std::nullopt;
    }
  }

  void known_values(const Target& t) {
    for (const Place& place : places(t)) {
      const auto is = known(t.curve.curve, place), wanted = allowed(t, place);
      if (!is || !wanted || !disjoint(*is, *wanted)) continue;
      sentences_.push_back(quoted(t) + " cannot be met: " + in_words(place) + " the curve is " +
                           in_words(*is, unit(t)) + " within the ranges, and " + in_words(*wanted, unit(t)) +
                           " is demanded.");
      return;
    }
  }

  const brief::Brief& brief_;
  bool places_known_;
  std::vector<PointBounds> bounds_;
  std::vector<const Target*> musts_;
  std::vector<std::string> sentences_;
};

}  // namespace

std::vector<std::string> proven_conflicts(const brief::Brief& brief) {
  if (brief.layout.settings.empty() && brief.layout.sizes.empty()) return Proofs(brief, true).all();
  std::vector<std::string> out;
  for (const CaseSetup& one : cases_of(brief.layout, brief.targets)) {
    brief::Brief only = brief;
    only.layout = bike::unsettled(brief.layout, one.which);
    only.targets = one.targets;
    const int setting = one.which.setting, size = one.which.size;
    const bike::Setting* set = setting < 0 ? nullptr : &brief.layout.settings[static_cast<std::size_t>(setting)];
    const bike::Size* sized = size < 0 ? nullptr : &brief.layout.sizes[static_cast<std::size_t>(size)];
    if (set != nullptr && set->shock) only.shocks.clear();
    // Ranges tell where points lie as drawn.
    const bool moved =
        (set != nullptr && (set->shock || !set->moves.empty())) || (sized != nullptr && sized->chainstay != 0.0);
    for (std::string& sentence : Proofs(only, !moved).all())
      if (std::find(out.begin(), out.end(), sentence) == out.end()) out.push_back(std::move(sentence));
  }
  return out;
}

}  // namespace trammel::search
