// What stands under `settings` and `sizes`, and the parts of `bike` that they share.
#include "brief/field_parts.hpp"

namespace trammel::brief {
namespace {

constexpr Limits move{-200.0, 200.0};

}  // namespace

void add_wheel(std::vector<Field>& table, const std::string& path, const std::string& meaning, bool required) {
  using enum Shape;
  table.push_back({path, group, meaning, required});
  table.push_back({path + ".radius", number, "From axle to ground.", false, "mm", {100, 600}});
  table.push_back({.path = path + ".bead_seat",
                   .shape = number,
                   .meaning = "Bead-seat diameter of the rim, the second number of the ISO 5775 tyre designation.",
                   .unit = "mm",
                   .limits = {150, 800},
                   .always_mm = true});
  table.push_back({path + ".tyre_height",
                   number,
                   "Height of the tyre over the bead seat; the radius is bead_seat/2 + tyre_height.",
                   false,
                   "mm",
                   {5, 150}});
}

void add_front_place(std::vector<Field>& table, const std::string& path) {
  using enum Shape;
  table.push_back({path + ".axle", point, "Front axle.", false, "mm", coordinate});
  table.push_back({path + ".reach",
                   number,
                   "Top centre of the head tube, forward of the bottom bracket.",
                   false,
                   "mm",
                   {100, 1000}});
  table.push_back(
      {path + ".stack", number, "Top centre of the head tube, above the bottom bracket.", false, "mm", {100, 1200}});
  table.push_back(
      {path + ".head_tube", number, "Length of the head tube along the steering axis.", false, "mm", {20, 400}});
  table.push_back({path + ".fork_length",
                   number,
                   "From the crown race at the lower end of the head tube to the axle, along the steering axis.",
                   false,
                   "mm",
                   {200, 900}});
  table.push_back({path + ".fork_offset",
                   number,
                   "From the steering axis forward to the axle, square to it.",
                   false,
                   "mm",
                   {-50, 150}});
}

void add_cases(std::vector<Field>& table) {
  using enum Shape;
  table.push_back({.path = "settings",
                   .shape = list,
                   .meaning = "Ways in which the bike can be set; curves, targets and packaging hold in each. One with "
                              "a name only is the layout as drawn.",
                   .fallback = "the layout as drawn",
                   .least = 1});
  table.push_back({"settings[]", group, "One setting, by what differs from the layout as drawn."});
  table.push_back({"settings[].name", name, "Its name, used once over settings and sizes.", true});
  table.push_back({.path = "settings[].move",
                   .shape = names,
                   .meaning =
                       "Linkage points that a flip chip moves. The bike is assembled anew from the points as "
                       "drawn with these moved: every member that carries one is as if made so. When a shock eye "
                       "moves, the shock keeps its length and the linkage settles topped out.",
                   .least = 1});
  table.push_back({"settings[].move.*", point, "By how much, forward and up.", false, "mm", move});
  table.push_back({"settings[].shock", group,
                   "Another shock in place of the layout's or the chosen one; the linkage settles topped out on its "
                   "length."});
  table.push_back({"settings[].shock.length", number, "Eye to eye, topped out.", true, "mm", {20, 1500}});
  table.push_back({"settings[].shock.stroke", number, "Its stroke.", true, "mm", {1, 500}});
  table.push_back({"settings[].wheels", group, "Another wheel."});
  add_wheel(table, "settings[].wheels.rear", "The rear wheel, by its radius or by rim and tyre.", true);

  table.push_back({.path = "sizes",
                   .shape = list,
                   .meaning = "Frame sizes around the same linkage; targets hold in each, and reports show the spread.",
                   .fallback = "the layout as drawn",
                   .least = 1});
  table.push_back({"sizes[]", group, "One size, by what differs from the layout as drawn."});
  table.push_back({"sizes[].name", name, "Its name, used once over settings and sizes.", true});
  table.push_back({"sizes[].front", group, "Another front; the fork's travel and how it follows are those of bike."});
  add_front_place(table, "sizes[].front");
  table.push_back({"sizes[].front.head_angle",
                   number,
                   "Steering axis from the horizontal.",
                   false,
                   "°",
                   {30, 90},
                   {},
                   "that of bike.front"});
  table.push_back({"sizes[].chainstay",
                   number,
                   "By how much the rear axle lies further back on its member; no other point moves.",
                   false,
                   "mm",
                   move,
                   {},
                   "0"});
  table.push_back({"sizes[].rider",
                   number,
                   "Mass of its rider with kit, for whom alone the spring is then set up.",
                   false,
                   "kg",
                   {0, 300},
                   {},
                   "that of bike.mass"});
  table.push_back({.path = "sizes[].riders",
                   .shape = list,
                   .meaning = "Several of them; spring_support and what else is about one rider takes the first.",
                   .least = 2,
                   .distinct = true});
  table.push_back({"sizes[].riders[]", number, "One rider.", false, "kg", {10, 300}});
  table.push_back({"sizes[].cg", group, "Another centre of gravity; what it follows is that of bike."});
  table.push_back({"sizes[].cg.x", number, "Forward of the bottom bracket.", true, "mm", coordinate});
  table.push_back({"sizes[].cg.height", number, "Over the ground.", true, "mm", {0, 3000, true}});
}

}  // namespace trammel::brief
