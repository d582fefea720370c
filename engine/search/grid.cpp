#include "search/grid.hpp"

#include <algorithm>
#include <cmath>
#include <limits>
#include <optional>

namespace trammel::search {
namespace {

using How = Design::Placing::How;

/// How many steps around a point are tried when its nearest step lies out of its ranges.
constexpr int reach = 2;
/// The same for the second eye of a shock, for which few steps lie at the shock's length.
constexpr int reach_of_eyes = 12;

/// A value as a part of its variable's range; nothing outside. Rounding errors do not put it outside.
std::optional<double> part_of(const Variable& v, double value) {
  constexpr double rounding = 1e-9;
  const double part = (value - v.lo) / (v.hi - v.lo);
  if (part < -rounding || part > 1.0 + rounding) return std::nullopt;
  return std::clamp(part, 0.0, 1.0);
}

}  // namespace

Grid::Grid(const Design& design, double step) : design_(design), step_(step), in_steps_(design.point_count(), true) {
  const auto& placings = design.placings();
  for (std::size_t i = 0; i < placings.size(); ++i) {
    const Design::Placing& placing = placings[i];
    const int first = placing.first.variable, second = placing.second.variable;
    bool steps = keeps_steps(placing.from);
    if (placing.how == How::cartesian) {
      if (first >= 0) parts_.push_back({{static_cast<std::size_t>(first)}, i, 0, {{-1.0, 0.0}, {1.0, 0.0}}});
      if (second >= 0) parts_.push_back({{static_cast<std::size_t>(second)}, i, 1, {{0.0, -1.0}, {0.0, 1.0}}});
    } else if (placing.how == How::mirrored) {
      steps = steps && placing.another < 0 && keeps_steps(placing.one);
    } else if (placing.how == How::on_body) {
      steps = false;
    } else if (steps && first >= 0 && second >= 0) {
      parts_.push_back({{static_cast<std::size_t>(first), static_cast<std::size_t>(second)},
                        i,
                        -1,
                        {{-1.0, 0.0}, {1.0, 0.0}, {0.0, -1.0}, {0.0, 1.0}}});
    } else {
      steps = steps && first < 0 && second < 0 && placing.one < 0;
    }
    in_steps_[static_cast<std::size_t>(placing.point)] = steps;
  }
}

bool Grid::put(const GridPart& part, bike::Point off, int choice, std::vector<double>& x) const {
  std::vector<bike::Point> points;
  design_.place<double>(x, choice, points);
  return part.axis < 0 ? put_polar(part, off, choice, points, x) : put_coordinate(part, off, points, x);
}

bool Grid::put_coordinate(const GridPart& part, bike::Point off, const std::vector<bike::Point>& points,
                          std::vector<double>& x) const {
  const std::size_t i = part.variables.front();
  const Variable& v = design_.variables()[i];
  const auto on_axis = [&](const bike::Point& p) { return part.axis == 0 ? p.x : p.y; };
  // From a point that keeps to no steps at least the difference does.
  const int from = design_.placings()[part.placing].from;
  const double base = from >= 0 && keeps_steps(from) ? on_axis(points[static_cast<std::size_t>(from)]) : 0.0;
  const double value = (std::round((base + v.at(x[i])) / step_) + on_axis(off)) * step_;
  const double lo = std::ceil((base + v.lo) / step_) * step_, hi = std::floor((base + v.hi) / step_) * step_;
  if (!(lo <= hi)) return false;
  x[i] = std::clamp((std::clamp(value, lo, hi) - base - v.lo) / (v.hi - v.lo), 0.0, 1.0);
  return true;
}

bool Grid::put_polar(const GridPart& part, bike::Point off, int choice, const std::vector<bike::Point>& points,
                     std::vector<double>& x) const {
  const Design::Placing& placing = design_.placings()[part.placing];
  const bike::Point at = points[static_cast<std::size_t>(placing.point)];
  const bike::Point from = points[static_cast<std::size_t>(placing.from)];
  const Variable &length = design_.variables()[part.variables[0]], &angle = design_.variables()[part.variables[1]];
  const bool near = off.x == 0.0 && off.y == 0.0;
  const double base = design_.base_length(placing, choice);
  const int most = !near ? 0 : placing.shock ? reach_of_eyes : reach;
  double nearest = std::numeric_limits<double>::infinity();
  for (int i = -most; i <= most; ++i)
    for (int j = -most; j <= most; ++j) {
      const bike::Point to{(std::round(at.x / step_) + off.x + i) * step_,
                           (std::round(at.y / step_) + off.y + j) * step_};
      if (norm(to - at) >= nearest) continue;
      const bike::Point arm = to - from;
      double turn = std::atan2(arm.y, arm.x) / math::radians(1.0);
      turn += 360.0 * std::ceil((angle.lo - turn) / 360.0 - 1e-9);
      const auto far = part_of(length, norm(arm) - base), way = part_of(angle, turn);
      if (!far || !way) continue;
      nearest = norm(to - at);
      x[part.variables[0]] = *far;
      x[part.variables[1]] = *way;
    }
  return std::isfinite(nearest);
}

}  // namespace trammel::search
