// The room between bodies: their outlines at a position of the linkage, and how far they are apart.
#pragma once

#include <array>
#include <string>
#include <vector>

#include "bike/bodies.hpp"
#include "bike/model.hpp"
#include "math/moving_distance.hpp"

namespace trammel::bike {

using math::Segment;

/// Two bodies whose distance is watched.
struct Gap {
  int body = -1;
  int other = -1;
  double least = 0.0;  ///< mm
};

/// A point that is to stay inside a polygon of the frame.
struct KeptIn {
  int point = -1;
  std::vector<linkage::Point> corners;  ///< frame axes, mm
  double least = 0.0;                   ///< from the border, mm
};

/// Bodies and gaps made ready for one model: shared by all tasks, never changed.
class Room {
 public:
  Room() = default;
  /// `model` need not outlive it.
  Room(const Model& model, const std::vector<Body>& bodies, const std::vector<Gap>& gaps,
       const std::vector<KeptIn>& kept_in);

  /// Gaps first, then the points kept in.
  std::size_t measures() const { return gaps_.size() + kept_in_.size(); }
  double least(std::size_t measure) const {
    return measure < gaps_.size() ? gaps_[measure].least : kept_in_[measure - gaps_.size()].least;
  }
  const std::vector<Gap>& gaps() const { return gaps_; }
  const std::vector<KeptIn>& kept_in() const { return kept_in_; }

  /// A body's part: a segment with a thickness around it. Of no length when it is a circle.
  struct Piece {
    int from = 0, to = 0;  ///< numbers of corners
    double radius = 0.0;   ///< mm
  };
  struct Shape {
    std::vector<Piece> pieces;
    bool solid = false;  ///< its pieces are the sides of a polygon
  };
  const std::vector<Shape>& shapes() const { return shapes_; }
  /// Numbers of the corners of the two that a measure is about: of the first and of the other, which a polygon that a
  /// point is kept in has none of.
  std::array<std::vector<int>, 2> corners_of(std::size_t measure) const;

  /// Another radius of the rear tyre, mm: of a frame that is built with one.
  void set_tyre(double radius) {
    for (const int body : tyres_) shapes_[static_cast<std::size_t>(body)].pieces.front().radius = radius;
  }

  /// How many corners are carried by moving members, by a ratio each (see `measure`).
  std::size_t carried() const { return carried_.size(); }
  std::size_t corners() const { return corners_.size(); }

  /// Where on their members the carried corners are: each as a complex multiple of its member's base. `points` as
  /// drawn.
  template <class T>
  void measure(const std::vector<Vec2<T>>& points, std::vector<Vec2<T>>& ratios) const {
    ratios.resize(carried_.size());
    for (std::size_t i = 0; i < carried_.size(); ++i) {
      const Carried& c = carried_[i];
      const Vec2<T> base = points[c.b] - points[c.a];
      const T size = math::max(squared_norm(base), T(math::detail::least_square));
      ratios[i] = turn_back(math::constant<T>(c.at) - points[c.a], base) * (T(1.0) / size);
    }
  }

  /// All corners at a position of the linkage, mm.
  template <class T>
  void outline(const std::vector<Vec2<T>>& position, const std::vector<Vec2<T>>& ratios,
               std::vector<Vec2<T>>& out) const {
    out.resize(corners_.size());
    for (std::size_t i = 0; i < corners_.size(); ++i) out[i] = corner(corners_[i], position, ratios);
  }

  /// What measure number k is at corners from `outline`, mm: of a gap the distance, negative where the bodies overlap;
  /// of a point kept in its distance inside the border, negative outside.
  template <class T>
  T measured(std::size_t k, const std::vector<Vec2<T>>& position, const std::vector<Vec2<T>>& corners) const {
    if (k >= gaps_.size()) {
      const KeptIn& kept = kept_in_[k - gaps_.size()];
      const auto side = [&](std::size_t i) {
        const auto corner = [&](std::size_t at) { return math::constant<T>(kept.corners[at % kept.corners.size()]); };
        return Segment<T>{corner(i), corner(i + 1)};
      };
      return -math::distance_outside(position[static_cast<std::size_t>(kept.point)], kept.corners.size(), side);
    }
    return distance(shapes_[static_cast<std::size_t>(gaps_[k].body)], shapes_[static_cast<std::size_t>(gaps_[k].other)],
                    corners);
  }

  /// A lower bound of measure number k while all corners go straight and evenly from one place to another, mm, if each
  /// of the two leaves its straight way by `aside` in all at most. Minus infinity where they may touch on the way.
  double least_between(std::size_t k, const std::vector<linkage::Point>& from, const std::vector<linkage::Point>& to,
                       double aside) const;

