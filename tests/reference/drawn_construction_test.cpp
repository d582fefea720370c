// Anti-squat and anti-rise three ways: the kernel's rule on velocities, the construction on the drawing board, and the
// equilibrium of every part, over random layouts of every topology.
//
// The construction is the one of the suspension textbooks (Cossalter, Motorcycle Dynamics, ch. 6, from memory): a line
// from the rear contact through the crossing of the chain line with the line axle–instant centre (driving), or through
// the instant centre of the caliper's member (braking), read off at the vertical over the front contact as a share of
// the height of the centre of gravity.
#include <catch2/catch.hpp>
#include <random>

#include "bike/sprocket.hpp"
#include "tests/support/bikes.hpp"
#include "tests/support/force_line.hpp"

using namespace trammel;
using test::DrawnLine;
using test::Equilibrium;
using test::Point;
using test::Road;
using test::WheelLock;

namespace {

/// Lines that cross at less than this (sine), or force lines steeper than 1/this, lose too many digits to compare.
constexpr double least_crossing = 1e-4;
constexpr double agreement = 1e-9;

enum class IdlerOn { none, frame_over, frame_under, axle_member, other_member };
enum class Caliper { axle_member, any_member };

struct Tally {
  int compared = 0, skipped = 0, immovable = 0;
};

/// Draws layouts by moving every point of a topology by up to 15 mm each way.
class Draw {
 public:
  double within(double least, double greatest) {
    // Written out: the standard's distributions differ between libraries.
    return least + (greatest - least) * (static_cast<double>(generator_() >> 11) * 0x1.0p-53);
  }
  bike::Layout layout(linkage::Mechanism mechanism, IdlerOn idler, Caliper caliper) {
    for (Point& p : mechanism.points) p += Point{within(-15, 15), within(-15, 15)};
    // Half the stroke: over the whole of it a third of such layouts would come to a dead point.
    mechanism.drive.range *= 0.5;
    if (idler != IdlerOn::none) add_idler(mechanism, idler);
    bike::Layout layout = test::bike_around(mechanism);
    layout.rear_radius = within(330, 380);
    layout.front_radius = within(330, 380);
    layout.front.axle = {within(750, 850), within(10, 60)};
    layout.front.head_angle = within(62, 70);
    layout.cg.x = within(-50, 150);
    layout.cg.height = within(1000, 1200);
    layout.drivetrain.gears = {{static_cast<int>(within(28, 37)), static_cast<int>(within(10, 53))}};
    const int member = static_cast<int>(within(0.0, static_cast<double>(mechanism.members.size())));
    if (caliper == Caliper::any_member) layout.brake_member = member;
    if (idler != IdlerOn::none)
      layout.drivetrain.idler =
          bike::Idler{static_cast<int>(within(12, 20)), static_cast<int>(mechanism.points.size()) - 1,
                      idler != IdlerOn::frame_under};
    return layout;
  }

 private:
  void add_idler(linkage::Mechanism& m, IdlerOn on) {
    m.point_names.push_back("idler");
    const int point = static_cast<int>(m.points.size());
    m.points.push_back(on == IdlerOn::frame_under ? Point{within(-160, -120), within(-10, 20)}
                                                  : Point{within(-120, -60), within(110, 170)});
    int member = m.frame;
    if (on == IdlerOn::axle_member) member = test::axle_carrier(m);
    if (on == IdlerOn::other_member)
      for (std::size_t k = 0; k < m.members.size(); ++k)
        if (static_cast<int>(k) != m.frame && static_cast<int>(k) != test::axle_carrier(m))
          member = static_cast<int>(k);
    m.members[static_cast<std::size_t>(member)].points.push_back(point);
  }

  std::mt19937_64 generator_{20240607};
};

struct Drawing {
  const bike::Layout& layout;
  const std::vector<Point>& points;
  Road road;
  double height = 0.0;

