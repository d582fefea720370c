// `linkages`, what they are built to, and `templates`.
#include "brief/field_parts.hpp"

namespace trammel::brief {

void add_linkages(std::vector<Field>& table) {
  using enum Shape;
  table.push_back({.path = "linkages",
                   .shape = list,
                   .meaning =
                       "Linkage templates to be searched on equal terms, instead of linkage, shock and vary: "
                       "names of those that ship (configs/linkages) or of the brief's templates, or paths of "
                       "files that end in .yaml, from the brief's folder. The word all stands for every one that "
                       "the brief has or, if it has none, that ships.",
                   .words = {"all"},
                   .least = 1,
                   .distinct = true});
  table.push_back({"linkages[]", text, "The name or file of a template."});
  table.push_back(
      {"travel", number, "With linkages: the wheel travel that they are built to.", false, "mm", {10, 1000}});
  table.push_back({"chainstay",
                   number,
                   "With linkages: bottom bracket to rear axle, topped out. The axle is as high as the bike needs to "
                   "stand level.",
                   false,
                   "mm",
                   {100, 1500}});
  table.push_back({"spring", group, "With linkages: the spring of the shock, as under shock.spring."});
  add_spring(table, "spring");
  table.push_back({.path = "templates",
                   .shape = names,
                   .meaning = "The brief's own linkage templates. A study keeps here whichever it was made from.",
                   .least = 1});
  table.push_back({"templates.*", group, "One template; a template's file holds these keys."});
  table.push_back({"templates.*.title", text, "Its name in reports.", false, "", {}, {}, "the template's name"});
  table.push_back({.path = "templates.*.points",
                   .shape = names,
                   .meaning = "All points, by x and y or by distance and angle from another point, each a value or a "
                              "range that the search may move it in. The linkage is drawn with every range in its "
                              "middle.",
                   .required = true,
                   .least = 2});
  table.push_back({"templates.*.points.*", group, "One point."});
  table.push_back({"templates.*.points.*.x", scaled_range, "Its x.", false, "mm"});
  table.push_back({"templates.*.points.*.y", scaled_range, "Its y.", false, "mm"});
  table.push_back(
      {"templates.*.points.*.from", name, "The point from which x and y, or distance and angle, are taken."});
  table.push_back({"templates.*.points.*.length", scaled_range,
                   "Distance from that point; the bare word shock, between the two eyes, stands for whichever shock "
                   "size is chosen.",
                   false, "mm"});
  table.push_back({"templates.*.points.*.angle",
                   range,
                   "Direction from that point, from +x, counter-clockwise.",
                   false,
                   "°",
                   {-360.0, 360.0}});
  table.push_back({"templates.*.points.*.as_long_as", pair, "Instead of length: two points whose distance it is."});
  table.push_back({"templates.*.points.*.mirrors", name, "The point whose mirror image it is."});
  table.push_back({"templates.*.points.*.about", name, "The point in the middle between the two."});
  table.push_back({"templates.*.points.*.across", pair, "Two points; the line through them is the mirror."});
  add_members(table, "templates.*");
  table.push_back({"templates.*.shock", group, "The shock; its size comes from choose.shock.", true});
  table.push_back({"templates.*.shock.between", pair, "The points of its two eyes.", true});
  table.push_back({"templates.*.shock.extends",
                   flag,
                   "True for a shock that gets longer with travel.",
                   false,
                   "",
                   {},
                   {},
                   "false"});
  table.push_back({"templates.*.idler", group,
                   "A pulley that leads the driving run of the chain, where the brief has a drivetrain."});
  add_idler(table, "templates.*.idler");
  table.push_back({"templates.*.packaging", group, "Bodies that this linkage brings, beside those of the brief."});
  add_bodies(table, "templates.*.packaging");
}

}  // namespace trammel::brief
