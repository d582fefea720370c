// The line of the tyre's force that does not move the suspension, found in two ways that share nothing with the kernel:
// by the drawing board, and by the equilibrium of every part.
#pragma once

#include <Eigen/Dense>
#include <algorithm>
#include <cmath>
#include <optional>
#include <vector>

#include "linkage/mechanism.hpp"

namespace trammel::test {

using linkage::Mechanism;
using linkage::Point;

/// Level ground under both wheels, by angles.
struct Road {
  Point along, up, rear, front;
  double wheelbase = 0.0;

  Road(const Point& rear_axle, const Point& front_axle, double rear_radius, double front_radius) {
    const Point d = front_axle - rear_axle;
    const double distance = std::hypot(d.x, d.y);
    const double angle = std::atan2(d.y, d.x) - std::asin((front_radius - rear_radius) / distance);
    along = {std::cos(angle), std::sin(angle)};
    up = {-std::sin(angle), std::cos(angle)};
    rear = rear_axle - up * rear_radius;
    front = front_axle - up * front_radius;
    wheelbase = dot(front - rear, along);
  }
  double height(const Point& p) const { return dot(p - rear, up); }
  /// Slope against the ground of the line from the rear contact through p.
  double slope(const Point& p) const { return dot(p - rear, up) / dot(p - rear, along); }
};

/// A straight line through a point.
struct DrawnLine {
  Point through, direction;
};

/// Where two lines cross; empty when they meet at less than `least` (sine of the angle).
inline std::optional<Point> crossing(const DrawnLine& a, const DrawnLine& b, double least) {
  const double sine = cross(a.direction, b.direction);
  if (std::abs(sine) < least * norm(a.direction) * norm(b.direction)) return std::nullopt;
  return a.through + a.direction * (cross(b.through - a.through, b.direction) / sine);
}

inline bool lists(const linkage::Member& member, int point) {
  return std::find(member.points.begin(), member.points.end(), point) != member.points.end();
}

/// Line of a common tangent of two circles that runs over both (negative radius: under), by angles: it leans against
/// the line of centres by asin((r1 − r2)/distance).
inline DrawnLine chain_line(const Point& from, double r1, const Point& to, double r2) {
  const Point d = to - from;
  const double angle = std::atan2(d.y, d.x) - std::asin((r1 - r2) / std::hypot(d.x, d.y));
  const Point u{std::cos(angle), std::sin(angle)};
  return {from + Point{-u.y, u.x} * r1, u};
}

/// Instant centre of a member as one draws it: its frame pivot, or the crossing of two lines, each along a link
/// between the frame and a point of the member, or at right angles to a frame rail on which a point of it slides.
inline std::optional<Point> drawn_centre(const Mechanism& m, const std::vector<Point>& p, int member, double least) {
  const auto at = [&](int i) { return p[static_cast<std::size_t>(i)]; };
  const linkage::Member& frame = m.members[static_cast<std::size_t>(m.frame)];
  std::vector<DrawnLine> lines;
  for (int q : m.members[static_cast<std::size_t>(member)].points) {
    if (lists(frame, q)) return at(q);
    for (std::size_t k = 0; k < m.members.size(); ++k) {
      if (static_cast<int>(k) == m.frame || static_cast<int>(k) == member || !lists(m.members[k], q)) continue;
      for (int r : m.members[k].points)
        if (lists(frame, r)) lines.push_back({at(q), at(q) - at(r)});
    }
    for (const linkage::Slider& s : m.sliders)
      if (s.point == q && s.member == m.frame) lines.push_back({at(q), perp(at(s.along_b) - at(s.along_a))});
  }
  if (lines.size() != 2) return std::nullopt;
  return crossing(lines[0], lines[1], least);
}

/// What turns the wheel against the frame.
struct WheelLock {
  // Driving: chain force on the cog along `pull`, at radius `cog`; an idler on `idler` (−1: none) feels pull and
  // onward.
  double cog = 0.0;
  Point pull, onward;
  int idler = -1;
  // Braking: the member with the caliper; −1 when driving.
  int caliper = -1;
};

/// Slope against the ground of the tyre's force, from the equilibrium of every moving part, pin and the wheel, with no
/// force in the shock. The force along the ground is 1; unknown are the force across it, the chain's pull or the
/// brake's torque, and the forces that every pin and shoe puts on the parts it joins.
class Equilibrium {
 public:
  Equilibrium(const Mechanism& m, const std::vector<Point>& p, int axle, const Road& road, const WheelLock& lock) {
    const auto at = [&](int i) { return p[static_cast<std::size_t>(i)]; };
    // Rows: three for every moving part (force x, y, moment about the origin), three for the wheel, two for each pin.
    std::vector<int> part(m.members.size(), -1), pin(m.points.size());
    for (std::size_t k = 0; k < m.members.size(); ++k)
      if (static_cast<int>(k) != m.frame) part[k] = take_rows(3);
    const int wheel = take_rows(3);
    for (int& row : pin) row = take_rows(2);

    across_ = unknown();
    load(wheel, across_, road.rear, road.up);
    known(wheel, road.rear, road.along);

    const int lock_unknown = unknown();
    if (lock.caliper < 0) {
      load(wheel, lock_unknown, at(axle) + perp(lock.pull) * lock.cog, lock.pull);
      if (lock.idler >= 0) entry(pin[static_cast<std::size_t>(lock.idler)], lock_unknown, lock.onward - lock.pull);
    } else {
      couple(wheel, lock_unknown, 1.0);
      const int row = part[static_cast<std::size_t>(lock.caliper)];
      if (row >= 0) couple(row, lock_unknown, -1.0);
    }

    const auto join = [&](int body, int point) {
      for (const Point& direction : {Point{1.0, 0.0}, Point{0.0, 1.0}}) {
        const int force = unknown();
        if (body >= 0) load(body, force, at(point), direction);
        entry(pin[static_cast<std::size_t>(point)], force, direction * -1.0);
      }
    };
    join(wheel, axle);
    for (std::size_t k = 0; k < m.members.size(); ++k)
      for (int q : m.members[k].points) join(part[k], q);
    for (const linkage::Slider& s : m.sliders) {
      const Point across = perp(at(s.along_b) - at(s.along_a));
      const int force = unknown();
      entry(pin[static_cast<std::size_t>(s.point)], force, across);
      const int rail = part[static_cast<std::size_t>(s.member)];
      if (rail >= 0) load(rail, force, at(s.point), across * -1.0);
    }
    solve();
  }

