#include "brief/ranges_around.hpp"

#include <algorithm>
#include <cmath>
#include <map>
#include <numbers>
#include <optional>
#include <string>

namespace trammel::brief {
namespace {

using bike::Point;

/// To a thousandth, as the reader's `exact_text` writes such a number below a hundred thousand; by itself, since what
/// writes any number is larger than all else that a page's kernel has.
std::string text(double value) {
  const auto thousandths = static_cast<long long>(std::llround(value * 1000.0));
  const long long size = std::abs(thousandths), rest = size % 1000;
  std::string out = (thousandths < 0 ? "-" : "") + std::to_string(size / 1000);
  if (rest == 0) return out;
  const std::string digits = std::to_string(1000 + rest).substr(1);
  return out + "." + digits.substr(0, digits.find_last_not_of('0') + 1);
}
std::string written(const Range& range) {
  return range.fixed() ? text(range.lo) : "[" + text(range.lo) + ", " + text(range.hi) + "]";
}
double to_tenth(double value) {
  return std::round(value * 10.0) / 10.0;
}
double degrees(double radians) {
  return radians * 180.0 / std::numbers::pi;
}

/// The range around a value. A number that the brief fixes stays one; an end of the brief's range is kept to by a value
/// between them.
Range near(double value, double within, const std::optional<Range>& own) {
  if (own && own->fixed()) return {value, value};
  Range out{to_tenth(value - within), to_tenth(value + within)};
  if (!own || value < own->lo || value > own->hi) return out;
  out = {std::max(out.lo, own->lo), std::min(out.hi, own->hi)};
  // A range as narrow as the rounding is no range.
  return out.lo < out.hi ? out : *own;
}

/// The angle nearest to those of a range, which may be given a turn or more away.
double on_turn_of(double angle, const std::optional<Range>& own) {
  if (!own) return angle;
  const double middle = 0.5 * (own->lo + own->hi);
  return angle + 360.0 * std::round((middle - angle) / 360.0);
}

class Ranges {
 public:
  explicit Ranges(const Around& around) : a_(around), m_(around.layout.mechanism) {
    for (std::size_t p = 0; p < m_.points.size(); ++p) place(static_cast<int>(p));
    hold_shock();
  }

  std::string group() const {
    std::string out;
    for (const auto& [point, entry] : entries_) out += "  " + name(point) + ": { " + entry.text + " }\n";
    return out.empty() ? out : "vary:\n" + out;
  }

 private:
  struct Entry {
    std::string text;
    bool at_shock_length = false;
  };

  const std::string& name(int point) const { return m_.point_names[static_cast<std::size_t>(point)]; }
  const Point& at(int point) const { return m_.points[static_cast<std::size_t>(point)]; }

  /// A point of the brief as one of this layout.
  int here(int point) const {
    const std::string& named = a_.of->layout.mechanism.point_names[static_cast<std::size_t>(point)];
    const auto found = std::find(m_.point_names.begin(), m_.point_names.end(), named);
    return found == m_.point_names.end() ? -1 : static_cast<int>(found - m_.point_names.begin());
  }

  void place(int point) {
    if (a_.keep.contains(point)) return;
    if (a_.of == nullptr || a_.of->vary.empty()) {
      if (point != a_.layout.axle.point) entries_[point] = {cartesian(point, -1, {}, {})};
      return;
    }
    for (const Vary& vary : a_.of->vary) {
      const std::vector<int> needs = vary.needs();
      const bool known = std::all_of(needs.begin(), needs.end(), [&](int need) { return here(need) >= 0; });
      if (here(vary.point) == point && known && !vary.follows) entries_[point] = entry(point, vary);
    }
  }

  Entry entry(int point, const Vary& vary) const {
    if (const auto* mirrored = std::get_if<Mirrored>(&vary.place)) {
      const std::string about = name(here(mirrored->about));
      return {"mirrors: " + name(here(mirrored->of)) +
              (mirrored->through < 0 ? ", about: " + about
                                     : ", across: [" + about + ", " + name(here(mirrored->through)) + "]")};
    }
    if (const auto* place = std::get_if<Cartesian>(&vary.place))
      return {cartesian(point, place->from < 0 ? -1 : here(place->from), place->x, place->y)};
    const auto& polar = std::get<Polar>(vary.place);
    const int from = here(polar.from);
    std::string far = "length: shock, ";
    if (polar.as_long_as)
      far = "as_long_as: [" + name(here(polar.as_long_as->first)) + ", " + name(here(polar.as_long_as->second)) + "], ";
    else if (!polar.length_is_shock)
      far = as_drawn(vary.point, polar)
                ? ""
                : "length: " + written(near(norm(at(point) - at(from)), a_.within, polar.length)) + ", ";
    return {"from: " + name(from) + ", " + far + angle(point, from, polar.angle), polar.length_is_shock};
  }

