// Points read off a side view, turned from pixels into millimetres.
#include <algorithm>
#include <cmath>
#include <limits>

#include "brief/fields.hpp"
#include "brief/parts.hpp"
#include "brief/values.hpp"

namespace trammel::brief {
namespace {

using linkage::Point;

std::optional<Point> pixel(const Node* node) {
  const auto xy = two_numbers(node);
  return xy ? std::optional(Point{xy->first, xy->second}) : std::nullopt;
}

/// A length that is known, as it lies in the picture.
struct Known {
  const Node* node;
  double pixels;
  double length;  ///< mm
};

std::vector<Known> read_known(const Node& picture, Problems& problems) {
  std::vector<Known> all;
  const Node* list = sound(&picture, "lengths");
  for (std::size_t i = 0; list != nullptr && i < list->items.size(); ++i) {
    const Node& item = list->items[i];
    const auto from = pixel(sound(&item, "from")), to = pixel(sound(&item, "to"));
    const auto length = number(&item, "length");
    if (!from || !to || !length) continue;
    const double pixels = norm(*to - *from);
    if (pixels < 1.0)
      problems.add(item, "its ends are " + rounded_text(pixels) + " pixels apart; they must be at least 1 apart");
    else
      all.push_back({&item, pixels, *length});
  }
  return all;
}

/// mm per pixel: the least-squares fit of all known lengths.
double scale_of(const std::vector<Known>& known) {
  double lengths = 0.0, squares = 0.0;
  for (const Known& k : known) {
    lengths += k.length * k.pixels;
    squares += k.pixels * k.pixels;
  }
  return squares > 0.0 ? lengths / squares : 0.0;
}

void check_agreement(const std::vector<Known>& known, double scale, Problems& problems) {
  for (const Known& k : known) {
    const double own = k.length / k.pixels;
    if (std::abs(own / scale - 1.0) > picture_agreement)
      problems.add(*k.node, "it makes a pixel " + rounded_text(own) + " mm, where all lengths together make it " +
                                rounded_text(scale) + " mm; they must agree within " +
                                rounded_text(100.0 * picture_agreement) +
                                " %, so look for a slip, or for a picture that is not taken square from the side");
  }
}

/// The frame's x axis in the picture, a unit vector: along the line that is level, towards the front.
std::optional<Point> forward_of(const Node& picture, Problems& problems) {
  const Node* level = sound(&picture, "level");
  if (level == nullptr || level->items.size() != 2) {
    if (level != nullptr)
      problems.add(*level, std::to_string(level->items.size()) + " points were given; a line has two");
    return std::nullopt;
  }
  const auto a = pixel(&level->items[0]), b = pixel(&level->items[1]);
  if (!a || !b) return std::nullopt;
  const Point along = *b - *a;
  if (norm(along) < 1.0) {
    problems.add(*level, "its two points must be at least 1 pixel apart");
    return std::nullopt;
  }
  const double turned = (along.x < 0.0) == (word(&picture, "faces") == "left") ? 1.0 : -1.0;
  return along * (turned / norm(along));
}

/// Puts the shock's eye that the frame carries, or else the first, where the shock's length is that of the brief.
/// `slack` is by how much readings may be off.
void fit_shock(const Node& root, bike::Layout& layout, double slack, Problems& problems) {
  const linkage::Drive& drive = layout.mechanism.drive;
  const Node* length = sound(sound(&root, "shock"), "length");
  if (!layout.shock || length == nullptr || drive.a < 0 || drive.b < 0) return;
  auto& points = layout.mechanism.points;
  const auto& frame = layout.mechanism.members[static_cast<std::size_t>(std::max(layout.mechanism.frame, 0))];
  const int moved = !carries(frame, drive.a) && carries(frame, drive.b) ? drive.b : drive.a;
  const int kept = moved == drive.a ? drive.b : drive.a;
  Point& eye = points[static_cast<std::size_t>(moved)];
  const Point from = points[static_cast<std::size_t>(kept)];
  const double read = norm(eye - from);
  if (!(std::abs(read - layout.shock->length) <= slack)) {
    if (std::isfinite(read))
      problems.add(*length, rounded_text(layout.shock->length) + " was given, but in the picture its eyes are " +
                                rounded_text(read) + " mm apart; within the error of reading they must agree, to " +
                                rounded_text(slack) + " mm");
    return;
  }
  eye = from + (eye - from) * (layout.shock->length / read);
}

}  // namespace

void read_picture(const Node& root, bike::Layout& layout, Problems& problems) {
  const Node* picture = sound(sound(&root, "linkage"), "picture");
  if (picture == nullptr) return;
  const std::vector<Known> known = read_known(*picture, problems);
  const double scale = scale_of(known);
  if (scale > 0.0) check_agreement(known, scale, problems);
  const auto forward = forward_of(*picture, problems);
  const auto centre = pixel(sound(picture, "bottom_bracket"));
  if (!(scale > 0.0) || !forward || !centre) {
    constexpr double unread = std::numeric_limits<double>::quiet_NaN();  // nothing more is said of pixels
    for (Point& point : layout.mechanism.points) point = {unread, unread};
    return;
  }
  // The picture's y runs down. Facing left, forward points left and up is still up.
  const Point up = word(picture, "faces") == "left" ? perp(*forward) : perp(*forward) * -1.0;
  for (Point& p : layout.mechanism.points) {
    const Point from = p - *centre;
    p = Point{dot(from, *forward), dot(from, up)} * scale;
  }
  const auto far = std::find_if(layout.mechanism.points.begin(), layout.mechanism.points.end(), [](const Point& p) {
    return std::abs(p.x) > picture_reach || std::abs(p.y) > picture_reach;
  });
  if (far != layout.mechanism.points.end()) {
    const auto i = static_cast<std::size_t>(far - layout.mechanism.points.begin());
    problems.add(*sound(picture, "points")->find(layout.mechanism.point_names[i]),
                 "it comes out " + rounded_text(norm(*far)) + " mm from the bottom bracket; at most " +
                     rounded_text(picture_reach) + " mm along either axis is allowed");
  }
  layout.reading = number(picture, "reading").value_or(picture_reading) * scale;
  // Two eyes, each off by so much along both axes, and the scale.
  fit_shock(root, layout, 2.0 * std::sqrt(2.0) * layout.reading + length_slack, problems);
}

}  // namespace trammel::brief
