#include "bike/room.hpp"

#include <algorithm>
#include <limits>

namespace trammel::bike {

Room::Room(const Model& model, const std::vector<Body>& bodies, const std::vector<Gap>& gaps,
           const std::vector<KeptIn>& kept_in)
    : gaps_(gaps), kept_in_(kept_in), axle_(static_cast<std::size_t>(model.layout.axle.point)) {
  for (const Body& body : bodies) {
    if (body.kind == BodyKind::tyre) tyres_.push_back(static_cast<int>(shapes_.size()));
    shapes_.push_back(shape_of(model, body));
  }
  for (const KeptIn& kept : kept_in_) kept_corners_.push_back(add(model, Spot{kept.point, -1, {}}));
}

std::array<std::vector<int>, 2> Room::corners_of(std::size_t measure) const {
  if (measure >= gaps_.size()) return {std::vector<int>{kept_corners_[measure - gaps_.size()]}, {}};
  const auto of = [&](int body) {
    std::vector<int> corners;
    for (const Piece& piece : shapes_[static_cast<std::size_t>(body)].pieces) {
      corners.push_back(piece.from);
      corners.push_back(piece.to);
    }
    return corners;
  };
  return {of(gaps_[measure].body), of(gaps_[measure].other)};
}

int Room::add(Corner corner) {
  corners_.push_back(corner);
  return static_cast<int>(corners_.size()) - 1;
}

int Room::add(const Model& model, const Spot& spot) {
  Corner corner;
  if (spot.point >= 0) {
    corner.kind = CornerKind::point;
    corner.a = static_cast<std::size_t>(spot.point);
    return add(corner);
  }
  if (spot.member == model.layout.mechanism.frame) {
    corner.at = spot.at;
    return add(corner);
  }
  const linkage::Base& base = model.program.bases[static_cast<std::size_t>(spot.member)];
  corner.kind = CornerKind::carried;
  corner.a = carried_.size();
  carried_.push_back({static_cast<std::size_t>(base.a), static_cast<std::size_t>(base.b), spot.at});
  return add(corner);
}

Room::Shape Room::shape_of(const Model& model, const Body& body) {
  const double radius = 0.5 * body.diameter;
  Shape shape;
  switch (body.kind) {
    case BodyKind::circle: {
      const int centre = add(model, body.spots[0]);
      shape.pieces.push_back({centre, centre, radius});
      break;
    }
    case BodyKind::tube: {
      const int from = add(model, body.spots[0]), to = add(model, body.spots[1]);
      shape.pieces.push_back({from, to, radius});
      if (!body.ends) break;
      shape.pieces.push_back({from, from, 0.5 * body.ends->x});
      shape.pieces.push_back({to, to, 0.5 * body.ends->y});
      break;
    }
    case BodyKind::polygon: {
      std::vector<int> corners;
      for (const Spot& spot : body.spots) corners.push_back(add(model, spot));
      for (std::size_t i = 0; i < corners.size(); ++i)
        shape.pieces.push_back({corners[i], corners[(i + 1) % corners.size()], radius});
      shape.solid = true;
      break;
    }
    case BodyKind::tyre: {
      const int axle = add(model, Spot{model.layout.axle.point, -1, {}});
      shape.pieces.push_back({axle, axle, model.layout.rear_radius});
      break;
    }
    case BodyKind::shock: {
      const linkage::Drive& drive = model.layout.mechanism.drive;
      const int other = body.eye == drive.a ? drive.b : drive.a;
      const int eye = add(model, Spot{body.eye, -1, {}}), far_eye = add(model, Spot{other, -1, {}});
      Corner end;
      end.kind = CornerKind::along;
      end.a = static_cast<std::size_t>(body.eye);
      end.b = static_cast<std::size_t>(other);
      end.length = body.length;
      shape.pieces.push_back({eye, add(end), radius});
      shape.pieces.push_back({eye, far_eye, 0.5 * body.shaft});
      break;
    }
    case BodyKind::chain: {
      Corner end;
      end.circles = model.circles[static_cast<std::size_t>(body.gear)];
      if (model.layout.drivetrain.idler) end.idler = static_cast<std::size_t>(model.layout.drivetrain.idler->point);
      for (std::size_t span = 0; span < (end.circles.has_idler ? 2U : 1U); ++span) {
        end.a = span;
        end.kind = CornerKind::span_start;
        const int from = add(end);
        end.kind = CornerKind::span_end;
        shape.pieces.push_back({from, add(end), radius});
      }
      break;
    }
  }
  return shape;
}

double Room::least_between(std::size_t k, const std::vector<linkage::Point>& from,
                           const std::vector<linkage::Point>& to, double aside) const {
  constexpr double never = std::numeric_limits<double>::infinity();
  double nearest = never;
  const auto take = [&](double centre_lines, double radii) {
    nearest = std::min(nearest, centre_lines > aside ? centre_lines - radii - aside : -never);
  };
  if (k >= gaps_.size()) {
    const std::size_t i = k - gaps_.size();
    const std::vector<linkage::Point>& sides = kept_in_[i].corners;
    const auto point = static_cast<std::size_t>(kept_corners_[i]);
    for (std::size_t c = 0; c < sides.size(); ++c) {
      const linkage::Point &start = sides[c], &end = sides[(c + 1) % sides.size()];
      take(math::least_distance({from[point], to[point]}, {start, start}, {end, end}), 0.0);
    }
    return nearest;
  }
  for (const Piece& p : shapes_[static_cast<std::size_t>(gaps_[k].body)].pieces)
    for (const Piece& q : shapes_[static_cast<std::size_t>(gaps_[k].other)].pieces)
      take(least_between(p, q, from, to), p.radius + q.radius);
  return nearest;
}

double Room::least_between(const Piece& p, const Piece& q, const std::vector<linkage::Point>& from,
                           const std::vector<linkage::Point>& to) {
  const auto way = [&](int corner) {
    const auto c = static_cast<std::size_t>(corner);
    return math::StraightWay{from[c], to[c]};
  };
  // Segments that do not cross are nearest at an end of one of them.
  double nearest = std::numeric_limits<double>::infinity();
  const auto ends = [&](const Piece& of, const Piece& other) {
    nearest = std::min(nearest, math::least_distance(way(of.from), way(other.from), way(other.to)));
    if (of.to != of.from) nearest = std::min(nearest, math::least_distance(way(of.to), way(other.from), way(other.to)));
  };
  if (p.from == p.to || q.from != q.to) ends(p, q);
  if (p.from != p.to) ends(q, p);
  return nearest;
}

}  // namespace trammel::bike