  /// Whether a length is the one that the brief draws, which holds where it gives none.
  bool as_drawn(int point, const Polar& polar) const {
    const auto& drawn = a_.of->layout.mechanism.points;
    return polar.length.fixed() && std::abs(polar.length.lo - norm(drawn[static_cast<std::size_t>(point)] -
                                                                   drawn[static_cast<std::size_t>(polar.from)])) < 1e-9;
  }

  std::string cartesian(int point, int from, const std::optional<Range>& x, const std::optional<Range>& y) const {
    const Point p = from < 0 ? at(point) : at(point) - at(from);
    return (from < 0 ? "" : "from: " + name(from) + ", ") + ("x: " + written(near(p.x, a_.within, x))) +
           ", y: " + written(near(p.y, a_.within, y));
  }

  std::string angle(int point, int from, const std::optional<Range>& own) const {
    const Point arm = at(point) - at(from);
    const double far = std::max(norm(arm), 1.0);
    const double turn = std::min(degrees(a_.within / far), 170.0);
    return "angle: " + written(near(on_turn_of(degrees(std::atan2(arm.y, arm.x)), own), turn, own));
  }

  /// Where an eye of the shock moves, one of them is placed from the other; the one that the frame carries, if it may.
  void hold_shock() {
    const int a = m_.drive.a, b = m_.drive.b;
    if (!a_.layout.shock || a < 0 || b < 0) return;
    const auto one = entries_.find(a), other = entries_.find(b);
    if (one == entries_.end() && other == entries_.end()) return;
    for (const auto eye : {one, other})
      if (eye != entries_.end() && eye->second.at_shock_length) return;
    const auto& frame = m_.members[static_cast<std::size_t>(m_.frame)].points;
    const bool a_on_frame = std::find(frame.begin(), frame.end(), a) != frame.end();
    const bool take_a = one != entries_.end() && (a_on_frame || other == entries_.end());
    const int placed = take_a ? a : b, from = take_a ? b : a;
    entries_[placed] = {"from: " + name(from) + ", length: shock, " + angle(placed, from, {}), true};
  }

  const Around& a_;
  const linkage::Mechanism& m_;
  std::map<int, Entry> entries_;
};

}  // namespace

const Brief* placed_by(const bike::Layout& layout, const Brief& brief) {
  const auto& names = layout.mechanism.point_names;
  const auto varies_any = [&](const Brief& one) {
    return std::any_of(one.vary.begin(), one.vary.end(), [&](const Vary& vary) {
      const std::string& name = one.layout.mechanism.point_names[static_cast<std::size_t>(vary.point)];
      return std::find(names.begin(), names.end(), name) != names.end();
    });
  };
  for (const Brief& one : linkages_of(brief))
    if (one.layout.mechanism.point_names == names && varies_any(one)) return &one;
  return brief.linkages.empty() && varies_any(brief) ? &brief : nullptr;
}

std::string ranges_around(const Around& around) {
  return Ranges(around).group();
}

std::string outside_ranges(const bike::Layout& layout, const Brief& of) {
  const auto& m = layout.mechanism;
  const auto& names = of.layout.mechanism.point_names;
  const auto place_of = [&](int point) -> std::optional<Point> {
    const auto found = std::find(m.point_names.begin(), m.point_names.end(), names[static_cast<std::size_t>(point)]);
    if (found == m.point_names.end()) return std::nullopt;
    return m.points[static_cast<std::size_t>(found - m.point_names.begin())];
  };
  constexpr double rounding = 0.002;  // layouts are written on a grid of a thousandth
  std::string out;
  const auto hold = [&](const std::string& what, double value, const Range& range, const char* unit) {
    if (value >= range.lo - rounding && value <= range.hi + rounding) return;
    out += what + " is " + text(value) + unit + ", and the brief " +
           (range.fixed() ? "has " + text(range.lo) : "lets it be " + text(range.lo) + " to " + text(range.hi)) + "\n";
  };
  for (const Vary& vary : of.vary) {
    const auto p = place_of(vary.point);
    const std::string& name = names[static_cast<std::size_t>(vary.point)];
    if (!p) continue;
    if (const auto* place = std::get_if<Cartesian>(&vary.place)) {
      const auto from = place->from < 0 ? std::optional<Point>(Point{}) : place_of(place->from);
      if (!from) continue;
      hold(name + ".x", (*p - *from).x, place->x, " mm");
      hold(name + ".y", (*p - *from).y, place->y, " mm");
    } else if (const auto* polar = std::get_if<Polar>(&vary.place)) {
      const auto from = place_of(polar->from);
      if (!from) continue;
      const Point arm = *p - *from;
      if (polar->own_length()) hold(name + ".length", norm(arm), polar->length, " mm");
      // An angle is known no better than the ends of its arm are.
      const double angle = on_turn_of(degrees(std::atan2(arm.y, arm.x)), polar->angle);
      const double slack = degrees(rounding / std::max(norm(arm), 1.0));
      hold(name + ".angle", angle, {polar->angle.lo - slack, polar->angle.hi + slack}, "°");
    }
  }
  return out;
}

}  // namespace trammel::brief