  Drawing(const bike::Layout& l, const bike::Pose& pose)
      : layout(l), points(pose.points), road(axle(), pose.front_axle, l.rear_radius, l.front_radius) {
    // The centre of gravity is fixed to the frame; its height was given over the ground topped out.
    const Road drawn(l.mechanism.points[static_cast<std::size_t>(l.axle.point)], l.front.axle, l.rear_radius,
                     l.front_radius);
    const double y = (l.cg.height - dot(Point{l.cg.x, 0.0} - drawn.rear, drawn.up)) / drawn.up.y;
    height = road.height({l.cg.x, y});
  }
  Point axle() const { return points[static_cast<std::size_t>(layout.axle.point)]; }
  double share(double slope) const { return 100.0 * slope * road.wheelbase / height; }

  double cog() const { return bike::pitch_radius(layout.drivetrain.gears[0].cog); }
  double ring() const { return bike::pitch_radius(layout.drivetrain.gears[0].chainring); }
  DrawnLine first_span() const {
    const auto& idler = layout.drivetrain.idler;
    if (!idler) return test::chain_line(axle(), cog(), {0, 0}, ring());
    return test::chain_line(axle(), cog(), points[static_cast<std::size_t>(idler->point)], idler_radius());
  }
  DrawnLine second_span() const {
    const auto& idler = *layout.drivetrain.idler;
    return test::chain_line(points[static_cast<std::size_t>(idler.point)], idler_radius(), {0, 0}, ring());
  }

  /// The construction for a chain whose idler, if any, sits on the frame.
  std::optional<double> drawn_anti_squat() const {
    const auto centre = test::drawn_centre(layout.mechanism, points, layout.axle.member, least_crossing);
    if (!centre) return std::nullopt;
    const auto meeting = test::crossing(first_span(), {axle(), *centre - axle()}, least_crossing);
    if (!meeting) return std::nullopt;
    return read_off(*meeting);
  }
  std::optional<double> drawn_anti_rise() const {
    const auto centre = test::drawn_centre(layout.mechanism, points, layout.brake_member, least_crossing);
    if (!centre) return std::nullopt;
    return read_off(*centre);
  }
  /// Height of the line rear contact → p at the vertical over the front contact, against the centre of gravity's.
  std::optional<double> read_off(const Point& p) const {
    const auto over = test::crossing({road.rear, p - road.rear}, {road.front, road.up}, least_crossing);
    if (!over) return std::nullopt;
    return 100.0 * road.height(*over) / height;
  }

  Equilibrium driving() const {
    WheelLock lock;
    lock.cog = cog();
    lock.pull = first_span().direction;
    if (layout.drivetrain.idler) {
      lock.idler = layout.drivetrain.idler->point;
      lock.onward = second_span().direction;
    }
    return Equilibrium(layout.mechanism, points, layout.axle.point, road, lock);
  }
  Equilibrium braking() const {
    WheelLock lock;
    lock.caliper = layout.brake_member;
    return Equilibrium(layout.mechanism, points, layout.axle.point, road, lock);
  }

