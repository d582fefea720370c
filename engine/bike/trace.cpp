// Moves one layout in detail, for CSV, reports and drawings; a motion that stops is named with its joint and travel.
#include <cmath>
#include <cstdio>

#include "bike/sweep.hpp"
#include "bike/table.hpp"

namespace trammel::bike {
namespace {

/// Intervals in which a trace looks for dead points, whatever the number of stations asked for.
constexpr int trace_stations = 120;
/// sin² of the transmission angle under which a position counts as a dead point (0.6°).
constexpr double dead = 1e-4;
/// An instant centre farther than this, in mm, is reported as a direction.
constexpr double far_away = 1e6;

std::string number(double x, int decimals) {
  char text[64];
  std::snprintf(text, sizeof text, "%.*f", decimals, x);
  return text;
}

struct Worst {
  std::size_t joint = 0;
  double margin = 1.0;
};

Worst worst_joint(const linkage::State<double>& state) {
  Worst worst;
  for (std::size_t j = 0; j < state.margin.size(); ++j)
    if (state.margin[j] < worst.margin) worst = {j, state.margin[j]};
  return worst;
}

class Tracer {
 public:
  explicit Tracer(const Layout& layout, const std::vector<CurveKey>& named = {})
      : model_(make_model(layout)), sweep_(model_, trace_stations), wanted_(Wanted::everything(model_.circles.size())) {
    for (const CurveKey& key : named) wanted_.add(key);
    run();
  }

  const Model& model() const { return model_; }
  Sweep<double>& sweep() { return sweep_; }
  const StationValues<double>& at(double s) { return sweep_.at(s, wanted_); }

  double least_margin = 1.0, least_travel = 0.0;
  std::string least_joint;

 private:
  struct Stop {
    double s = 0.0, travel = 0.0;
    std::string joint;
    bool dead_point = false;
  };

  void run() {
    std::optional<std::size_t> failed;
    double last_travel = 0.0;
    const auto axle = static_cast<std::size_t>(model_.layout.axle.point);
    sweep_.march(model_.layout.mechanism.points, [&](std::size_t i, const linkage::State<double>& state) {
      if (failed) return;
      const Worst worst = worst_joint(state);
      if (worst.margin < dead) {
        failed = i;
        return;
      }
      last_travel = state.position[axle].y - sweep_.topped_out().axle.y;
      if (worst.margin < least_margin) {
        least_margin = worst.margin;
        least_travel = last_travel;
        least_joint = model_.program.joints[worst.joint].name;
      }
    });
    if (failed) throw MotionFailure{describe(*failed)};
    if (model_.has_shock()) refuse_turning_back();
  }

  /// Halves the interval in which the motion stops until the place is known to a micrometre.
  std::string describe(std::size_t failed) {
    if (failed == 0) return "is at a dead point as drawn, at " + joint_at(0.0, nullptr).joint;
    const March<double>& march = sweep_.stations();
    linkage::Seed<double> seed;
    march.seed_at(static_cast<double>(failed - 1), seed);
    double good = march.s[failed - 1], bad = march.s[failed];
    Stop stop = joint_at(bad, &seed);
    for (int i = 0; i < 40; ++i) {
      const double middle = 0.5 * (good + bad);
      const Stop trial = joint_at(middle, &seed);
      if (trial.dead_point) {
        stop = trial;
        bad = middle;
      } else {
        good = middle;
      }
    }
    const Stop last = joint_at(good, &seed);
    std::string text =
        "reaches a dead point at " + stop.joint + ", at " + number(last.travel, 2) + " mm of wheel travel";
    if (model_.has_shock())
      text += " (" + number(last.s, 2) + " of " + number(model_.range(), 2) + " mm of shock stroke)";
    return text + "; past it the linkage does not assemble";
  }

  Stop joint_at(double s, const linkage::Seed<double>* seed) {
    linkage::State<double> state;
    state.resize(model_.program);
    linkage::assemble(model_.program, sweep_.geometry(), s, seed, state);
    const Worst worst = worst_joint(state);
    const auto axle = static_cast<std::size_t>(model_.layout.axle.point);
    return {s, state.position[axle].y - model_.layout.mechanism.points[axle].y, model_.program.joints[worst.joint].name,
            worst.margin < dead};
  }

  /// The wheel must rise all the way as the shock compresses.
  void refuse_turning_back() const {
    const March<double>& march = sweep_.stations();
    for (std::size_t i = 0; i < march.stations(); ++i)
      if (march.slope[i] <= 0.0)
        throw MotionFailure{"the wheel stops rising at " + number(march.travel[i], 2) + " mm of travel (" +
                            number(march.s[i], 2) + " mm of shock stroke): from there the shock moves without it"};
  }

  Model model_;
  Sweep<double> sweep_;
  Wanted wanted_;
};

bool of_spring(Needs needs) {
  return needs == Needs::spring || needs == Needs::rider;
}

std::vector<Column> columns_of(const Layout& layout, bool every_curve) {
  std::vector<Column> columns;
  const auto& gears = layout.drivetrain.gears;
  const auto wanted = [&](const CurveRecord& r, Needs needs) {
    return r.needs == needs && (r.in_csv || every_curve) && has(layout, r.needs);
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
  motion.least_transmission = math::degrees(std::asin(std::sqrt(std::min(1.0, tracer.least_margin))));
  motion.least_transmission_joint = tracer.least_joint;
  motion.least_transmission_travel = tracer.least_travel;
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
