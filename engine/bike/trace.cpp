// Moves one layout in detail, for CSV, reports and drawings.
#include <algorithm>
#include <cmath>

#include "bike/table.hpp"
#include "bike/walk.hpp"
#include "math/raise.hpp"

namespace trammel::bike {
namespace {

/// An instant centre farther than this, in mm, is reported as a direction.
constexpr double far_away = 1e6;

[[noreturn]] void fail(const std::string& words) {
  math::raise(MotionFailure{words}, words);
}

class Tracer {
 public:
  explicit Tracer(const Layout& layout, const std::vector<CurveKey>& named = {})
      : model_(make_model(layout)), walk_(model_), wanted_(Wanted::everything(model_.circles.size())) {
    for (const CurveKey& key : named) wanted_.add(key);
    if (walk_.failed()) fail(why_it_stops(model_, walk_));
    if (model_.has_shock()) refuse_turning_back();
  }

  const Model& model() const { return model_; }
  const Walk& walk() const { return walk_; }
  Sweep<double>& sweep() { return walk_.sweep(); }
  const StationValues<double>& at(double s) { return sweep().at(s, wanted_); }

 private:
  /// The wheel must rise all the way as the shock compresses.
  void refuse_turning_back() {
    const StrokeSamples<double>& march = sweep().stations();
    for (std::size_t i = 0; i < march.stations(); ++i)
      if (march.slope[i] <= 0.0)
        fail("the wheel stops rising at " + fixed_text(march.travel[i], 2) + " mm of travel (" +
             fixed_text(march.s[i], 2) + " mm of shock stroke): from there the shock moves without it");
  }

