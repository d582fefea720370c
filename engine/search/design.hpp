// The design variables: how a point of the unit box becomes the points of a layout.
#pragma once

#include <algorithm>
#include <span>
#include <string>
#include <vector>

#include "brief/brief.hpp"
#include "math/vec2.hpp"

namespace trammel::search {

/// One number that the search moves.
struct Variable {
  std::string name;  ///< e.g. "main.x", "eye.length", "eye.angle"
  std::string unit;  ///< mm or °
  double lo = 0.0;
  double hi = 0.0;

  /// Its value at x in [0, 1].
  template <class T>
  T at(const T& x) const {
    return x * (hi - lo) + lo;
  }
};

class Design {
 public:
  /// `brief` must outlive it.
  explicit Design(const brief::Brief& brief);

  int size() const { return static_cast<int>(variables_.size()); }
  const std::vector<Variable>& variables() const { return variables_; }

  /// Shock sizes to choose from; one, the layout's own, when the brief names none. Empty without a shock.
  const std::vector<brief::ShockSize>& shocks() const { return shocks_; }
  /// Number of discrete choices, at least 1: every shock with every idler.
  int choices() const {
    const std::size_t shocks = std::max<std::size_t>(shocks_.size(), 1);
    return static_cast<int>(shocks * std::max<std::size_t>(brief_->idlers.size(), 1));
  }

  /// All points of the layout at x ∈ [0, 1]ⁿ with choice number `choice`, topped out, mm.
  template <class T>
  void place(std::span<const T> x, int choice, std::vector<math::Vec2<T>>& points) const {
    const auto& drawn = brief_->layout.mechanism.points;
    points.resize(drawn.size());
    for (std::size_t p = 0; p < drawn.size(); ++p) points[p] = math::constant<T>(drawn[p]);
    for (const Placing& placing : placings_) {
      math::Vec2<T>& point = points[static_cast<std::size_t>(placing.point)];
      const T first = value_of(placing.first, x), second = value_of(placing.second, x);
      if (placing.from < 0) {
        point = {first, second};
        continue;
      }
      const T length = placing.shock ? T(shock_of(choice).length) : first;
      const T angle = second * math::radians(1.0);
      using math::cos;
      using math::sin;
      point = points[static_cast<std::size_t>(placing.from)] + math::Vec2<T>{cos(angle), sin(angle)} * length;
    }
  }

  /// The layout at x, its points on a grid of a thousandth of a millimetre: what is judged, stored and reported.
  bike::Layout layout(std::span<const double> x, int choice) const;
  /// The drawn layout with the shock of a choice: what a model of that choice is compiled from.
  bike::Layout with_choice(int choice) const;

 private:
  /// A coordinate: fixed, or variable number `variable`.
  struct Coordinate {
    double fixed = 0.0;
    int variable = -1;
  };
  struct Placing {
    int point = -1;
    int from = -1;  ///< ≥ 0: first is a length, second an angle in degrees
    bool shock = false;
    Coordinate first, second;
  };

  template <class T>
  T value_of(const Coordinate& c, std::span<const T> x) const {
    if (c.variable < 0) return T(c.fixed);
    return variables_[static_cast<std::size_t>(c.variable)].at(x[static_cast<std::size_t>(c.variable)]);
  }
  const brief::ShockSize& shock_of(int choice) const {
    return shocks_[static_cast<std::size_t>(choice) % shocks_.size()];
  }
  Coordinate coordinate(const brief::Range& range, const std::string& name, const std::string& unit);

  const brief::Brief* brief_;
  std::vector<Variable> variables_;
  std::vector<Placing> placings_;
  std::vector<brief::ShockSize> shocks_;
};

/// Root-mean-square distance of two designs over their n variables, 0 … 1.
double distance(std::span<const double> a, std::span<const double> b);

}  // namespace trammel::search
