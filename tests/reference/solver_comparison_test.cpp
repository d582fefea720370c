// Positions against a general geometric constraint solver, libslvs (the constraint solver of a CAD program, GPL; used
// by this test only and not linked into the program).
//
// Each linkage is given to it as bare points with distances, a point on a line and the driven condition; it knows
// nothing of members, branches or steps, and solves all equations at once by Newton's method from the positions drawn 2
// % of the stroke earlier. It stops when every equation holds to 1e-8 of its length unit (its source, from memory),
// which for lengths given in mm would be about the accuracy asked here; solving a second time from its own answer takes
// one more step and brings it to rounding.
// slvs.h needs <cstring> before it.
#include <cstring>

#include <slvs.h>

#include <array>
#include <catch2/catch.hpp>

#include "tests/support/builder.hpp"
#include "tests/support/motion.hpp"

using namespace trammel;
using linkage::DriveKind;
using linkage::Mechanism;
using test::Point;

namespace {

/// Points 1 … n in a plane; those of the frame stand in a group that is not solved.
class Sketch {
 public:
  Sketch(const Mechanism& m, const std::vector<Point>& start) : m_(m) {
    const std::array<double, 3> origin{0.0, 0.0, 0.0};
    for (double x : origin) param(still, x);
    entities_.push_back(Slvs_MakePoint3d(next_++, still, 1, 2, 3));
    double w, x, y, z;
    Slvs_MakeQuaternion(1, 0, 0, 0, 1, 0, &w, &x, &y, &z);
    const Slvs_hParam q = param(still, w);
    param(still, x), param(still, y), param(still, z);
    entities_.push_back(Slvs_MakeNormal3d(next_++, still, q, q + 1, q + 2, q + 3));
    plane_ = next_++;
    entities_.push_back(Slvs_MakeWorkplane(plane_, still, 1, 2));
    std::vector<bool> fixed(m.points.size(), false);
    for (int p : m.members[static_cast<std::size_t>(m.frame)].points) fixed[static_cast<std::size_t>(p)] = true;
    for (std::size_t i = 0; i < start.size(); ++i) {
      const Slvs_hGroup group = fixed[i] ? still : moving;
      const Slvs_hParam u = param(group, start[i].x), v = param(group, start[i].y);
      coordinates_.push_back(u);
      points_.push_back(next_);
      entities_.push_back(Slvs_MakePoint2d(next_++, group, plane_, u, v));
    }
    for (std::size_t k = 0; k < m.members.size(); ++k)
      if (static_cast<int>(k) != m.frame) add_member(m.members[k]);
    for (const linkage::Slider& s : m.sliders) {
      // The shoe's drawn offset from its rail is zero in the mechanisms tested here.
      const Slvs_hEntity line = add_line(s.along_a, s.along_b);
      constrain(SLVS_C_PT_ON_LINE, 0.0, of(s.point), 0, line);
    }
  }

  void drive(double s) {
    const linkage::Drive& d = m_.drive;
    if (d.kind == DriveKind::shock) distance(d.a, d.b, drawn(d.a, d.b) + (d.extends ? s : -s));
    if (d.kind == DriveKind::travel) {
      // The height over the frame's x axis: a line between two fixed points on it.
      const Slvs_hEntity a = fixed_point(-1000.0, 0.0), b = fixed_point(1000.0, 0.0);
      const Slvs_hEntity axis = next_++;
      entities_.push_back(Slvs_MakeLineSegment(axis, still, plane_, a, b));
      const double height = m_.points[static_cast<std::size_t>(d.point)].y + s;
      // Signed by the side of the line; libslvs counts points above a line that runs forward as negative.
      constrain(SLVS_C_PT_LINE_DISTANCE, -height, of(d.point), 0, axis);
    }
  }