  Model model_;
  Walk walk_;
  Wanted wanted_;
};

bool of_spring(Needs needs) {
  return needs == Needs::spring || needs == Needs::rider;
}

std::vector<Column> columns_of(const Layout& layout, bool every_curve) {
  std::vector<Column> columns;
  const auto& gears = layout.drivetrain.gears;
  const auto wanted = [&](const CurveRecord& r, Needs needs) {
    return r.needs == needs && (r.in_csv || every_curve) && !named_by_target({r.curve}) && has(layout, r.needs);
  };
  for (const CurveRecord& r : curve_table())
    if (r.needs != Needs::gear && !of_spring(r.needs) && wanted(r, r.needs))
      columns.push_back({{r.curve, -1}, std::string(r.column), {}});
  for (std::size_t g = 0; g < gears.size(); ++g)
    for (const CurveRecord& r : curve_table())
      if (wanted(r, Needs::gear))
        columns.push_back({{r.curve, static_cast<int>(g)}, std::string(r.column) + "[" + gears[g].name() + "]", {}});
  for (const CurveRecord& r : curve_table())
    if (of_spring(r.needs) && wanted(r, r.needs)) columns.push_back({{r.curve, -1}, std::string(r.column), {}});
  return columns;
}

/// "pivot_force_n[rocker landing]".
std::string column_name(const Layout& layout, const CurveKey& key) {
  std::string of;
  for (const int point : {key.a, key.b})
    if (point >= 0) of += (of.empty() ? "" : " ") + layout.mechanism.point_names[static_cast<std::size_t>(point)];
  if (key.load >= 0) of += " " + layout.loads.cases[static_cast<std::size_t>(key.load)].name;
  if (key.of_rider()) of = fixed_text(key.rider, key.rider == std::floor(key.rider) ? 0 : 2) + " kg";
  if (key.spacers >= 0) of += (of.empty() ? "" : " ") + std::to_string(key.spacers) + " spacers";
  if (of.empty()) return std::string(record(key.curve).column);
  return std::string(record(key.curve).column) + "[" + of + "]";
}

bool at_infinity(const StationValues<double>& values) {
  return std::abs(values.ic_bend) < 1.0 / far_away;
}

Pose pose_of(const Model& m, const Sweep<double>& sweep, const StationValues<double>& values) {
  const auto& state = sweep.state();
  const auto p = static_cast<std::size_t>(m.layout.axle.point);
  Pose pose;
  pose.shock = state.s;
  pose.travel = values[Curve::travel];
  pose.points = state.position;
  const double fork = fork_compression(m.layout.front, pose.travel, fork_rate(m.layout.front, sweep.whole_travel()));
  const Ground<double> ground = ground_at(m, state.position[p], fork);
  pose.front_axle = front_axle(m, fork);
  pose.rear_contact = ground.rear_contact;
  pose.front_contact = ground.front_contact;
  pose.ground = ground.along;
  if (!at_infinity(values)) pose.instant_centre = Point{values[Curve::ic_x], values[Curve::ic_y]};
  const Point across = perp(state.velocity[p]) * (values.ic_bend < 0.0 ? -1.0 : 1.0);
  pose.ic_direction = across * (1.0 / norm(across));
  return pose;
}

}  // namespace

bool has(const Layout& layout, Needs needs) {
  switch (needs) {
    case Needs::nothing:
      return true;
    case Needs::shock:
      return layout.shock.has_value();
    case Needs::spring:
      return layout.shock && layout.shock->spring;
    case Needs::rider:
      return layout.shock && layout.shock->spring && layout.mass;
    case Needs::coil:
      return has(layout, Needs::rider) && std::holds_alternative<spring::Coil>(layout.shock->spring->kind);
    case Needs::air:
      return has(layout, Needs::rider) && std::holds_alternative<spring::Air>(layout.shock->spring->kind);
    case Needs::landing:
      return has(layout, Needs::rider) && layout.loads.landing;
    case Needs::head_tube:
      return layout.front.head_tube.has_value();
    case Needs::seat_angle:
      return layout.seat_angle.has_value();
    case Needs::gear:
      return !layout.drivetrain.gears.empty();
    case Needs::point:
    case Needs::points:
    case Needs::pivot:
      return false;  // a target says which; a table does not have them
  }
  return false;
}

const Column* CurveTable::find(CurveKey key) const {
  for (const Column& c : columns)
    if (c.key == key) return &c;
  return nullptr;
}

Motion trace(const Layout& layout, int stations, bool every_curve, const std::vector<CurveKey>& named) {
  Tracer tracer(layout, named);
  Motion motion;
  motion.table.columns = columns_of(layout, every_curve);
  for (const CurveKey& key : named)
    if (motion.table.find(key) == nullptr) motion.table.columns.push_back({key, column_name(layout, key), {}});
  motion.least_transmission = math::degrees(std::asin(std::sqrt(std::min(1.0, tracer.walk().least_margin))));
  motion.least_transmission_joint = tracer.walk().least_joint;
  motion.least_transmission_travel = tracer.walk().least_travel;
  for (int i = 0; i < stations; ++i) {
    const double s = tracer.model().range() * i / (stations - 1);
    const StationValues<double>& values = tracer.at(s);
    motion.poses.push_back(pose_of(tracer.model(), tracer.sweep(), values));
    for (Column& c : motion.table.columns) {
      const bool centre = c.key.curve == Curve::ic_x || c.key.curve == Curve::ic_y;
      c.values.push_back(centre && at_infinity(values) ? std::nullopt
                                                       : std::optional<double>(values.at(c.key) + 0.0));  // no −0
    }
  }
  return motion;
}

Pose pose_at_travel(const Layout& layout, double travel) {
  Tracer tracer(layout);
  const double s = tracer.sweep().driving_at(travel);
  const StationValues<double>& values = tracer.at(s);
  return pose_of(tracer.model(), tracer.sweep(), values);
}

double sag_travel(const Layout& layout) {
  Tracer tracer(layout);
  if (layout.sag.of == SagOf::wheel) return layout.sag.fraction * tracer.sweep().whole_travel();
  return tracer.at(layout.sag.fraction * tracer.model().range())[Curve::travel];
}

}  // namespace trammel::bike
