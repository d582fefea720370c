#include "draft/first_brief.hpp"

#include <algorithm>
#include <cctype>
#include <cmath>
#include <map>
#include <nlohmann/json.hpp>
#include <numbers>
#include <stdexcept>

#include "bike/layout.hpp"
#include "brief/read.hpp"
#include "brief/scalar.hpp"
#include "draft/wishes.hpp"

namespace trammel::draft {
namespace {

using bike::Point;
using brief::exact_text;

double on_step(double value, double step) {
  return std::round(value / step) * step + 0.0;  // no −0
}
/// With at most three decimals.
std::string text(double value) {
  return exact_text(std::round(value * 1000.0) / 1000.0 + 0.0);
}
/// A line with words behind it, from one column on where it is not longer.
std::string noted(const std::string& line, const std::string& words) {
  constexpr std::size_t column = 48;
  return line + std::string(line.size() < column ? column - line.size() : 1, ' ') + "  # " + words + "\n";
}
std::string pair(double a, double b) {
  return "[" + text(a) + ", " + text(b) + "]";
}

/// The bike around the linkage, in numbers as they are written.
struct Frame {
  Frame(const UsualKind& kind, const Answers& a)
      : size(0.5 * (a.wheels.front->frame + a.wheels.rear->frame)),
        bb_height(on_step(0.5 * (a.wheels.front->bb_height + a.wheels.rear->bb_height) + kind.bb_height, 1.0)),
        front_axle{on_step(kind.front_axle * size, 1.0), a.wheels.front->radius() - bb_height},
        chainstay(on_step(kind.chainstay * a.wheels.rear->frame, 1.0)),
        fork(on_step(a.travel + kind.fork, 5.0)),
        cg{on_step(kind.cg_x * size, 1.0), on_step(kind.cg_height * size, 5.0)},
        rider(on_step(kind.rider * std::min(a.wheels.front->rider, a.wheels.rear->rider), 1.0)) {}

  double size;  ///< 1 = on 29-inch wheels
  double bb_height;
  Point front_axle;
  double chainstay;
  double fork;
  Point cg;
  double rider;
};

std::string wheel(const UsualWheel& one) {
  return "{ bead_seat: " + text(one.bead_seat) + ", tyre_height: " + text(one.tyre_height) + " }\n";
}

std::string bike_group(const UsualKind& kind, const Answers& a, const Frame& f) {
  const double bike = on_step(kind.bike_mass * (0.5 + 0.5 * f.size), 0.1);
  return "bike:\n  kind: " + std::string(bike::record(kind.kind).key) + "\n" +
         noted("  wheels:", a.wheels.name() + " inches") + "    rear: " + wheel(*a.wheels.rear) +
         "    front: " + wheel(*a.wheels.front) +
         noted("  front: { axle: " + pair(f.front_axle.x, f.front_axle.y) + ", head_angle: " + text(kind.head_angle) +
                   ", travel: " + text(f.fork) + " }",
               "bottom bracket " + text(f.bb_height) + " mm over the ground") +
         noted("  cg: { x: " + text(f.cg.x) + ", height: " + text(f.cg.y) + " }", "rider, standing, and sprung mass") +
         "  mass: { rider: " + text(f.rider) + ", bike: " + text(bike) +
         ", rear_unsprung: " + text(kind.rear_unsprung) + ", front_unsprung: " + text(kind.front_unsprung) + " }\n";
}

std::string cogs(const UsualKind& kind) {
  return "[" + std::to_string(kind.cogs[0]) + ", " + std::to_string(kind.cogs[1]) + ", " +
         std::to_string(kind.cogs[2]) + "]";
}

/// The brief that names the template, from which its points on this bike are read.
brief::Brief on_template(const UsualKind& kind, const Answers& a, const Frame& f) {
  const std::string named =
      "trammel: 1\n" + bike_group(kind, a, f) + "drivetrain: { chainring: " + std::to_string(kind.chainring) +
      ", gears: " + cogs(kind) + " }\nlinkages: [" + a.linkage + "]\ntravel: " + text(a.travel) +
      "\nchainstay: " + text(f.chainstay) + "\nchoose: { shock: [ { length: " + text(a.shock.length) +
      ", stroke: " + text(a.shock.stroke) + " } ] }\ntargets: [ { curve: travel, at: bottomed, floor: 1 } ]\n";
  brief::Reading reading = brief::read_text(named, "draft");
  if (!reading.ok()) throw std::runtime_error("no brief can be drafted from these answers:\n" + reading.message());
  return std::move(reading.brief.linkages.front());
}

/// A template's points on the bike: ranges in whole millimetres, and what is drawn in their middle.
class Drawing {
 public:
  explicit Drawing(const brief::Brief& brief) : layout_(brief.layout), points_(brief.layout.mechanism.points) {
    for (Point& point : points_) point = {on_step(point.x, 0.1), on_step(point.y, 0.001)};
    for (const brief::Vary& vary : brief.vary) place(vary);
  }