 private:
  enum class CornerKind { still, point, carried, along, span_start, span_end };
  struct Corner {
    CornerKind kind = CornerKind::still;
    linkage::Point at;         ///< still: frame axes
    std::size_t a = 0, b = 0;  ///< point: a; carried: a is its ratio; along: from a towards b; span: a is its number
    double length = 0.0;       ///< along: how far, mm
    ChainCircles circles;      ///< span
    std::size_t idler = 0;     ///< span: the idler's point
  };
  struct Carried {
    std::size_t a = 0, b = 0;  ///< its member's base
    linkage::Point at;         ///< topped out, frame axes
  };

  int add(Corner corner);
  int add(const Model& model, const Spot& spot);
  Shape shape_of(const Model& model, const Body& body);

  template <class T>
  Vec2<T> corner(const Corner& c, const std::vector<Vec2<T>>& position, const std::vector<Vec2<T>>& ratios) const {
    switch (c.kind) {
      case CornerKind::still:
        return math::constant<T>(c.at);
      case CornerKind::point:
        return position[c.a];
      case CornerKind::carried: {
        const Carried& on = carried_[c.a];
        return position[on.a] + turn(position[on.b] - position[on.a], ratios[c.a]);
      }
      case CornerKind::along: {
        const Vec2<T> towards = position[c.b] - position[c.a];
        return position[c.a] + towards * (T(c.length) / math::detail::guarded_root(squared_norm(towards)));
      }
      case CornerKind::span_start:
      case CornerKind::span_end:
        break;
    }
    const Vec2<T> axle = position[axle_], none{T(0.0), T(0.0)};
    const Vec2<T> idler = c.circles.has_idler ? position[c.idler] : none;
    const Span<T> span = chain_run(c.circles, axle, idler).spans[c.a];
    const Vec2<T> centre = c.a == 0 ? axle : idler;
    const double radius = c.a == 0 ? c.circles.cog : c.circles.idler;
    const Vec2<T> start = centre + perp(span.along) * T(radius);
    return c.kind == CornerKind::span_start ? start : start + span.along * span.length;
  }

  static double least_between(const Piece& p, const Piece& q, const std::vector<linkage::Point>& from,
                              const std::vector<linkage::Point>& to);

  template <class T>
  static Segment<T> segment(const Piece& piece, const std::vector<Vec2<T>>& corners) {
    return {corners[static_cast<std::size_t>(piece.from)], corners[static_cast<std::size_t>(piece.to)]};
  }

  /// The distance of a shape's pieces of which an end lies inside a polygon: how deep, and its thickness besides; 1e9
  /// where none does.
  template <class T>
  static T distance_inside(const Shape& shape, const Shape& polygon, const std::vector<Vec2<T>>& corners) {
    T nearest(1e9);
    for (const Piece& piece : shape.pieces) {
      const Segment<T> s = segment(piece, corners);
      const auto outside = [&](const Vec2<T>& end) {
        return math::distance_outside(end, polygon.pieces.size(),
                                      [&](std::size_t i) { return segment(polygon.pieces[i], corners); });
      };
      T deepest = outside(s.from);
      // A polygon's corners are all starts of its sides.
      if (piece.from != piece.to && !shape.solid) deepest = math::min(deepest, outside(s.to));
      nearest = math::min(nearest, T(math::select(deepest < T(0.0), deepest - T(piece.radius), T(1e9))));
    }
    return nearest;
  }

  template <class T>
  static T distance(const Shape& one, const Shape& two, const std::vector<Vec2<T>>& corners) {
    T nearest(1e9);
    for (const Piece& p : one.pieces)
      for (const Piece& q : two.pieces) nearest = math::min(nearest, distance(p, q, corners));
    if (two.solid) nearest = math::min(nearest, distance_inside(one, two, corners));
    if (one.solid) nearest = math::min(nearest, distance_inside(two, one, corners));
    return nearest;
  }

  template <class T>
  static T distance(const Piece& p, const Piece& q, const std::vector<Vec2<T>>& corners) {
    using math::detail::guarded_root;
    const Segment<T> s = segment(p, corners), t = segment(q, corners);
    const T both(p.radius + q.radius);
    if (p.from == p.to && q.from == q.to) return guarded_root(squared_norm(s.from - t.from)) - both;
    if (p.from == p.to) return guarded_root(math::squared_distance(s.from, t)) - both;
    if (q.from == q.to) return guarded_root(math::squared_distance(t.from, s)) - both;
    const T depth = math::crossing_depth(s, t);
    return math::select(T(0.0) < depth, -depth, T(guarded_root(math::squared_distance(s, t)))) - both;
  }

  std::vector<Corner> corners_;
  std::vector<Carried> carried_;
  std::vector<Shape> shapes_;
  std::vector<Gap> gaps_;
  std::vector<KeptIn> kept_in_;
  std::vector<int> tyres_;         ///< the bodies that are the rear tyre
  std::vector<int> kept_corners_;  ///< the corners that are those points
  std::size_t axle_ = 0;
};

}  // namespace trammel::bike
