// Bodies, clearances, regions and lengths.
#include <algorithm>
#include <array>

#include "brief/parts.hpp"
#include "brief/values.hpp"

namespace trammel::brief {
namespace {

using bike::Body;
using bike::BodyKind;
using bike::Spot;

/// Where a side of a region without a limit is put, mm: far outside everything.
constexpr double nowhere = 1e4;

class RoomReader {
 public:
  RoomReader(const Node& root, Brief& brief, Problems& problems)
      : root_(root), brief_(brief), mechanism_(brief.layout.mechanism), problems_(problems) {}

  void read(const Node& packaging) {
    if (const Node* bodies = sound(&packaging, "bodies"))
      for (std::size_t i = 0; i < bodies->keys.size(); ++i) {
        names_.push_back(bodies->keys[i].text);
        brief_.packaging.bodies.push_back(body(bodies->keys[i].text, bodies->items[i]));
      }
    if (const Node* list = sound(&packaging, "clearances"))
      for (const Node& item : list->items) clearance(item);
    if (const Node* list = sound(&packaging, "keep_in"))
      for (const Node& item : list->items) keep_in(item);
    if (const Node* list = sound(&packaging, "lengths"))
      for (const Node& item : list->items) length(item);
  }

 private:
  Body body(const std::string& name, const Node& node) {
    Body out;
    out.name = name;
    take_number(&node, "diameter", out.diameter);
    const int carrier = carrier_of(node);
    if (const Node* centre = sound(&node, "centre")) {
      out.spots = {spot(*centre, carrier)};
    } else if (const Node* from = sound(&node, "from")) {
      out.kind = BodyKind::tube;
      out.spots = {spot(*from, carrier)};
      if (const Node* to = sound(&node, "to")) out.spots.push_back(spot(*to, carrier));
      const auto one = number(&node, "from_boss"), other = number(&node, "to_boss");
      if (one || other) out.ends = {one.value_or(out.diameter), other.value_or(out.diameter)};
    } else if (const Node* corners = sound(&node, "corners")) {
      out.kind = BodyKind::polygon;
      for (const Node& corner : corners->items)
        if (!corner.flawed) out.spots.push_back(spot(corner, carrier));
    } else {
      part(node, out);
    }
    return out;
  }

  void part(const Node& node, Body& out) {
    const std::string which = word(&node, "part");
    if (which == "rear_tyre") out.kind = BodyKind::tyre;
    if (which == "chain") {
      out.kind = BodyKind::chain;
      out.gear = find_gear(root_, sound(&node, "gear"), brief_.layout, problems_);
      if (root_.find("drivetrain") == nullptr)
        problems_.add(*node.find("part"), "chain was given, but it needs a drivetrain, and the layout has none");
    }
    if (which != "shock") return;
    out.kind = BodyKind::shock;
    take_number(&node, "body_length", out.length);
    take_number(&node, "shaft", out.shaft);
    const Node* from = sound(&node, "body_from");
    out.eye = find_point(from, mechanism_, problems_);
    const linkage::Drive& drive = mechanism_.drive;
    if (!brief_.layout.shock && root_.find("drive") != nullptr) {
      problems_.add(*node.find("part"), "shock was given, but the layout has no shock");
    } else if (out.eye >= 0 && drive.a >= 0 && drive.b >= 0 && out.eye != drive.a && out.eye != drive.b) {
      const auto name = [&](int point) { return mechanism_.point_names[static_cast<std::size_t>(point)]; };
      problems_.add(
          *from, describe(*from) + " was given, but the shock's eyes are " + name(drive.a) + " and " + name(drive.b));
    }
  }

  /// The member that carries the body's places; −1 after a problem.
  int carrier_of(const Node& node) {
    const Node* name = node.find("member");
    if (name == nullptr) return mechanism_.frame;
    const int member = find_member(sound(&node, "member"), mechanism_, problems_);
    if (member < 0 || member == mechanism_.frame) return member;
    // Counted as given: a name that is none has been reported.
    const Node* members = sound(root_.find("linkage"), "members");
    const Node* points = members == nullptr ? nullptr : members->find(name->text);
    if (points != nullptr && points->items.size() < 2)
      problems_.add(*name, describe(*name) + " was given, but with one point it has no direction to draw by");
    return member;
  }