  std::string points() const {
    std::string out = noted("  points:", "topped out, mm from the bottom bracket; in the middle of the ranges below");
    for (std::size_t i = 0; i < points_.size(); ++i) {
      const std::string line = "    " + name(i) + ": " + pair(points_[i].x, points_[i].y);
      const std::string_view words = point_words(name(i));
      out += words.empty() ? line + "\n" : noted(line, std::string(words));
    }
    return out;
  }

  /// What the search may move, in the order of the points.
  std::string vary() const {
    std::string out;
    for (const auto& [point, range] : ranges_) out += "  " + name(point) + ": " + range + "\n";
    return out;
  }

 private:
  const std::string& name(std::size_t point) const { return layout_.mechanism.point_names[point]; }

  static brief::Range rounded(const brief::Range& range) {
    const double step = range.fixed() ? 0.1 : 1.0;
    return {on_step(range.lo, step), on_step(range.hi, step)};
  }
  static std::string written(const brief::Range& range) {
    return range.fixed() ? text(range.lo) : pair(range.lo, range.hi);
  }
  static double middle(const brief::Range& range) { return 0.5 * (range.lo + range.hi); }

  void place(const brief::Vary& vary) {
    const auto at = static_cast<std::size_t>(vary.point);
    if (const auto* place = std::get_if<brief::Cartesian>(&vary.place)) {
      const brief::Range x = rounded(place->x), y = rounded(place->y);
      points_[at] = {middle(x), middle(y)};
      ranges_[at] = "{ x: " + written(x) + ", y: " + written(y) + " }";
      return;
    }
    const auto& polar = std::get<brief::Polar>(vary.place);
    const brief::Range length = rounded(polar.length), angle = rounded(polar.angle);
    const double far = polar.length_is_shock ? layout_.shock->length : middle(length);
    const double turn = middle(angle) * std::numbers::pi / 180.0;
    const Point arm{far * std::cos(turn), far * std::sin(turn)};
    points_[at] = points_[static_cast<std::size_t>(polar.from)] + arm;
    ranges_[at] = "{ from: " + name(static_cast<std::size_t>(polar.from)) +
                  ", length: " + (polar.length_is_shock ? "shock" : written(length)) + ", angle: " + written(angle) +
                  " }";
  }

