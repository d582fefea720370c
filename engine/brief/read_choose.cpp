// What stands under `choose`.
#include <algorithm>

#include "brief/parts.hpp"
#include "brief/shock_sizes.hpp"
#include "brief/values.hpp"

namespace trammel::brief {
namespace {

void read_shocks(const Node& root, Brief& brief, Problems& problems) {
  const Node* list = sound(sound(&root, "choose"), "shock");
  if (list == nullptr) return;
  if (!brief.layout.shock && sound(&root, "drive") != nullptr) {
    problems.add(*list, "shock sizes were given, but the layout has no shock");
  }
  const Node* choose = root.find("choose");
  const bool usual = list->kind != Node::Kind::list;
  for (const char* key : {"shock_length", "shock_stroke"})
    if (const Node* limits = sound(choose, key); limits != nullptr && !usual)
      problems.add(*limits, "limits were given; they go with a word for the usual sizes, and here sizes are listed");
  if (usual) {
    brief.shocks = usual_shocks(*choose);
    if (brief.shocks.empty())
      problems.add(*list, describe(*list) + " was given, but no usual size is within the limits");
    return;
  }
  for (const auto& node : list->items) {
    ShockSize size;
    take_number(&node, "length", size.length);
    take_number(&node, "stroke", size.stroke);
    const auto same = [&](const ShockSize& other) {
      return other.length == size.length && other.stroke == size.stroke;
    };
    if (!number(&node, "length") || !number(&node, "stroke")) continue;
    if (size.stroke >= size.length) {
      problems.add(node, "stroke " + rounded_text(size.stroke) + " was given, but it must be below the length, " +
                             rounded_text(size.length));
    } else if (std::any_of(brief.shocks.begin(), brief.shocks.end(), same)) {
      problems.add(node, "this size was given before");
    }
    brief.shocks.push_back(size);
  }
}

/// The teeth to choose from under `choose: key`.
std::vector<int> teeth_of(const Node& list) {
  std::vector<int> teeth;
  for (const Node& item : list.items)
    if (const auto count = read_number(item).value; count && !item.flawed) teeth.push_back(static_cast<int>(*count));
  return teeth;
}

void read_idlers(const Node& root, Brief& brief, Problems& problems) {
  const Node* list = sound(sound(&root, "choose"), "idler");
  if (list == nullptr) return;
  const Node* train = root.find("drivetrain");
  if (train == nullptr || train->find("idler") == nullptr)
    problems.add(*list, "idlers were given, but the drivetrain has no idler");
  if (brief.layout.drivetrain.idler) brief.idlers = teeth_of(*list);
}

void read_chainrings(const Node& root, Brief& brief, Problems& problems) {
  const Node* list = sound(sound(&root, "choose"), "chainring");
  if (list == nullptr) return;
  const Node* train = root.find("drivetrain");
  if (train == nullptr) {
    problems.add(*list, "chainrings were given, but the layout has no drivetrain");
  } else if (train->find("chainrings") != nullptr) {
    problems.add(*list,
                 "chainrings were given, but the drivetrain has several on the bike; choose goes with chainring: the "
                 "one as drawn");
  }
  brief.chainrings = teeth_of(*list);
  for (bike::Gear& gear : brief.layout.drivetrain.gears) gear.any_ring = true;
}

}  // namespace

std::vector<ShockSize> usual_shocks(const Node& choose) {
  const auto holds = [&](const char* key, double size) {
    const auto limits = two_numbers(sound(&choose, key));
    return !limits || (limits->first <= size && size <= limits->second);
  };
  std::vector<ShockSize> sizes;
  for (const ShockSize& size : shock_sizes(word(&choose, "shock")))
    if (holds("shock_length", size.length) && holds("shock_stroke", size.stroke)) sizes.push_back(size);
  return sizes;
}

void read_choose(const Node& root, Brief& brief, Problems& problems) {
  read_shocks(root, brief, problems);
  read_idlers(root, brief, problems);
  read_chainrings(root, brief, problems);
}

}  // namespace trammel::brief
