// Members that keep their shape: `keep`.
#include "brief/read_keep.hpp"

#include <algorithm>
#include <cmath>

#include "brief/values.hpp"

namespace trammel::brief {
namespace {

class Keeper {
 public:
  Keeper(const Node& root, Brief& brief, Problems& problems)
      : root_(root), brief_(brief), mechanism_(brief.layout.mechanism), problems_(problems) {}

  /// Places the points of a member that the brief leaves to it.
  void keep(const Node& named) {
    const int number = find_member(&named, mechanism_, problems_);
    if (number < 0) return;
    if (number == mechanism_.frame) {
      problems_.add(named, "the frame is held still; its pivots are what varies");
      return;
    }
    member_ = named.text;
    points_ = mechanism_.members[static_cast<std::size_t>(number)].points;
    std::vector<std::size_t> moving;  // numbers in brief.vary
    for (std::size_t i = 0; i < brief_.vary.size(); ++i)
      if (has(brief_.vary[i].point)) moving.push_back(i);
    if (moving.empty()) return;  // as drawn
    const std::size_t base = base_of(moving);
    const int a = brief_.vary[base].point;
    int b = -1;
    for (const std::size_t i : moving) {
      if (i == base) continue;
      if (b >= 0 || !turns_about(brief_.vary[i], a)) return refuse(brief_.vary[i].point, a, b);
      b = brief_.vary[i].point;
    }
    for (const int point : points_)
      if (point != a && point != b) follow(point, a, b);
  }

 private:
  const linkage::Point& drawn(int point) const { return mechanism_.points[static_cast<std::size_t>(point)]; }
  const std::string& name(int point) const { return mechanism_.point_names[static_cast<std::size_t>(point)]; }
  bool has(int point) const { return std::find(points_.begin(), points_.end(), point) != points_.end(); }

  /// The one among them that is not placed from another point of the member; the first if all are.
  std::size_t base_of(const std::vector<std::size_t>& moving) const {
    const auto found = std::find_if(moving.begin(), moving.end(), [&](std::size_t i) {
      const std::vector<int> needs = brief_.vary[i].needs();
      return std::none_of(needs.begin(), needs.end(), [&](int point) { return has(point); });
    });
    return found == moving.end() ? moving.front() : *found;
  }

  /// Whether a point is placed from `a` by its direction alone, as far as drawn.
  bool turns_about(const Vary& vary, int a) const {
    const auto* polar = std::get_if<Polar>(&vary.place);
    return polar != nullptr && polar->from == a && polar->own_length() && polar->length.fixed() &&
           std::abs(polar->length.lo - norm(drawn(vary.point) - drawn(a))) < 1e-9;
  }

  void follow(int point, int a, int b) {
    const linkage::Point arm = drawn(point) - drawn(a);
    if (b < 0) {
      brief_.vary.push_back({point, Cartesian{{arm.x, arm.x}, {arm.y, arm.y}, a}, true});
      return;
    }
    const linkage::Point base = drawn(b) - drawn(a);
    const double along = dot(arm, base) / squared_norm(base), across = cross(base, arm) / squared_norm(base);
    brief_.vary.push_back({point, OnBody{a, b, along, across}, true});
  }

  void refuse(int point, int a, int b) {
    const Node* entry = root_.find("vary")->find(name(point));
    const Node* base = root_.find("vary")->find(name(a));
    const Node& blamed = entry != nullptr ? *entry : base != nullptr ? *base : *root_.find("keep");
    problems_.add(blamed, member_ + " keeps its shape, so that only one of its points is placed freely, here " +
                              name(a) + ", and one more by its direction from that, " + name(b < 0 ? point : b) +
                              ": { from: " + name(a) + ", angle: [low, high] }; the others follow");
  }

  const Node& root_;
  Brief& brief_;
  const linkage::Mechanism& mechanism_;
  Problems& problems_;
  std::string member_;
  std::vector<int> points_;
};

}  // namespace

void read_keep(const Node& root, Brief& brief, Problems& problems) {
  const Node* keep = sound(&root, "keep");
  if (keep == nullptr) return;
  Keeper keeper(root, brief, problems);
  for (const Node& item : keep->items)
    if (!item.flawed) keeper.keep(item);
}

}  // namespace trammel::brief