  const bike::Layout& layout_;
  std::vector<Point> points_;
  std::map<std::size_t, std::string> ranges_;
};

std::string names_of(const linkage::Mechanism& m, const std::vector<int>& points) {
  std::string out;
  for (const int point : points) out += (out.empty() ? "" : ", ") + m.point_names[static_cast<std::size_t>(point)];
  return "[" + out + "]";
}

std::string linkage_group(const bike::Layout& layout, const Drawing& drawing) {
  const linkage::Mechanism& m = layout.mechanism;
  const auto point = [&](int i) { return m.point_names[static_cast<std::size_t>(i)]; };
  const auto member = [&](int i) { return m.members[static_cast<std::size_t>(i)].name; };
  std::string out = "linkage:\n" + drawing.points() + noted("  members:", "two that list the same point pivot there");
  for (const auto& one : m.members) out += "    " + one.name + ": " + names_of(m, one.points) + "\n";
  if (!m.sliders.empty()) out += "  sliders:\n";
  for (const auto& slider : m.sliders)
    out += "    - { point: " + point(slider.point) + ", member: " + member(slider.member) + ", along: [" +
           point(slider.along_a) + ", " + point(slider.along_b) + "] }\n";
  if (!m.through_line.empty()) out += "  through_line: " + names_of(m, m.through_line) + "\n";
  return out + "  axle: { point: " + point(layout.axle.point) + ", member: " + member(layout.axle.member) + " }\n" +
         noted("  brake: { member: " + member(layout.brake_member) + " }", "carries the caliper");
}

/// Share of rider and sprung mass on the rear wheel; common practice, no source.
constexpr double rear_share = 0.6;

/// N/mm, for the wanted sag under the rider at the mean leverage.
double coil_rate(const UsualKind& kind, const Answers& a, const Frame& f) {
  const double sprung = f.rider + kind.bike_mass * (0.5 + 0.5 * f.size) - kind.rear_unsprung - kind.front_unsprung;
  const double leverage = a.travel / a.shock.stroke;
  return on_step(rear_share * sprung * bike::gravity * leverage / (kind.sag * a.shock.stroke), 1.0);
}

std::string shock_group(const UsualKind& kind, const Answers& a, const Frame& f, const bike::Layout& layout) {
  const linkage::Drive& drive = layout.mechanism.drive;
  const auto point = [&](int i) { return layout.mechanism.point_names[static_cast<std::size_t>(i)]; };
  const auto rider = [&](double share) { return text(on_step(share * f.rider, 1.0)); };
  return "shock:\n  between: [" + point(drive.a) + ", " + point(drive.b) + "]\n" +
         noted("  length: " + text(a.shock.length), "eye to eye") + "  stroke: " + text(a.shock.stroke) + "\n" +
         (drive.extends ? "  extends: true\n" : "") +
         noted("  spring: { coil: { rate: " + text(coil_rate(kind, a, f)) + ", preload: 1 } }",
               "N/mm; `air` and its chambers: docs/brief.md") +
         "sag: { fraction: " + text(kind.sag) + ", of: wheel }\n" +
         noted("set_up: { riders: [" + rider(0.75) + ", " + rider(1.0) + ", " + rider(1.25) + "] }",
               "kg, with kit; the spring for each is in the report");
}

std::string packaging_group(const UsualKind& kind, const Answers& a, const bike::Layout& layout) {
  const double wheel = a.wheels.rear->radius();
  const auto& m = layout.mechanism;
  return "# What must fit. Bodies such as a seat tube or a motor, and the room around them: docs/brief.md, packaging.\n"
         "packaging:\n" +
         noted("  least_pivot_distance: " + text(kind.pivot_distance), "between any two, over the whole stroke") +
         noted("  least_transmission_angle: 25", "of every joint, likewise") + "  boxes:\n" +
         noted("    " + m.point_names[static_cast<std::size_t>(m.drive.a)] +
                   ": { x: " + pair(on_step(0.1 * wheel, 5.0), on_step(0.7 * wheel, 5.0)) +
                   ", y: " + pair(on_step(0.18 * wheel, 5.0), on_step(0.8 * wheel, 5.0)) + " }",
               "over the down tube, under the top tube");
}

/// Whether the axle's own member carries a shock eye.
bool shock_on_swingarm(const bike::Layout& layout) {
  const auto& points = layout.mechanism.members[static_cast<std::size_t>(layout.axle.member)].points;
  const auto carries = [&](int point) { return std::find(points.begin(), points.end(), point) != points.end(); };
  return carries(layout.mechanism.drive.a) || carries(layout.mechanism.drive.b);
}

std::string head_words(const UsualKind& kind, const Answers& a) {
  return "# Brief: " + std::string(kind.bike) + ", " + text(a.travel) + " mm on " + a.wheels.name() +
         "-inch wheels, drafted by `trammel draft` from a few answers. All else here is what is\n"
         "# usual for such bikes, common practice without a source: put in what you know better. `trammel check FILE` "
         "says what is\n# wrong with a brief and how its layout as drawn does; `trammel search FILE` looks for layouts "
         "that do better.\n# Every key: docs/brief.md. Lengths in mm, angles in degrees, x forward, y up, the bike "
         "topped "
         "out and level.\n";
}

std::string made_title(const UsualKind& kind, const Answers& a, const std::string& linkage) {
  std::string title = std::string(kind.bike) + ", " + text(a.travel) + " mm, " + linkage;
  title[0] = static_cast<char>(std::toupper(static_cast<unsigned char>(title[0])));
  return title;
}

}  // namespace

std::string first_brief(const Answers& a) {
  const UsualKind& kind = usual(a.kind);
  const Frame frame(kind, a);
  const brief::Brief on = on_template(kind, a, frame);
  const Drawing drawing(on);
  std::string linkage = on.linkage_title;
  linkage[0] = static_cast<char>(std::tolower(static_cast<unsigned char>(linkage[0])));
  const std::string title = a.title.empty() ? made_title(kind, a, linkage) : a.title;
  std::string out =
      head_words(kind, a) + "trammel: 1\ntitle: " + nlohmann::json(title).dump() + "\n\n" + bike_group(kind, a, frame);
  out += "\ndrivetrain:\n  chainring: " + std::to_string(kind.chainring) + "\n" +
         noted("  gears: " + cogs(kind), "cogs whose curves are wanted");
  if (const auto& idler = on.layout.drivetrain.idler)
    out += "  idler: { teeth: " + std::to_string(idler->teeth) +
           ", point: " + on.layout.mechanism.point_names[static_cast<std::size_t>(idler->point)] +
           ", run: " + (idler->over ? "over" : "under") + " }\n";
  out +=
      "\n# The linkage: " + linkage + ".\n" + linkage_group(on.layout, drawing) + "\n" +
      shock_group(kind, a, frame, on.layout) +
      "\n# What the search may move, and how far: by x and y, or by distance and angle from another point. What is "
      "left out\n# stays as drawn. Narrow a range where the frame leaves less room; a single number fixes.\nvary:\n" +
      drawing.vary() + "\n";
  const auto gear = [&](int cog) { return std::to_string(kind.chainring) + "x" + std::to_string(cog); };
  out += usual_targets(kind, {a.travel,
                              a.shock.stroke,
                              shock_on_swingarm(on.layout),
                              {gear(kind.cogs[0]), gear(kind.cogs[1]), gear(kind.cogs[2])}});
  out += "\n" + packaging_group(kind, a, on.layout) +
         "\n# Beside these hold the demands that are sound by default (docs/brief.md, sound); a longer search finds "
         "better layouts.\nsearch: { seed: 1, units: 32 }\n";
  if (const brief::Reading reading = brief::read_text(out, "draft"); !reading.ok())
    throw std::runtime_error("no brief can be drafted from these answers:\n" + reading.message());
  return out;
}

}  // namespace trammel::draft
