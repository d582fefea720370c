#include <algorithm>
#include <cmath>

#include "bike/cases.hpp"
#include "brief/fields.hpp"
#include "brief/parts.hpp"
#include "brief/values.hpp"

namespace trammel::brief {
namespace {

/// Every setting and size by name.
std::vector<std::string> names_of(const bike::Layout& layout) {
  std::vector<std::string> names;
  for (const bike::Setting& setting : layout.settings) names.push_back(setting.name);
  for (const bike::Size& size : layout.sizes) names.push_back(size.name);
  return names;
}

std::string read_name(const Node& node, const bike::Layout& layout, Problems& problems) {
  std::string name = word(&node, "name");
  const auto taken = names_of(layout);
  if (!name.empty() && std::find(taken.begin(), taken.end(), name) != taken.end())
    problems.add(*node.find("name"),
                 describe(*node.find("name")) + " was given, but another setting or size has that name");
  if (name == every_case)
    problems.add(*node.find("name"),
                 describe(*node.find("name")) + " was given, but that word stands for every setting and size");
  return name;
}

void read_moves(const Node* moves, const bike::Layout& layout, bike::Setting& setting, Problems& problems) {
  if (moves == nullptr || layout.mechanism.points.empty()) return;
  for (std::size_t i = 0; i < moves->keys.size(); ++i) {
    const int point = find_point(moves->keys[i], moves->items[i], layout.mechanism, problems);
    const auto by = two_numbers(&moves->items[i]);
    if (point >= 0 && by) setting.moves.emplace_back(point, bike::Point{by->first, by->second});
  }
}

void read_shock(const Node& root, const Node* node, const bike::Layout& layout, bike::Setting& setting,
                Problems& problems) {
  if (node == nullptr) return;
  if (!layout.shock && sound(&root, "drive") != nullptr)
    problems.add(*node, "a shock was given, but the layout has no shock");
  const auto length = number(node, "length"), stroke = number(node, "stroke");
  if (!length || !stroke) return;
  if (*stroke >= *length)
    problems.add(*node, "stroke " + rounded_text(*stroke) + " was given, but it must be below the length, " +
                            rounded_text(*length));
  setting.shock = bike::Shock{*length, *stroke, {}};
}

void read_setting(const Node& root, const Node& node, bike::Layout& layout, Problems& problems) {
  bike::Setting setting;
  setting.name = read_name(node, layout, problems);
  read_moves(sound(&node, "move"), layout, setting, problems);
  read_shock(root, sound(&node, "shock"), layout, setting, problems);
  if (const Node* rear = sound(sound(&node, "wheels"), "rear")) setting.rear_radius = wheel_radius(rear);
  layout.settings.push_back(std::move(setting));
}

void read_size(const Node& root, const Node& node, bike::Layout& layout, Problems& problems) {
  bike::Size size;
  size.name = read_name(node, layout, problems);
  if (const Node* front = sound(&node, "front")) {
    size.front = layout.front;
    read_front(front, *size.front);
    const Node* own = sound(sound(&root, "bike"), "front");
    if (own != nullptr && own->find("reach") != nullptr && front->find("reach") == nullptr)
      problems.add(*front, "bike.front gives reach and stack, and this front has no reach and stack");
  }
  take_number(&node, "chainstay", size.chainstay);
  if (const auto rider = number(&node, "rider")) size.riders = {*rider};
  if (const Node* riders = sound(&node, "riders"))
    for (const Node& item : riders->items)
      if (const auto rider = read_number(item).value; rider && !item.flawed) size.riders.push_back(*rider);
  for (const char* key : {"rider", "riders"})
    if (sound(&node, key) != nullptr && root.find("bike") != nullptr && root.find("bike")->find("mass") == nullptr)
      problems.add(*node.find(key), "a rider needs bike.mass, and the layout has none");
  if (const Node* cg = sound(&node, "cg")) {
    size.cg = layout.cg;
    take_number(cg, "x", size.cg->x);
    take_number(cg, "height", size.cg->height);
  }
  layout.sizes.push_back(std::move(size));
}

/// What of a case could not be known from its parts: where its axles and its centre of gravity lie. False when wrong.
bool check_case(const Node& blamed, const bike::Layout& layout, Problems& problems) {
  const double rear = layout.mechanism.points[static_cast<std::size_t>(layout.axle.point)].x;
  const double front = layout.front.axle.x;
  // Written so that axles that could not be read (NaN) pass.
  if (front - rear <= std::abs(layout.front_radius - layout.rear_radius)) {
    problems.add(blamed, "the front axle lies at x = " + rounded_text(front) +
                             " mm, but it must be ahead of the rear axle at x = " + rounded_text(rear) +
                             " mm by more than the wheels differ in radius");
    return false;
  }
  if (!layout.mass || !layout.shock || !layout.shock->spring) return true;
  if (layout.cg.x > rear && layout.cg.x < front) return true;
  problems.add(blamed, rounded_text(layout.cg.x) +
                           " mm is the centre of gravity's x, but it must lie between the axles, at " +
                           rounded_text(rear) + " and " + rounded_text(front));
  return false;
}

}  // namespace

void read_settings(const Node& root, Brief& brief, Problems& problems) {
  const Node* settings = sound(&root, "settings");
  const Node* sizes = sound(&root, "sizes");
  bike::Layout& layout = brief.layout;
  for (std::size_t i = 0; settings != nullptr && i < settings->items.size(); ++i)
    read_setting(root, settings->items[i], layout, problems);
  for (std::size_t i = 0; sizes != nullptr && i < sizes->items.size(); ++i)
    read_size(root, sizes->items[i], layout, problems);
}

void check_settings(const Node& root, const Brief& brief, Problems& problems) {
  // Only where all else is right are the cases to blame; one problem a setting or size is enough.
  if (!problems.empty()) return;
  const Node* settings = sound(&root, "settings");
  const Node* sizes = sound(&root, "sizes");
  const bike::Layout& layout = brief.layout;
  std::vector<const Node*> blamed;
  for (const bike::Case& which : bike::cases_of(layout)) {
    if (which.setting < 0 && which.size < 0) return;
    const Node* node = which.size >= 0 ? &sizes->items[static_cast<std::size_t>(which.size)]
                                       : &settings->items[static_cast<std::size_t>(which.setting)];
    if (std::find(blamed.begin(), blamed.end(), node) != blamed.end()) continue;
    if (!check_case(*node, bike::unsettled(layout, which), problems)) blamed.push_back(node);
  }
}

std::string find_case(const Node* value, const bike::Layout& layout, Problems& problems) {
  if (value == nullptr || value->text == every_case) return "";
  const auto names = names_of(layout);
  if (std::find(names.begin(), names.end(), value->text) != names.end()) return value->text;
  problems.add(*value, names.empty()
                           ? describe(*value) + " was given, but the brief has no settings and sizes; allowed: all"
                           : "no setting or size is named " + describe(*value) + "; allowed: all, " + join(names) +
                                 suggestion(value->text, names));
  return "";
}

}  // namespace trammel::brief
