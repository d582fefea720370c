#include <algorithm>
#include <cmath>

#include "objectives/assessor.hpp"

namespace trammel::objectives {
namespace {

/// The place that decides the i-th judged value; the first where there is no one.
std::size_t place_of(const Demands& d, const Outcome<double>& o, std::size_t t, std::size_t i) {
  const Gathering& g = d.places.gatherings[t];
  if (g.kind == Reduction::none || g.kind == Reduction::path) return i % g.places;
  if (!has_place(d.targets[t])) return 0;
  const auto first = o.seen[t].begin() + static_cast<std::ptrdiff_t>(i * g.places);
  const auto found = std::find(first, first + static_cast<std::ptrdiff_t>(g.places), o.values[t][i]);
  return static_cast<std::size_t>(found - first) % g.places;
}

/// The gear of the i-th judged value of a target on several.
int gear_of(const Demands& d, std::size_t t, std::size_t i) {
  const Gathering& g = d.places.gatherings[t];
  const std::vector<int>& gears = d.targets[t].gears;
  if (gears.empty() || g.kind == Reduction::spread) return -1;
  return gears[g.kind == Reduction::none ? i / g.places : i];
}

Verdict verdict_on(const Demands& d, const Outcome<double>& o, std::size_t t) {
  const Target& target = d.targets[t];
  Verdict verdict;
  verdict.margin = 2.0;
  for (std::size_t i = 0; i < o.values[t].size(); ++i) {
    const Allowed& allowed = d.allowed[t][i];
    const double y = o.values[t][i], inside = margin(allowed, y);
    if (inside >= verdict.margin) continue;
    verdict.margin = inside;
    verdict.achieved = y;
    verdict.at_travel = o.travels[t][place_of(d, o, t, i)];
    verdict.gear = gear_of(d, t, i);
    verdict.violation = std::max({0.0, allowed.lo - y, y - allowed.hi});
    if (target.wish.kind == Wish::Kind::follow)
      verdict.wished = path_value(target.wish, d.places.targets[t].fractions[i % d.places.gatherings[t].places]);
  }
  verdict.met = verdict.violation <= 0.0;
  return verdict;
}

/// Mean of the squared residuals of a target over its places, without limit or inset.
double mean_square(const Demands& d, const Outcome<double>& o, std::size_t t) {
  double sum = 0.0;
  for (std::size_t i = 0; i < o.values[t].size(); ++i)
    sum += math::square(residual(d.allowed[t][i], o.values[t][i], d.targets[t].tolerance, 0.0));
  return sum / static_cast<double>(o.values[t].size());
}

std::string pair_name(const linkage::Mechanism& m, const PivotPair& pair) {
  return m.point_names[static_cast<std::size_t>(pair.first)] + "–" +
         m.point_names[static_cast<std::size_t>(pair.second)];
}

class Rules {
 public:
  Rules(const Demands& d, const Outcome<double>& o, std::vector<RuleVerdict>& out) : d_(d), o_(o), out_(out) {}

  void add_all() {
    transmission();
    pivot_distance();
    boxes();
    lengths();
    room();
    if (!d_.model.has_shock()) return;
    const Least<double>& slope = o_.fit.slope;
    add("wheel rises with the shock", "", slope.value, least_slope, "leverage ratio", slope.station,
        slope.value >= least_slope);
    const double length = drawn_shock_length(d_.model, o_.points), wanted = d_.model.layout.shock->length;
    add("shock eye to eye", "mm", length, wanted, "topped out", 0, std::abs(length - wanted) <= shock_length_tolerance);
  }

 private:
  void transmission() {
    const Least<double>* worst = least_of(o_.fit.transmission);
    if (worst == nullptr) return;
    const auto joint = static_cast<std::size_t>(worst - o_.fit.transmission.data());
    const double angle = math::degrees(std::asin(std::sqrt(std::clamp(worst->value, 0.0, 1.0))));
    const double least = d_.packaging.least_transmission_angle;
    add("least transmission angle", "°", angle, least, d_.model.program.joints[joint].name, worst->station,
        worst->value > 0.0 && angle >= least);
  }

