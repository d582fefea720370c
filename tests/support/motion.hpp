// Moves a mechanism in a test and reads it by the names of its points and members.
#pragma once

#include <algorithm>
#include <cmath>
#include <stdexcept>
#include <string>

#include "linkage/kernel.hpp"

namespace trammel::test {

using linkage::Point;

class Motion {
 public:
  explicit Motion(const linkage::Mechanism& mechanism) : program_(linkage::compile(mechanism)) {
    state_.resize(program_);
    linkage::measure(program_, mechanism.points, geometry_, state_);
    linkage::assemble<double>(program_, geometry_, 0.0, nullptr, state_);
    derive();
  }

  /// Moves on to s in small steps from where it stands, so that a Newton block stays on its branch.
  Motion& to(double s, int steps = 40) {
    const double from = state_.s;
    for (int i = 1; i <= steps; ++i) {
      const linkage::Seed<double> seed{state_.s, state_.tears};
      const double next = i == steps ? s : from + (s - from) * i / steps;
      linkage::assemble(program_, geometry_, next, &seed, state_);
      derive();
    }
    return *this;
  }

  const linkage::Program& program() const { return program_; }
  const linkage::Geometry<double>& geometry() const { return geometry_; }
  const linkage::State<double>& state() const { return state_; }

  Point at(const std::string& point) const { return state_.position[point_index(point)]; }
  Point velocity(const std::string& point) const { return state_.velocity[point_index(point)]; }
  Point acceleration(const std::string& point) const { return state_.acceleration[point_index(point)]; }

  /// Turning rate of a member, radians per unit of s.
  double rate(const std::string& member) const {
    return linkage::turning_rate(program_, geometry_, static_cast<int>(member_index(member)), state_);
  }
  /// Second derivative of a member's turn. Along its base line d: d × a = |d|²·(angular acceleration).
  double bend(const std::string& member) const {
    const auto& points = program_.mechanism.members[member_index(member)].points;
    const auto a = static_cast<std::size_t>(points[0]), b = static_cast<std::size_t>(points[1]);
    const Point d = state_.position[b] - state_.position[a];
    return cross(d, state_.acceleration[b] - state_.acceleration[a]) / squared_norm(d);
  }
  /// Instant centre of a member against the frame, from one of its points: the point of it that stands still.
  Point centre(const std::string& member, const std::string& point) const {
    return at(point) + perp(velocity(point)) * (1.0 / rate(member));
  }
  double least_margin() const {
    double least = 1.0;
    for (double m : state_.margin) least = std::min(least, m);
    return least;
  }

 private:
  void derive() {
    linkage::velocities(program_, geometry_, state_);
    linkage::accelerations(program_, geometry_, state_);
  }
  std::size_t point_index(const std::string& name) const {
    const auto& names = program_.mechanism.point_names;
    for (std::size_t i = 0; i < names.size(); ++i)
      if (names[i] == name) return i;
    throw std::invalid_argument("no point " + name);
  }
  std::size_t member_index(const std::string& name) const {
    const auto& members = program_.mechanism.members;
    for (std::size_t i = 0; i < members.size(); ++i)
      if (members[i].name == name) return i;
    throw std::invalid_argument("no member " + name);
  }

  linkage::Program program_;
  linkage::Geometry<double> geometry_;
  linkage::State<double> state_;
};

}  // namespace trammel::test
