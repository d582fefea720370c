// The records of what stands under `packaging` about bodies, regions and lengths.
#include "brief/field_parts.hpp"

namespace trammel::brief {
namespace {

constexpr Limits width{0.0, 2000.0, true};
/// Below 0: so far two bodies may overlap, or a point leave its region.
constexpr Limits clearance{-500.0, 500.0};

void add_body(std::vector<Field>& table, const std::string& path) {
  using enum Shape;
  const std::string body = path + ".bodies.*";
  table.push_back({.path = path + ".bodies",
                   .shape = names,
                   .meaning = "Bodies that need room, by name, in side view. A place is a linkage point, or [x, y] as "
                              "drawn topped out, which `member` carries along.",
                   .least = 1});
  table.push_back({body, group, "A circle, a tube or link with round ends, a polygon, or a part of the bike."});
  table.push_back({body + ".centre", spot, "Centre of a circle.", false, "mm", coordinate});
  table.push_back({body + ".from", spot, "Where the axis of a tube or link starts.", false, "mm", coordinate});
  table.push_back({body + ".to", spot, "Where it ends.", false, "mm", coordinate});
  table.push_back({.path = body + ".corners",
                   .shape = list,
                   .meaning = "Corners of a polygon in order; what lies inside belongs to it.",
                   .least = 3});
  table.push_back({body + ".corners[]", spot, "One corner.", false, "mm", coordinate});
  table.push_back({body + ".diameter", number, "Diameter of a circle or tube; of the shock's body; height of a chain.",
                   false, "mm", width});
  table.push_back({body + ".from_boss", number, "Diameter of a link's boss at `from`.", false, "mm", width});
  table.push_back({body + ".to_boss", number, "Diameter of a link's boss at `to`.", false, "mm", width});
  table.push_back(
      {body + ".member", name, "The member that carries places given by [x, y].", false, "", {}, {}, "\"frame\""});
  table.push_back(
      {body + ".part",
       word,
       "A part that the layout knows: the rear tyre as the wheel's circle, the shock as body and shaft, the "
       "straight spans of the chain's driving run.",
       false,
       "",
       {},
       {"rear_tyre", "shock", "chain"}});
  table.push_back({body + ".body_from", name, "The shock eye from which the shock's body starts.", false});
  table.push_back({body + ".body_length", number, "Length of the shock's body from that eye.", false, "mm", width});
  table.push_back({body + ".shaft", number, "Diameter of the shock's shaft.", false, "mm", width});
  table.push_back({body + ".gear", text, "The chain's gear, such as 32x18."});
}

void add_clearances(std::vector<Field>& table, const std::string& path) {
  using enum Shape;
  table.push_back({.path = path + ".clearances",
                   .shape = list,
                   .meaning = "Least distances of bodies over the whole stroke.",
                   .least = 1});
  table.push_back({path + ".clearances[]", group, "The room around one body."});
  table.push_back({path + ".clearances[].of", name, "The body.", true});
  table.push_back({.path = path + ".clearances[].to",
                   .shape = list,
                   .meaning = "The bodies from which it is kept; the words all_others stand for every other one.",
                   .required = true,
                   .words = {"all_others"},
                   .least = 1,
                   .distinct = true});
  table.push_back({path + ".clearances[].to[]", name, "A body."});
  table.push_back({.path = path + ".clearances[].but",
                   .shape = list,
                   .meaning = "Bodies that all_others leaves out.",
                   .least = 1,
                   .distinct = true});
  table.push_back({path + ".clearances[].but[]", name, "A body."});
  table.push_back({path + ".clearances[].least", number, "Least distance; below 0 the bodies may overlap by so much.",
                   true, "mm", clearance});
}

void add_body_choices(std::vector<Choice>& all, const std::string& body) {
  all.push_back({body,
                 {{{"centre"}, {"member"}},
                  {{"from", "to"}, {"member", "from_boss", "to_boss"}},
                  {{"corners"}, {"member"}},
                  {{"part"}}}});
  // A polygon has no diameter, a circle and a tube have; a part has what its own choices say.
  all.push_back({body, {{{"centre", "diameter"}}, {{"from", "diameter"}}, {{"corners"}}, {{"part"}, {"diameter"}}}});
  all.push_back(
      {body, {{{"centre"}}, {{"from"}}, {{"corners"}}, {{"part"}, {"body_from", "body_length", "shaft", "gear"}}}});
  all.push_back({body, {{{}}}, "part", {"rear_tyre"}, {"diameter", "body_from", "body_length", "shaft", "gear"}});
  all.push_back({body, {{{"body_from", "body_length", "diameter", "shaft"}}}, "part", {"shock"}, {"gear"}});
  all.push_back({body, {{{"gear", "diameter"}}}, "part", {"chain"}, {"body_from", "body_length", "shaft"}});
}

}  // namespace

void add_bodies(std::vector<Field>& table, const std::string& path) {
  add_body(table, path);
  add_clearances(table, path);
}

void add_room(std::vector<Field>& table) {
  using enum Shape;
  add_bodies(table, "packaging");
  table.push_back({.path = "packaging.keep_in",
                   .shape = list,
                   .meaning = "Regions of the frame that points must not leave over the whole stroke.",
                   .least = 1});
  table.push_back({"packaging.keep_in[]", group, "The region of one linkage point: a polygon or a box."});
  table.push_back({"packaging.keep_in[].point", name, "The point.", true});
  table.push_back({.path = "packaging.keep_in[].corners",
                   .shape = list,
                   .meaning = "Corners of the polygon in order.",
                   .least = 3});
  table.push_back({"packaging.keep_in[].corners[]", point, "One corner.", false, "mm", coordinate});
  table.push_back({"packaging.keep_in[].x", interval, "Allowed x.", false, "mm", coordinate});
  table.push_back({"packaging.keep_in[].y", interval, "Allowed y.", false, "mm", coordinate});
  table.push_back({"packaging.keep_in[].least",
                   number,
                   "Least distance from the border; below 0 the point may leave by so much.",
                   false,
                   "mm",
                   clearance,
                   {},
                   "0"});
  table.push_back({.path = "packaging.lengths",
                   .shape = list,
                   .meaning = "Limits of lengths between linkage points, such as a link's, topped out.",
                   .least = 1});
  table.push_back({"packaging.lengths[]", group, "One length."});
  table.push_back({"packaging.lengths[].between", pair, "The two linkage points.", true});
  table.push_back({"packaging.lengths[].least", number, "Least length.", false, "mm", {0, 3000}});
  table.push_back({"packaging.lengths[].greatest", number, "Greatest length.", false, "mm", {0, 3000, true}});
}

void add_room_choices(std::vector<Choice>& all) {
  for (const std::string path : {"packaging", "templates.*.packaging"}) add_body_choices(all, path + ".bodies.*");
  all.push_back({"packaging.keep_in[]", {{{"corners"}}, {{"x"}, {"y"}}, {{"y"}}}});
  all.push_back({"packaging.lengths[]", {{{"least"}, {"greatest"}}, {{"greatest"}}}});
}

}  // namespace trammel::brief
