// The design variables: how a point of the unit box becomes the points of a layout.
#pragma once

#include <span>
#include <string>
#include <utility>
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
  /// A coordinate: fixed, or variable number `variable`.
  struct Coordinate {
    double fixed = 0.0;
    int variable = -1;
  };
  /// How a point is placed: as in brief::Vary.
  struct Placing {
    enum class How { cartesian, polar, mirrored, on_body } how = How::cartesian;
    int point = -1;
    int from = -1;  ///< mirrored: the point that it mirrors; cartesian: −1 = the bottom bracket
    /// Polar: points whose distance is the length; mirrored: about, and through; on a body: −1, its other point.
    int one = -1, another = -1;
    bool shock = false;        ///< polar: the length is the shock's, and `first` what it is off that
    Coordinate first, second;  ///< x and y, or length and angle in degrees; on a body along and across
  };

  /// `brief` must outlive it.
  explicit Design(const brief::Brief& brief);

  int size() const { return static_cast<int>(variables_.size()); }
  const std::vector<Variable>& variables() const { return variables_; }

  /// One for each point that the brief places, after those that it needs.
  const std::vector<Placing>& placings() const { return placings_; }
  /// Of a point placed by distance and angle: what its variable's value adds to.
  double base_length(const Placing& placing, int choice) const { return placing.shock ? shock_of(choice).length : 0.0; }
  std::size_t point_count() const { return brief_->layout.mechanism.points.size(); }

  /// Shock sizes to choose from; one, the layout's own, when the brief names none. Empty without a shock.
  const std::vector<brief::ShockSize>& shocks() const { return shocks_; }
  /// Number of discrete choices, at least 1: every shock with every idler and every chainring.
  int choices() const;

  /// All points of the layout at x ∈ [0, 1]ⁿ with choice number `choice`, topped out, mm.
  template <class T>
  void place(std::span<const T> x, int choice, std::vector<math::Vec2<T>>& points) const {
    const auto& drawn = brief_->layout.mechanism.points;
    points.resize(drawn.size());
    for (std::size_t p = 0; p < drawn.size(); ++p) points[p] = math::constant<T>(drawn[p]);
    for (const Placing& placing : placings_)
      points[static_cast<std::size_t>(placing.point)] = placed(placing, x, choice, std::as_const(points));
  }

  /// The layout at x, its points on a grid of a thousandth of a millimetre: what is judged, stored and reported.
  bike::Layout layout(std::span<const double> x, int choice) const;
  /// The drawn layout with the shock of a choice: what a model of that choice is compiled from.
  bike::Layout with_choice(int choice) const;

 private:
  template <class T>
  math::Vec2<T> placed(const Placing& placing, std::span<const T> x, int choice,
                       const std::vector<math::Vec2<T>>& points) const {
    using math::max;
    const auto at = [&](int point) -> const math::Vec2<T>& { return points[static_cast<std::size_t>(point)]; };
    if (placing.how == Placing::How::mirrored) {
      const math::Vec2<T>& about = at(placing.one);
      math::Vec2<T> foot = about;
      if (placing.another >= 0) {
        // Two points on one spot are no line: the least length keeps the quotient finite.
        const math::Vec2<T> along = at(placing.another) - about;
        foot += along * T(dot(at(placing.from) - about, along) / max(squared_norm(along), T(1e-12)));
      }
      return foot + foot - at(placing.from);
    }
    const T first = value_of(placing.first, x), second = value_of(placing.second, x);
    if (placing.how == Placing::How::on_body) {
      const math::Vec2<T> base = at(placing.another) - at(placing.from);
      return at(placing.from) + base * first + perp(base) * second;
    }
    if (placing.how == Placing::How::cartesian)
      return placing.from < 0 ? math::Vec2<T>{first, second} : at(placing.from) + math::Vec2<T>{first, second};
    const T length = placing.shock      ? T(shock_of(choice).length) + first
                     : placing.one >= 0 ? T(norm(at(placing.another) - at(placing.one)))
                                        : first;
    const T angle = second * math::radians(1.0);
    return at(placing.from) + math::unit(angle) * length;
  }

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
