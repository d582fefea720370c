// A layout and what is asked of it as bytes: written into a layout's page by the report, read there by the kernel.
//
// One list of fields serves both ways, so that they cannot come apart. Numbers are eight bytes each, as they are in
// memory (little-endian, IEEE 754), letters one: both sides are of the same build.
#pragma once

#include <cstdint>
#include <cstring>
#include <string>
#include <string_view>
#include <type_traits>
#include <utility>
#include <variant>

#include "bike/cases.hpp"
#include "brief/brief.hpp"
#include "objectives/packaging.hpp"
#include "objectives/target.hpp"

namespace trammel::report::record {

/// Appends to `bytes`.
struct Writer {
  static constexpr bool reads = false;
  std::string bytes = {};
  void number(double& x) {
    char raw[sizeof x];
    std::memcpy(raw, &x, sizeof x);
    bytes.append(raw, sizeof x);
  }
  void letters(std::string& x) { bytes += x; }
};

/// Takes from `bytes`, which a Writer wrote.
struct Reader {
  static constexpr bool reads = true;
  std::string_view bytes;
  void number(double& x) {
    std::memcpy(&x, bytes.data(), sizeof x);
    bytes.remove_prefix(sizeof x);
  }
  void letters(std::string& x) {
    std::memcpy(x.data(), bytes.data(), x.size());
    bytes.remove_prefix(x.size());
  }
};

template <class A, class T>
requires(std::is_arithmetic_v<T> || std::is_enum_v<T>) void field(A& a, T& x) {
  double number = static_cast<double>(x);
  a.number(number);
  if constexpr (A::reads) x = static_cast<T>(static_cast<std::conditional_t<std::is_enum_v<T>, int, T>>(number));
}

template <class A>
std::size_t count(A& a, std::size_t n) {
  double number = static_cast<double>(n);
  a.number(number);
  return static_cast<std::size_t>(number);
}

template <class A>
void field(A& a, std::string& x) {
  x.resize(count(a, x.size()));
  a.letters(x);
}
template <class A, class T, class U>
void field(A& a, std::pair<T, U>& x);
template <class A, class T>
void field(A& a, std::optional<T>& x);
template <class A, class T>
void field(A& a, std::vector<T>& x);
template <class A>
void field(A& a, spring::Table& x);
template <class A, class... T>
void fields(A& a, T&... x) {
  (field(a, x), ...);
}

// clang-format off
template <class A> void field(A& a, linkage::Point& x) { fields(a, x.x, x.y); }
template <class A> void field(A& a, linkage::Member& x) { fields(a, x.name, x.points); }
template <class A> void field(A& a, linkage::Slider& x) { fields(a, x.point, x.member, x.along_a, x.along_b); }
template <class A> void field(A& a, linkage::Drive& x) { fields(a, x.kind, x.a, x.b, x.extends, x.point, x.member, x.range); }
template <class A> void field(A& a, linkage::Mechanism& x) {
  fields(a, x.point_names, x.points, x.members, x.frame, x.sliders, x.through_line, x.drive);
}
template <class A> void field(A& a, spring::Coil& x) { fields(a, x.rate, x.preload); }
template <class A> void field(A& a, spring::Air& x) {
  fields(a, x.bore, x.shaft, x.positive, x.negative, x.transfer, x.pressure, x.spacer, x.spacers, x.exponent);
}
template <class A> void field(A& a, spring::BumpStop& x) { fields(a, x.length, x.force); }
template <class A> void field(A& a, spring::Spring& x) {
  std::size_t kind = count(a, x.kind.index());
  if constexpr (A::reads) {
    if (kind == 1) x.kind = spring::Air{};
    if (kind == 2) x.kind = spring::Table{};
  }
  std::visit([&](auto& own) { field(a, own); }, x.kind);
  fields(a, x.bump_stop, x.breakaway, x.stroke);
}
template <class A> void field(A& a, bike::HeadTube& x) { fields(a, x.top, x.length); }
template <class A> void field(A& a, bike::Front& x) {
  fields(a, x.axle, x.head_angle, x.travel, x.follows, x.sag, x.head_tube);
}
template <class A> void field(A& a, bike::CentreOfGravity& x) { fields(a, x.x, x.height, x.follows); }
template <class A> void field(A& a, bike::Masses& x) { fields(a, x.rider, x.bike, x.rear_unsprung, x.front_unsprung); }
template <class A> void field(A& a, bike::Idler& x) { fields(a, x.teeth, x.point, x.over); }
template <class A> void field(A& a, bike::Gear& x) { fields(a, x.chainring, x.cog, x.any_ring); }
template <class A> void field(A& a, bike::Drivetrain& x) { fields(a, x.gears, x.idler, x.roller, x.cassette, x.clear_of); }
template <class A> void field(A& a, bike::Carrier& x) { fields(a, x.point, x.member); }
template <class A> void field(A& a, bike::Shock& x) { fields(a, x.length, x.stroke, x.spring); }
template <class A> void field(A& a, bike::Sag& x) { fields(a, x.fraction, x.of); }
template <class A> void field(A& a, bike::LoadCase& x) { fields(a, x.name, x.vertical, x.braking, x.driving, x.gear); }
template <class A> void field(A& a, bike::Loads& x) { fields(a, x.landing, x.cases); }
template <class A> void field(A& a, bike::SetUpRange& x) {
  fields(a, x.riders, x.coil_rates, x.pressures, x.most_spacers, x.sag_tolerance);
}
template <class A> void field(A& a, bike::Setting& x) { fields(a, x.name, x.moves, x.shock, x.rear_radius); }
template <class A> void field(A& a, bike::Size& x) { fields(a, x.name, x.front, x.chainstay, x.riders, x.cg); }
template <class A> void field(A& a, bike::Layout& x) {
  fields(a, x.title, x.rear_radius, x.front_radius, x.front, x.cg, x.mass, x.drivetrain, x.mechanism, x.reading, x.axle,
         x.brake_member, x.shock, x.sag, x.seat_angle, x.loads, x.set_up, x.settings, x.sizes, x.kind);
}
template <class A> void field(A& a, bike::CurveKey& x) { fields(a, x.curve, x.gear, x.a, x.b, x.load, x.rider, x.spacers); }
template <class A> void field(A& a, objectives::Station& x) { fields(a, x.kind, x.amount); }
template <class A> void field(A& a, objectives::Stretch& x) { fields(a, x.from, x.to); }
template <class A> void field(A& a, objectives::Wish& x) { fields(a, x.kind, x.lo, x.hi, x.path); }
template <class A> void field(A& a, objectives::Between& x) { fields(a, x.of, x.first, x.second); }
template <class A> void field(A& a, objectives::Relative& x) { fields(a, x.of, x.times, x.plus, x.found, x.in); }
template <class A> void field(A& a, objectives::Target& x) {
  fields(a, x.name, x.curve, x.measure, x.at, x.to, x.over, x.wish, x.tolerance, x.weight, x.must, x.in, x.gears,
         x.crosses, x.path, x.origin, x.relative, x.between);
}
template <class A> void field(A& a, objectives::Interval& x) { fields(a, x.lo, x.hi); }
template <class A> void field(A& a, objectives::Box& x) { fields(a, x.point, x.x, x.y); }
template <class A> void field(A& a, objectives::LengthRule& x) { fields(a, x.from, x.to, x.least, x.greatest); }
template <class A> void field(A& a, bike::Spot& x) { fields(a, x.point, x.member, x.at); }
template <class A> void field(A& a, bike::Body& x) {
  fields(a, x.name, x.kind, x.spots, x.diameter, x.ends, x.eye, x.length, x.shaft, x.gear);
}
template <class A> void field(A& a, objectives::Clearance& x) { fields(a, x.of, x.to, x.least, x.origin); }
template <class A> void field(A& a, objectives::KeepIn& x) { fields(a, x.point, x.corners, x.least); }
/// Without `sensitivity`, which needs slopes: a page does not follow that rule.
template <class A> void field(A& a, objectives::Packaging& x) {
  fields(a, x.boxes, x.least_pivot_distance, x.pivot_distance_origin, x.least_transmission_angle,
         x.transmission_angle_origin, x.tyre_clearance, x.shock_clearance, x.bodies, x.clearances, x.keep_in,
         x.lengths);
}
template <class A> void field(A& a, brief::Range& x) { fields(a, x.lo, x.hi); }
template <class A> void field(A& a, brief::Cartesian& x) { fields(a, x.x, x.y, x.from); }
template <class A> void field(A& a, brief::Polar& x) {
  fields(a, x.from, x.length, x.length_is_shock, x.as_long_as, x.angle);
}
template <class A> void field(A& a, brief::Mirrored& x) { fields(a, x.of, x.about, x.through); }
template <class A> void field(A& a, brief::OnBody& x) { fields(a, x.a, x.b, x.along, x.across); }
template <class A> void field(A& a, brief::Vary& x) {
  std::size_t kind = count(a, x.place.index());
  if constexpr (A::reads) {
    if (kind == 1) x.place = brief::Polar{};
    if (kind == 2) x.place = brief::Mirrored{};
    if (kind == 3) x.place = brief::OnBody{};
  }
  std::visit([&](auto& own) { field(a, own); }, x.place);
  fields(a, x.point, x.follows);
}
// clang-format on

template <class A, class T, class U>
void field(A& a, std::pair<T, U>& x) {
  fields(a, x.first, x.second);
}
template <class A, class T>
void field(A& a, std::optional<T>& x) {
  bool there = x.has_value();
  field(a, there);
  if constexpr (A::reads) {
    if (there) x.emplace();
  }
  if (there) field(a, *x);
}
template <class A, class T>
void field(A& a, std::vector<T>& x) {
  x.resize(count(a, x.size()));
  for (T& one : x) field(a, one);
}
template <class A>
void field(A& a, spring::Table& x) {
  std::vector<spring::Table::Point> points = x.points();
  field(a, points);
  if constexpr (A::reads) x = spring::Table(std::move(points));
}

/// One case of the layout, and of the targets those that hold in it; see search::CaseSetup.
struct CaseTask {
  bike::Case which;
  std::string name;
  std::vector<objectives::Target> targets;
  std::vector<std::size_t> numbers;  ///< in the task
};
/// What a brief that goes on from a layout needs: how the one that it is of places its points, and where it draws them.
struct Placing {
  std::vector<brief::Vary> vary;
  std::vector<std::string> names;
  std::vector<bike::Point> drawn;
};
/// A layout as drawn, with its settings and sizes, and what is asked of it.
struct Task {
  bike::Layout layout;
  std::vector<objectives::Target> targets;
  objectives::Packaging packaging;
  std::vector<CaseTask> cases;        ///< none = nothing is judged
  std::vector<bike::CurveKey> shown;  ///< the curves of a page, in its order
  Placing placing;
};
template <class A>
void field(A& a, CaseTask& x) {
  fields(a, x.which.setting, x.which.size, x.name, x.targets, x.numbers);
}
template <class A>
void field(A& a, Placing& x) {
  fields(a, x.vary, x.names, x.drawn);
}
template <class A>
void field(A& a, Task& x) {
  fields(a, x.layout, x.targets, x.packaging, x.cases, x.shown, x.placing);
}

inline std::string written(Task task) {
  Writer writer;
  field(writer, task);
  return std::move(writer.bytes);
}

inline Task read(std::string_view bytes) {
  Reader reader{bytes};
  Task task;
  field(reader, task);
  return task;
}

}  // namespace trammel::report::record