  /// Returns the result code; the answer is then in `at`.
  int solve() {
    Slvs_System system{};
    system.param = params_.data();
    system.params = static_cast<int>(params_.size());
    system.entity = entities_.data();
    system.entities = static_cast<int>(entities_.size());
    system.constraint = constraints_.data();
    system.constraints = static_cast<int>(constraints_.size());
    std::vector<Slvs_hConstraint> failed(constraints_.size());
    system.failed = failed.data();
    system.faileds = static_cast<int>(failed.size());
    Slvs_Solve(&system, moving);
    return system.result;
  }

  Point at(std::size_t point) const {
    const std::size_t i = coordinates_[point] - 1;  // handles count from 1
    return {params_[i].val, params_[i + 1].val};
  }

 private:
  static constexpr Slvs_hGroup still = 1, moving = 2;

  Slvs_hEntity of(int point) const { return points_[static_cast<std::size_t>(point)]; }
  double drawn(int a, int b) const {
    return norm(m_.points[static_cast<std::size_t>(a)] - m_.points[static_cast<std::size_t>(b)]);
  }
  Slvs_hParam param(Slvs_hGroup group, double value) {
    params_.push_back(Slvs_MakeParam(static_cast<Slvs_hParam>(params_.size() + 1), group, value));
    return params_.back().h;
  }
  Slvs_hEntity fixed_point(double x, double y) {
    const Slvs_hParam u = param(still, x), v = param(still, y);
    entities_.push_back(Slvs_MakePoint2d(next_, still, plane_, u, v));
    return next_++;
  }
  Slvs_hEntity add_line(int a, int b) {
    entities_.push_back(Slvs_MakeLineSegment(next_, moving, plane_, of(a), of(b)));
    return next_++;
  }
  void constrain(int type, double value, Slvs_hEntity a, Slvs_hEntity b, Slvs_hEntity line) {
    const auto handle = static_cast<Slvs_hConstraint>(constraints_.size() + 1);
    constraints_.push_back(Slvs_MakeConstraint(handle, moving, type, plane_, value, a, b, line, 0));
  }
  void distance(int a, int b, double value) { constrain(SLVS_C_PT_PT_DISTANCE, value, of(a), of(b), 0); }
  /// A rigid body: its first two points, and each further one by its distances from both.
  void add_member(const linkage::Member& member) {
    const auto& p = member.points;
    for (std::size_t i = 1; i < p.size(); ++i) {
      distance(p[0], p[i], drawn(p[0], p[i]));
      if (i >= 2) distance(p[1], p[i], drawn(p[1], p[i]));
    }
  }

  const Mechanism& m_;
  Slvs_hEntity next_ = 1, plane_ = 0;
  std::vector<Slvs_Param> params_;
  std::vector<Slvs_Entity> entities_;
  std::vector<Slvs_Constraint> constraints_;
  std::vector<Slvs_hEntity> points_;
  std::vector<Slvs_hParam> coordinates_;
};

}  // namespace

TEST_CASE("every topology stands where a general constraint solver puts it") {
  double worst = 0.0;
  for (const auto& [name, mechanism] : test::every_topology()) {
    INFO(name);
    const double range = mechanism.drive.range;
    test::Motion motion(mechanism);
    for (double fraction : {0.1, 0.25, 0.5, 0.75, 1.0}) {
      INFO("at " << fraction << " of the stroke");
      const std::vector<Point> nearby = motion.to((fraction - 0.02) * range).state().position;
      motion.to(fraction * range);
      Sketch sketch(mechanism, nearby);
      sketch.drive(fraction * range);
      REQUIRE(sketch.solve() == SLVS_RESULT_OKAY);
      REQUIRE(sketch.solve() == SLVS_RESULT_OKAY);
      for (std::size_t p = 0; p < mechanism.points.size(); ++p) {
        INFO(mechanism.point_names[p]);
        const Point found = sketch.at(p), ours = motion.state().position[p];
        // Relative to the size of a rear suspension, 440 mm from bottom bracket to axle.
        const double error = norm(found - ours) / 440.0;
        worst = std::max(worst, error);
        CHECK(error < 1e-12);
      }
    }
  }
  UNSCOPED_INFO("greatest relative difference " << worst);
  CHECK(worst < 1e-12);
}