  Spot spot(const Node& node, int carrier) {
    if (const auto at = two_numbers(&node)) return {-1, carrier, {at->first, at->second}};
    return {find_point(&node, mechanism_, problems_), carrier, {}};
  }

  int find_body(const Node& name) {
    if (name.flawed) return -1;
    const auto found = std::find(names_.begin(), names_.end(), name.text);
    if (found != names_.end()) return static_cast<int>(found - names_.begin());
    problems_.add(name, describe(name) + " was given, but no body is named so" + suggestion(name.text, names_));
    return -1;
  }

  void clearance(const Node& node) {
    objectives::Clearance out;
    take_number(&node, "least", out.least);
    const Node *of = sound(&node, "of"), *to = sound(&node, "to"), *but = sound(&node, "but");
    if (of == nullptr || to == nullptr) return;
    out.of = find_body(*of);
    std::vector<int> left_out{out.of};
    if (but != nullptr)
      for (const Node& name : but->items) left_out.push_back(find_body(name));
    const bool all = to->kind != Node::Kind::list;
    if (but != nullptr && !all)
      problems_.add(*but, "but was given; it goes with to: all_others, and here the others are listed");
    if (all) {
      for (int body = 0; body < static_cast<int>(names_.size()); ++body)
        if (std::find(left_out.begin(), left_out.end(), body) == left_out.end()) out.to.push_back(body);
      if (out.to.empty()) problems_.add(*to, "all_others was given, but it leaves no other body");
    } else {
      for (const Node& name : to->items) {
        const int body = find_body(name);
        if (body >= 0 && body == out.of)
          problems_.add(name, describe(name) + " was given, but a body has no distance from itself");
        out.to.push_back(body);
      }
    }
    brief_.packaging.clearances.push_back(std::move(out));
  }

  void keep_in(const Node& node) {
    objectives::KeepIn out;
    out.point = find_point(sound(&node, "point"), mechanism_, problems_);
    take_number(&node, "least", out.least);
    if (const Node* corners = sound(&node, "corners")) {
      for (const Node& corner : corners->items)
        if (const auto at = two_numbers(&corner)) out.corners.push_back({at->first, at->second});
    } else {
      const std::pair endless{-nowhere, nowhere};
      const auto x = two_numbers(sound(&node, "x")).value_or(endless);
      const auto y = two_numbers(sound(&node, "y")).value_or(endless);
      out.corners = {{x.first, y.first}, {x.second, y.first}, {x.second, y.second}, {x.first, y.second}};
    }
    brief_.packaging.keep_in.push_back(std::move(out));
  }

  void length(const Node& node) {
    const Node* between = sound(&node, "between");
    if (between == nullptr || between->items.size() != 2) return;
    objectives::LengthRule out;
    out.from = find_point(&between->items[0], mechanism_, problems_);
    out.to = find_point(&between->items[1], mechanism_, problems_);
    out.least = number(&node, "least");
    out.greatest = number(&node, "greatest");
    if (out.least && out.greatest && *out.least > *out.greatest)
      problems_.add(*node.find("least"), describe(*node.find("least")) +
                                             " was given, but it must not be above the "
                                             "greatest, " +
                                             node.find("greatest")->text);
    brief_.packaging.lengths.push_back(out);
  }

  const Node& root_;
  Brief& brief_;
  const linkage::Mechanism& mechanism_;
  Problems& problems_;
  std::vector<std::string> names_;
};

}  // namespace

void read_room(const Node& root, Brief& brief, Problems& problems) {
  const Node* packaging = sound(&root, "packaging");
  if (packaging != nullptr && !brief.layout.mechanism.points.empty())
    RoomReader(root, brief, problems).read(*packaging);
}

}  // namespace trammel::brief
