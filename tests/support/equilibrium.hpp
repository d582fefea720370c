// Forces in a linkage at rest by a way of its own: the equilibrium of every moving member, all at once, by elimination
// in Eigen. It knows points and members only, nothing of assembly programs or velocities.
//
// Two forces and one moment a member (Norton, Design of Machinery, ch. 11, with the accelerations left out; from
// memory).
#pragma once

#include <Eigen/Dense>
#include <algorithm>
#include <vector>

#include "linkage/mechanism.hpp"

namespace trammel::test {

using linkage::Drive;
using linkage::DriveKind;
using linkage::Mechanism;
using linkage::Point;
using linkage::Slider;

/// Outside forces at one position.
struct OutsideLoads {
  std::vector<Point> forces;    ///< one a point, N, on the pin there
  std::vector<double> couples;  ///< one a member, N·mm, counter-clockwise
};

/// The force that a pin puts on one of the members that it joins, N, in the axes of the positions.
struct PinForce {
  int point = -1;
  int member = -1;
  Point force;
};

struct Equilibrium {
  std::vector<PinForce> pins;  ///< every point of every member
  std::vector<double> shoes;   ///< one a slider: of the rail on the sliding point, N, along perp(b − a)
  double drive = 0.0;          ///< see linkage::Forces
  /// Largest force or moment per 100 mm left unbalanced, as a share of the outside forces; large at a dead point.
  double imbalance = 0.0;
};

namespace detail {

/// Moments are counted per so many mm, so that all equations are of like size.
inline constexpr double arm = 100.0;

inline std::size_t index(int i) {
  return static_cast<std::size_t>(i);
}

/// A force that depends on the unknowns: a fixed part and multiples of some of them.
struct Linear {
  struct Term {
    int unknown;
    Point of;
  };
  Point fixed{0.0, 0.0};
  std::vector<Term> terms;

  void add(const Linear& other, double factor) {
    fixed += other.fixed * factor;
    for (const Term& t : other.terms) terms.push_back({t.unknown, t.of * factor});
  }
  Point at(const Eigen::VectorXd& x) const {
    Point sum = fixed;
    for (const Term& t : terms) sum += t.of * x(t.unknown);
    return sum;
  }
};

class System {
 public:
  System(const Mechanism& m, const std::vector<Point>& position, const OutsideLoads& loads)
      : m_(m), position_(position), loads_(loads), on_pin_(m.points.size()) {
    rows_.assign(m.members.size(), -1);
    for (std::size_t k = 0; k < m.members.size(); ++k)
      if (static_cast<int>(k) != m.frame) rows_[k] = equations_++ * 3;
    for (std::size_t p = 0; p < m.points.size(); ++p) put_on_pin(static_cast<int>(p), {loads.forces[p], {}});
    for (const Slider& s : m.sliders) {
      shoes_.push_back(unknowns_++);
      put_on_pin(s.point, {{}, {{shoes_.back(), across(s)}}});
    }
    drive_ = unknowns_++;
    drive_on_pins();
    for (int p = 0; p < static_cast<int>(m.points.size()); ++p) join(p);
  }