  double slope() const { return slope_; }
  /// Greatest imbalance left, as a share of the force along the ground: tells that the system had a solution.
  double imbalance() const { return imbalance_; }
  int unknowns() const { return columns_; }
  int equations() const { return rows_; }

 private:
  struct Entry {
    int row, column;
    double value;
  };

  int take_rows(int n) {
    rows_ += n;
    return rows_ - n;
  }
  int unknown() { return columns_++; }
  void entry(int row, int column, const Point& force) {
    entries_.push_back({row, column, force.x});
    entries_.push_back({row + 1, column, force.y});
  }
  // Moments in units of 100 mm, so that all rows are of like size.
  void couple(int body, int column, double value) { entries_.push_back({body + 2, column, value}); }
  void load(int body, int column, const Point& at, const Point& force) {
    entry(body, column, force);
    couple(body, column, 0.01 * cross(at, force));
  }
  void known(int body, const Point& at, const Point& force) {
    given_.push_back({body, 0, force.x});
    given_.push_back({body + 1, 0, force.y});
    given_.push_back({body + 2, 0, 0.01 * cross(at, force)});
  }
  void solve() {
    Eigen::MatrixXd matrix = Eigen::MatrixXd::Zero(rows_, columns_);
    Eigen::VectorXd right = Eigen::VectorXd::Zero(rows_);
    for (const Entry& e : entries_) matrix(e.row, e.column) += e.value;
    for (const Entry& e : given_) right(e.row) -= e.value;
    const Eigen::VectorXd found = matrix.fullPivHouseholderQr().solve(right);
    imbalance_ = (matrix * found - right).cwiseAbs().maxCoeff();
    slope_ = found(across_);
  }

  int rows_ = 0, columns_ = 0, across_ = -1;
  std::vector<Entry> entries_, given_;
  double slope_ = 0.0, imbalance_ = 0.0;
};

}  // namespace trammel::test
