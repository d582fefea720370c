#include <algorithm>
#include <cmath>
#include <limits>

#include "brief/parts.hpp"
#include "brief/values.hpp"

namespace trammel::brief {
namespace {

/// The points as they stand in the file: in mm, or in pixels of a picture.
const Node* points_of(const Node* linkage) {
  const Node* points = sound(linkage, "points");
  return points != nullptr ? points : sound(sound(linkage, "picture"), "points");
}

void read_points(const Node* linkage, linkage::Mechanism& mechanism) {
  const Node* points = points_of(linkage);
  constexpr double unread = std::numeric_limits<double>::quiet_NaN();
  for (std::size_t i = 0; i < points->keys.size(); ++i) {
    const auto place = two_numbers(&points->items[i]).value_or(std::pair(unread, unread));
    mechanism.point_names.push_back(points->keys[i].text);
    mechanism.points.push_back({place.first, place.second});
  }
}

/// Whether every name in them is a point's.
bool read_members(const Node* linkage, linkage::Mechanism& mechanism, Problems& problems) {
  const Node* members = sound(linkage, "members");
  bool all_known = true;
  for (std::size_t i = 0; i < members->keys.size(); ++i) {
    linkage::Member member{members->keys[i].text, {}};
    if (member.name == "frame") mechanism.frame = static_cast<int>(i);
    for (const auto& name : members->items[i].items) {
      const int point = find_point(&name, mechanism, problems);
      if (point >= 0) member.points.push_back(point);
      all_known = all_known && point >= 0;
    }
    mechanism.members.push_back(std::move(member));
  }
  return all_known;
}

void report_loose_points(const Node* linkage, const linkage::Mechanism& mechanism, Problems& problems) {
  const Node* points = points_of(linkage);
  for (std::size_t i = 0; i < points->keys.size(); ++i) {
    const auto lists_it = [&](const linkage::Member& member) { return carries(member, static_cast<int>(i)); };
    if (std::any_of(mechanism.members.begin(), mechanism.members.end(), lists_it)) continue;
    problems.add(points->keys[i].mark, points->where + "." + points->keys[i].text,
                 "no member carries this point; list it in linkage.members or take it out");
  }
}

void read_slider(const Node& node, linkage::Mechanism& mechanism, Problems& problems) {
  if (node.flawed) return;
  linkage::Slider slider;
  slider.point = find_point(sound(&node, "point"), mechanism, problems);
  slider.member = find_member(sound(&node, "member"), mechanism, problems);
  const Node* along = sound(&node, "along");
  if (along != nullptr) {
    slider.along_a = find_point(&along->items[0], mechanism, problems);
    slider.along_b = find_point(&along->items[1], mechanism, problems);
  }
  mechanism.sliders.push_back(slider);
  if (slider.member < 0) return;
  const auto& member = mechanism.members[static_cast<std::size_t>(slider.member)];
  for (std::size_t i = 0; along != nullptr && i < 2; ++i) {
    const int point = i == 0 ? slider.along_a : slider.along_b;
    if (point < 0 || carries(member, point)) continue;
    problems.add(along->items[i],
                 describe(along->items[i]) + " was given, but the line must run through two points of " + member.name);
  }
  if (slider.point >= 0 && carries(member, slider.point)) {
    problems.add(*node.find("point"), describe(*node.find("point")) + " is fixed on " + member.name +
                                          ", so it cannot slide along it; name a point of another member");
  }
}

/// Which way a member turns shows on a line on it, so a wheel or brake hangs on one that lists two points.
void demand_a_line(const Node& named, const Node& linkage, Problems& problems) {
  const Node* member = sound(sound(&linkage, "members"), named.text);
  if (member != nullptr && member->items.size() < 2)
    problems.add(named,
                 named.text + " was given, but it lists one point, so that nothing shows how it turns; list another");
}

void read_axle_and_brake(const Node* linkage, bike::Layout& layout, Problems& problems) {
  const auto& mechanism = layout.mechanism;
  const Node* axle = sound(linkage, "axle");
  layout.axle.point = find_point(sound(axle, "point"), mechanism, problems);
  layout.axle.member = find_member(sound(axle, "member"), mechanism, problems);
  layout.brake_member = layout.axle.member;
  if (const Node* member = sound(sound(linkage, "brake"), "member")) {
    layout.brake_member = find_member(member, mechanism, problems);
    if (layout.brake_member >= 0 && layout.brake_member != mechanism.frame) demand_a_line(*member, *linkage, problems);
  }
  if (layout.axle.member < 0) return;
  const Node& where = *axle->find("member");
  if (layout.axle.member == mechanism.frame) {
    problems.add(where, "frame was given, but the frame is held still; name the member that carries the rear axle");
  } else if (const auto& member = mechanism.members[static_cast<std::size_t>(layout.axle.member)];
             layout.axle.point >= 0 && !carries(member, layout.axle.point)) {
    problems.add(where, member.name + " was given, but it does not list the point " +
                            mechanism.point_names[static_cast<std::size_t>(layout.axle.point)]);
  } else {
    demand_a_line(where, *linkage, problems);
  }
}

void read_shock(const Node& node, bike::Layout& layout, Problems& problems) {
  auto& mechanism = layout.mechanism;
  auto& drive = mechanism.drive;
  bike::Shock shock;
  take_number(&node, "length", shock.length);
  take_number(&node, "stroke", shock.stroke);
  take_flag(&node, "extends", drive.extends);
  drive.kind = linkage::DriveKind::shock;
  drive.range = shock.stroke;
  if (const Node* between = sound(&node, "between")) {
    drive.a = find_point(&between->items[0], mechanism, problems);
    drive.b = find_point(&between->items[1], mechanism, problems);
    for (const auto& member : mechanism.members) {
      if (drive.a < 0 || drive.b < 0 || !carries(member, drive.a) || !carries(member, drive.b)) continue;
      problems.add(*between, member.name + " carries both eyes, so the shock cannot move");
    }
  }
  if (!drive.extends && number(&node, "length") && shock.stroke >= shock.length) {
    problems.add(*node.find("stroke"), rounded_text(shock.stroke) +
                                           " was given, but the stroke must be below the "
                                           "length, " +
                                           rounded_text(shock.length));
  }
  layout.shock = shock;
}

void read_drive(const Node& node, bike::Layout& layout, Problems& problems) {
  auto& drive = layout.mechanism.drive;
  if (const auto travel = number(&node, "travel")) {
    drive.kind = linkage::DriveKind::travel;
    drive.point = layout.axle.point;
    drive.range = *travel;
    return;
  }
  drive.kind = linkage::DriveKind::turn;
  drive.member = find_member(sound(&node, "member"), layout.mechanism, problems);
  drive.range = math::radians(number(&node, "turn").value_or(0.0));
  if (drive.member >= 0 && drive.member == layout.mechanism.frame) {
    problems.add(*node.find("member"), "frame was given, but the frame is held still; name a member that turns");
  }
}

}  // namespace

int find_name(const Node* value, const std::vector<std::string>& known, const std::string& kind, const std::string& key,
              Problems& problems) {
  if (value == nullptr || value->flawed) return -1;
  const auto found = std::find(known.begin(), known.end(), value->text);
  if (found != known.end()) return static_cast<int>(found - known.begin());
  problems.add(*value, "no " + kind + " is named " + describe(*value) + "; " + key + " has " + join(known) +
                           suggestion(value->text, known));
  return -1;
}

int find_point(const Node* value, const linkage::Mechanism& mechanism, Problems& problems) {
  return find_name(value, mechanism.point_names, "point", "linkage.points", problems);
}

int find_point(const Key& key, const Node& value, const linkage::Mechanism& mechanism, Problems& problems) {
  Node name;
  name.kind = Node::Kind::scalar;
  name.mark = key.mark;
  name.where = value.where;
  name.text = key.text;
  return find_point(&name, mechanism, problems);
}

int find_pivot(const Node* value, const linkage::Mechanism& mechanism, Problems& problems) {
  const int point = find_point(value, mechanism, problems);
  std::vector<int> pivots = linkage::pivots(mechanism);
  for (const linkage::Slider& slider : mechanism.sliders)
    if (slider.point >= 0 && std::find(pivots.begin(), pivots.end(), slider.point) == pivots.end())
      pivots.push_back(slider.point);
  if (point < 0 || std::find(pivots.begin(), pivots.end(), point) != pivots.end()) return point;
  std::vector<std::string> names;
  names.reserve(pivots.size());
  for (const int p : pivots) names.push_back(mechanism.point_names[static_cast<std::size_t>(p)]);
  problems.add(*value, describe(*value) +
                           " was given, but no two parts turn on each other there; pivots and shock "
                           "eyes are " +
                           join(names));
  return -1;
}

int find_member(const Node* value, const linkage::Mechanism& mechanism, Problems& problems) {
  std::vector<std::string> names;
  for (const auto& member : mechanism.members) names.push_back(member.name);
  return find_name(value, names, "member", "linkage.members", problems);
}

bool carries(const linkage::Member& member, int point) {
  return std::find(member.points.begin(), member.points.end(), point) != member.points.end();
}

void read_linkage(const Node& root, bike::Layout& layout, Problems& problems) {
  const Node* linkage = sound(&root, "linkage");
  // Without points and members every name below would be reported as unknown.
  if (points_of(linkage) == nullptr || sound(linkage, "members") == nullptr) return;
  read_points(linkage, layout.mechanism);
  // A misspelt name leaves the point that was meant without a member; that is one slip, not two.
  if (read_members(linkage, layout.mechanism, problems)) report_loose_points(linkage, layout.mechanism, problems);
  if (const Node* sliders = sound(linkage, "sliders")) {
    for (const auto& slider : sliders->items) read_slider(slider, layout.mechanism, problems);
  }
  if (const Node* joints = sound(linkage, "through_line")) {
    for (const auto& joint : joints->items)
      if (const int point = find_point(&joint, layout.mechanism, problems); point >= 0)
        layout.mechanism.through_line.push_back(point);
  }
  read_axle_and_brake(linkage, layout, problems);
  const Node* shock = sound(&root, "shock");
  const Node* drive = sound(&root, "drive");
  if (shock != nullptr) {
    read_shock(*shock, layout, problems);
  } else if (drive != nullptr) {
    read_drive(*drive, layout, problems);
  }
  read_picture(root, layout, problems);
}

}  // namespace trammel::brief