  Equilibrium solve() {
    const Eigen::Index size = 3 * static_cast<Eigen::Index>(equations_);
    Eigen::MatrixXd matrix = Eigen::MatrixXd::Zero(size, unknowns_);
    Eigen::VectorXd right = Eigen::VectorXd::Zero(size);
    const auto load = [&](int row, const Point& at, const Linear& force) {
      if (row < 0) return;
      const auto entry = [&](int line, const Point& of, double factor, int unknown) {
        const double value = line == 0 ? of.x : line == 1 ? of.y : cross(at, of) / arm;
        if (unknown < 0) {
          right(row + line) -= value * factor;
        } else {
          matrix(row + line, unknown) += value * factor;
        }
      };
      for (int line = 0; line < 3; ++line) {
        entry(line, force.fixed, 1.0, -1);
        for (const Linear::Term& t : force.terms) entry(line, t.of, 1.0, t.unknown);
      }
    };
    for (const Pin& pin : pins_) load(rows_[index(pin.member)], position_[index(pin.point)], pin.force);
    for (std::size_t i = 0; i < shoes_.size(); ++i) {
      const Slider& s = m_.sliders[i];
      load(rows_[index(s.member)], position_[index(s.point)], {{}, {{shoes_[i], -across(s)}}});
    }
    for (std::size_t k = 0; k < rows_.size(); ++k)
      if (rows_[k] >= 0) right(rows_[k] + 2) -= loads_.couples[k] / arm;
    if (m_.drive.kind == DriveKind::turn) matrix(rows_[index(m_.drive.member)] + 2, drive_) -= 1.0 / arm;

    const Eigen::VectorXd x = matrix.fullPivLu().solve(right);
    Equilibrium out;
    for (const Pin& pin : pins_) out.pins.push_back({pin.point, pin.member, pin.force.at(x)});
    for (const int unknown : shoes_) out.shoes.push_back(x(unknown));
    out.drive = x(drive_);
    const double scale = std::max(right.size() > 0 ? right.cwiseAbs().maxCoeff() : 0.0, 1e-9);
    out.imbalance = (matrix * x - right).cwiseAbs().maxCoeff() / scale;
    return out;
  }

 private:
  /// What a pin puts on a member.
  struct Pin {
    int point;
    int member;
    Linear force;
  };

  Point across(const Slider& s) const {
    const Point d = position_[index(s.along_b)] - position_[index(s.along_a)];
    return perp(d) * (1.0 / norm(d));
  }

  void put_on_pin(int point, const Linear& force) { on_pin_[index(point)].add(force, 1.0); }

  /// A held drive pushes against the motion that s stands for.
  void drive_on_pins() {
    const Drive& d = m_.drive;
    if (d.kind == DriveKind::travel) put_on_pin(d.point, {{}, {{drive_, {0.0, -1.0}}}});
    if (d.kind != DriveKind::shock) return;
    const Point apart = position_[index(d.b)] - position_[index(d.a)];
    const Point u = apart * ((d.extends ? -1.0 : 1.0) / norm(apart));
    put_on_pin(d.a, {{}, {{drive_, -u}}});
    put_on_pin(d.b, {{}, {{drive_, u}}});
  }

  /// All members at a point but one carry an unknown force there; the one left, the frame if it is among them, takes
  /// what the pin's own equilibrium leaves.
  void join(int point) {
    std::vector<int> members;
    for (std::size_t k = 0; k < m_.members.size(); ++k) {
      const auto& points = m_.members[k].points;
      if (std::find(points.begin(), points.end(), point) != points.end()) members.push_back(static_cast<int>(k));
    }
    if (members.empty()) return;
    const auto frame = std::find(members.begin(), members.end(), m_.frame);
    if (frame != members.end()) std::iter_swap(members.begin(), frame);
    Linear left = on_pin_[index(point)];
    for (std::size_t i = 1; i < members.size(); ++i) {
      const Linear force{{}, {{unknowns_, {1.0, 0.0}}, {unknowns_ + 1, {0.0, 1.0}}}};
      unknowns_ += 2;
      pins_.push_back({point, members[i], force});
      left.add(force, -1.0);
    }
    pins_.push_back({point, members[0], left});
  }

  const Mechanism& m_;
  const std::vector<Point>& position_;
  const OutsideLoads& loads_;
  std::vector<Linear> on_pin_;  ///< one a point: outside forces, shoes and the drive
  std::vector<Pin> pins_;
  std::vector<int> rows_;  ///< one a member: its first equation; −1 for the frame
  std::vector<int> shoes_;
  int drive_ = -1, unknowns_ = 0, equations_ = 0;
};

}  // namespace detail

/// `position` holds all points at an assembled position, mm.
inline Equilibrium equilibrium(const Mechanism& mechanism, const std::vector<Point>& position,
                               const OutsideLoads& loads) {
  return detail::System(mechanism, position, loads).solve();
}

}  // namespace trammel::test