 private:
  double idler_radius() const {
    const auto& idler = *layout.drivetrain.idler;
    const double r = bike::pitch_radius(idler.teeth);
    return idler.over ? r : -r;
  }
};

bool close(double a, double b) {
  return std::abs(a - b) <= agreement * (100.0 + std::abs(a) + std::abs(b));
}

/// A force line nearly square to the ground.
bool steep(double share) {
  return !(std::abs(share) < 100.0 / least_crossing);
}

/// Goes through random layouts of every topology and hands each pose with its table row to `check`.
template <class Check>
Tally over_layouts(IdlerOn idler, Caliper caliper, int layouts, Check check) {
  Tally tally;
  Draw draw;
  for (const auto& [name, mechanism] : test::every_topology()) {
    for (int i = 0; i < layouts; ++i) {
      const bike::Layout layout = draw.layout(mechanism, idler, caliper);
      INFO(name << ", layout " << i);
      std::optional<bike::Motion> motion;
      try {
        motion = bike::trace(layout, 4, false);
      } catch (const bike::MotionFailure&) {
        ++tally.immovable;
        continue;
      }
      const auto anti_squat = test::column(motion->table, "anti_squat_pct[" + layout.drivetrain.gears[0].name() + "]");
      const auto anti_rise = test::column(motion->table, "anti_rise_pct");
      for (std::size_t s = 0; s < motion->poses.size(); ++s) {
        INFO("travel " << motion->poses[s].travel);
        check(Drawing(layout, motion->poses[s]), anti_squat[s], anti_rise[s], tally);
      }
    }
  }
  return tally;
}

void check_equal(double ours, const std::optional<double>& other, const char* what, Tally& tally) {
  if (!other || steep(*other)) {
    ++tally.skipped;
    return;
  }
  ++tally.compared;
  INFO(what << ": kernel " << ours << ", other " << *other << ", difference " << ours - *other);
  CHECK(close(ours, *other));
}

/// Few poses may be too near a singular one to compare, and few layouts unable to move.
void check_few_skipped(const Tally& tally, int layouts) {
  CAPTURE(tally.compared, tally.skipped, tally.immovable);
  CHECK(tally.compared > 3 * layouts * static_cast<int>(test::every_topology().size()));
  CHECK(tally.skipped * 50 < tally.compared);
  CHECK(tally.immovable * 10 < layouts * static_cast<int>(test::every_topology().size()));
}

}  // namespace

TEST_CASE("anti-squat is what the drawing board says, with no idler and with one on the frame") {
  for (IdlerOn idler : {IdlerOn::none, IdlerOn::frame_over, IdlerOn::frame_under}) {
    CAPTURE(static_cast<int>(idler));
    const int layouts = 60;
    const Tally tally =
        over_layouts(idler, Caliper::axle_member, layouts, [](const Drawing& d, double anti_squat, double, Tally& t) {
          check_equal(anti_squat, d.drawn_anti_squat(), "drawn anti-squat", t);
        });
    check_few_skipped(tally, layouts);
  }
}

TEST_CASE("anti-rise is what the drawing board says, with the caliper on the axle's member") {
  const int layouts = 60;
  const Tally tally = over_layouts(IdlerOn::none, Caliper::axle_member, layouts,
                                   [](const Drawing& d, double, double anti_rise, Tally& t) {
                                     check_equal(anti_rise, d.drawn_anti_rise(), "drawn anti-rise", t);
                                   });
  check_few_skipped(tally, layouts);
}

TEST_CASE("anti-squat is what the equilibrium of every part says, wherever the idler sits") {
  for (IdlerOn idler :
       {IdlerOn::none, IdlerOn::frame_over, IdlerOn::frame_under, IdlerOn::axle_member, IdlerOn::other_member}) {
    CAPTURE(static_cast<int>(idler));
    const int layouts = 25;
    const Tally tally =
        over_layouts(idler, Caliper::axle_member, layouts, [](const Drawing& d, double anti_squat, double, Tally& t) {
          const Equilibrium statics = d.driving();
          CHECK(statics.unknowns() == statics.equations());
          CHECK(statics.imbalance() < 1e-9);
          check_equal(anti_squat, d.share(statics.slope()), "equilibrium", t);
        });
    check_few_skipped(tally, layouts);
  }
}

TEST_CASE("anti-rise is what the equilibrium of every part says, whichever member carries the caliper") {
  const int layouts = 40;
  const Tally tally = over_layouts(IdlerOn::none, Caliper::any_member, layouts,
                                   [](const Drawing& d, double, double anti_rise, Tally& t) {
                                     const Equilibrium statics = d.braking();
                                     CHECK(statics.imbalance() < 1e-9);
                                     check_equal(anti_rise, d.share(statics.slope()), "equilibrium", t);
                                   });
  check_few_skipped(tally, layouts);
}