  void pivot_distance() {
    const Least<double>* nearest = least_of(o_.fit.distance2);
    if (!d_.packaging.least_pivot_distance || nearest == nullptr) return;
    const auto pair = static_cast<std::size_t>(nearest - o_.fit.distance2.data());
    const double distance = std::sqrt(nearest->value), least = *d_.packaging.least_pivot_distance;
    add("least pivot distance", "mm", distance, least, pair_name(d_.model.layout.mechanism, d_.pairs[pair]),
        nearest->station, distance >= least);
  }

  void boxes() {
    for (const Box& box : d_.packaging.boxes) {
      const auto p = static_cast<std::size_t>(box.point);
      const std::string& name = d_.model.layout.mechanism.point_names[p];
      if (box.x) box_side(name + ".x", *box.x, o_.points[p].x);
      if (box.y) box_side(name + ".y", *box.y, o_.points[p].y);
    }
  }

  void box_side(const std::string& name, const Interval& i, double x) {
    // The demand printed is the end that is nearer to being broken.
    const bool low = x - i.lo < i.hi - x;
    add(std::string("box: ") + (low ? "at least" : "at most"), "mm", x, low ? i.lo : i.hi, name, 0,
        x >= i.lo && x <= i.hi);
  }

  void lengths() {
    for (const LengthRule& rule : d_.packaging.lengths) {
      const double length =
          norm(o_.points[static_cast<std::size_t>(rule.to)] - o_.points[static_cast<std::size_t>(rule.from)]);
      const std::string where = pair_name(d_.model.layout.mechanism, {rule.from, rule.to});
      if (rule.least) add("length: at least", "mm", length, *rule.least, where, 0, length >= *rule.least);
      if (rule.greatest) add("length: at most", "mm", length, *rule.greatest, where, 0, length <= *rule.greatest);
    }
  }

  void room() {
    for (std::size_t k = 0; k < o_.fit.room.size(); ++k) {
      const Least<double>& least = o_.fit.room[k];
      const double demanded = d_.room.least(k);
      add(k < d_.room.gaps().size() ? std::string(clearance_rule) : "kept in", "mm", least.value, demanded,
          room_subject(d_.room, d_.model, d_.packaging, k), least.station, least.value >= demanded);
      if (k < o_.nearest.size()) out_.back().at_travel = o_.nearest[k].travel;
    }
  }

  void add(std::string name, std::string unit, double achieved, double demanded, std::string where, double station,
           bool met) {
    out_.push_back({std::move(name), std::move(unit), achieved, demanded, std::move(where),
                    o_.march_travel[static_cast<std::size_t>(station)], met});
  }

  static const Least<double>* least_of(const std::vector<Least<double>>& all) {
    const auto found =
        std::min_element(all.begin(), all.end(), [](const auto& a, const auto& b) { return a.value < b.value; });
    return found == all.end() ? nullptr : &*found;
  }

  const Demands& d_;
  const Outcome<double>& o_;
  std::vector<RuleVerdict>& out_;
};

}  // namespace

Assessment assess(const Demands& d, const Outcome<double>& o) {
  Assessment out;
  out.margin = 1.0;
  for (std::size_t t = 0; t < d.targets.size(); ++t) {
    const Target& target = d.targets[t];
    out.targets.push_back(verdict_on(d, o, t));
    out.margin = std::min(out.margin, out.targets.back().margin);
    out.score += mean_square(d, o, t) * target.weight;
    if (!target.must) continue;
    ++out.musts;
    if (out.targets.back().met) ++out.musts_met;
  }
  Rules(d, o, out.rules).add_all();
  for (const RuleVerdict& rule : out.rules) {
    ++out.musts;
    if (rule.met) ++out.musts_met;
  }
  return out;
}

std::string assembly_failure(const bike::Model& model, std::size_t joint) {
  return "does not assemble at " + model.program.joints[joint].name;
}

}  // namespace trammel::objectives
