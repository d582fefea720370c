// The records themselves. Defaults are the structs' own, so that no number stands twice.
#include <array>

#include "bike/curve.hpp"
#include "brief/brief.hpp"
#include "brief/field_parts.hpp"
#include "brief/fields.hpp"
#include "brief/notes.hpp"
#include "brief/scalar.hpp"
#include "brief/units.hpp"

namespace trammel::brief {
namespace {

constexpr Limits angle{-360.0, 360.0};

void add_bike(std::vector<Field>& table) {
  using enum Shape;
  table.push_back({"bike", group, "The rest of the bike around the linkage.", true});
  std::vector<std::string> kinds;
  kinds.reserve(std::size(bike::kind_table));
  for (const bike::KindRecord& record : bike::kind_table) kinds.emplace_back(record.key);
  table.push_back({"bike.kind",
                   word,
                   "What the bike is for; only the remarks of guidance look at it.",
                   false,
                   "",
                   {},
                   kinds,
                   "not said, and only general remarks apply"});
  table.push_back({"bike.wheels", group, "Both wheels.", true});
  for (const std::string wheel : {"rear", "front"}) {
    const std::string path = "bike.wheels." + wheel;
    add_wheel(table, path, "The " + wheel + " wheel, by its radius or by rim and tyre.", true);
  }
  const bike::Front front;
  table.push_back({"bike.front", group, "Fork and steering axis, topped out.", true});
  add_front_place(table, "bike.front");
  table.push_back({"bike.front.head_angle", number, "Steering axis from the horizontal.", true, "°", {30, 90}});
  table.push_back({"bike.front.travel", number, "Fork travel along the steering axis.", true, "mm", up_to(400)});
  table.push_back({"bike.front.follows",
                   word,
                   "What the fork does while the rear moves: it has used the same fraction of its travel (matched), "
                   "stays topped out (extended), or stays at its sag (at_sag).",
                   false,
                   "",
                   {},
                   {"matched", "extended", "at_sag"},
                   "\"matched\""});
  table.push_back({"bike.front.sag",
                   number,
                   "Fraction of fork travel used when follows is at_sag; otherwise for one line of the geometry chart.",
                   false,
                   "",
                   part,
                   {},
                   exact_text(front.sag)});
  table.push_back({"bike.cg", group, "Centre of gravity of rider and sprung mass, topped out.", true});
  table.push_back({"bike.cg.x", number, "Forward of the bottom bracket.", true, "mm", coordinate});
  table.push_back({"bike.cg.height", number, "Over the ground.", true, "mm", distance});
  table.push_back({"bike.cg.follows",
                   word,
                   "Fixed to the frame (its height changes as the rear compresses), or at constant height over the "
                   "ground.",
                   false,
                   "",
                   {},
                   {"frame", "ground"},
                   "\"frame\""});
  table.push_back({"bike.seat_angle",
                   number,
                   "Effective seat angle topped out: the line from bottom bracket to saddle from the horizontal.",
                   false,
                   "°",
                   {45, 90}});
  const bike::Masses mass;
  table.push_back({"bike.mass", group, "Masses; needed for set-up only."});
  table.push_back({"bike.mass.rider", number, "Rider with kit.", true, "kg", up_to(300)});
  table.push_back({"bike.mass.bike", number, "Whole bike, unsprung parts included.", true, "kg", up_to(300)});
  table.push_back({"bike.mass.rear_unsprung",
                   number,
                   "What moves with the rear axle.",
                   false,
                   "kg",
                   up_to(100),
                   {},
                   exact_text(mass.rear_unsprung)});
  table.push_back({"bike.mass.front_unsprung",
                   number,
                   "What moves with the front axle.",
                   false,
                   "kg",
                   up_to(100),
                   {},
                   exact_text(mass.front_unsprung)});
}

void add_drivetrain(std::vector<Field>& table) {
  using enum Shape;
  table.push_back({"drivetrain", group, "Chain; needed for curves that name a gear."});
  table.push_back({"drivetrain.chainring", whole, "Teeth of the one chainring.", false, "", teeth});
  table.push_back({.path = "drivetrain.chainrings",
                   .shape = list,
                   .meaning = "Teeth of several chainrings; each with every cog is a gear.",
                   .least = 1,
                   .distinct = true});
  table.push_back({"drivetrain.chainrings[]", whole, "Teeth of a chainring.", false, "", teeth});
  table.push_back({.path = "drivetrain.gears",
                   .shape = list,
                   .meaning = "Cogs whose curves are wanted; with a chainring of 32, the cog 18 is the gear 32x18.",
                   .fallback = "every cog of the cassette",
                   .least = 1,
                   .distinct = true});
  table.push_back({"drivetrain.gears[]", whole, "Teeth of a cog.", false, "", teeth});
  table.push_back({.path = "drivetrain.cassette",
                   .shape = list,
                   .meaning = "All cogs on the bike, for the derailleur's capacity.",
                   .fallback = "the cogs of gears",
                   .least = 1,
                   .distinct = true});
  table.push_back({"drivetrain.cassette[]", whole, "Teeth of a cog.", false, "", teeth});
  table.push_back({.path = "drivetrain.clear_of",
                   .shape = list,
                   .meaning = "Linkage points from which the chain's distance is taken.",
                   .fallback = "every pivot and shock eye but the axle, the idler and the roller",
                   .least = 1,
                   .distinct = true});
  table.push_back({"drivetrain.clear_of[]", name, "A linkage point."});
  table.push_back({"drivetrain.idler", group, "A pulley that leads the driving run of the chain."});
  add_idler(table, "drivetrain.idler");
  table.push_back({"drivetrain.roller", group, "A pulley that leads the slack run, for total_chain_growth."});
  add_idler(table, "drivetrain.roller");
}

void add_linkage(std::vector<Field>& table) {
  using enum Shape;
  table.push_back({"linkage", group, "The rear suspension, drawn topped out."});
  table.push_back({.path = "linkage.points",
                   .shape = names,
                   .meaning = "All points of the linkage by name, in frame axes: origin at the bottom bracket, x "
                              "forward, y up.",
                   .least = 2});
  table.push_back({"linkage.points.*", point, "Where the point lies topped out.", false, "mm", coordinate});
  add_picture(table);
  add_members(table, "linkage");
}

void add_drive(std::vector<Field>& table) {
  using enum Shape;
  table.push_back({"shock", group, "The shock, which drives the linkage."});
  table.push_back({"shock.between", pair, "The linkage points of its two eyes.", true});
  table.push_back({"shock.length", number, "Eye to eye, topped out.", true, "mm", {20, 1500}});
  table.push_back({"shock.stroke", number, "Its stroke.", true, "mm", {1, 500}});
  table.push_back(
      {"shock.extends", flag, "True for a shock that gets longer with travel.", false, "", {}, {}, "false"});
  table.push_back({"shock.spring", group, "Its spring; needed for forces and the wheel rate."});
  add_spring(table, "shock.spring");
  table.push_back({"drive", group, "Moves a linkage that has no shock."});
  table.push_back(
      {"drive.travel", number, "Rise of the rear axle from topped out to bottomed.", false, "mm", {0, 1000, true}});
  table.push_back({"drive.member", name, "The member that is turned."});
  table.push_back({"drive.turn",
                   number,
                   "Its turn from topped out to bottomed, counter-clockwise positive.",
                   false,
                   "°",
                   {-180, 180, false, false, true}});
  const bike::Sag sag;
  table.push_back({.path = "sag",
                   .shape = group,
                   .meaning = "Where the bike sits under its rider.",
                   .fallback = "{ fraction: " + exact_text(sag.fraction) + ", of: wheel }"});
  table.push_back({"sag.fraction", number, "Fraction used.", true, "", part});
  table.push_back(
      {"sag.of", word, "Of wheel travel, or of the shock's stroke.", false, "", {}, {"wheel", "shock"}, "\"wheel\""});
}

void add_study(std::vector<Field>& table) {
  using enum Shape;
  table.push_back({.path = "vary",
                   .shape = names,
                   .meaning = "Points that the search may move: by x and y, from the bottom bracket or from another "
                              "point, by distance and angle from another point, or as its mirror image. What is left "
                              "out stays as drawn.",
                   .least = 1});
  table.push_back({"vary.*", group, "One linkage point."});
  table.push_back(
      {"vary.*.x", range, "Its x; with from, how far it lies ahead of that point.", false, "mm", coordinate});
  table.push_back({"vary.*.y", range, "Its y; with from, how far it lies above that point.", false, "mm", coordinate});
  table.push_back(
      {"vary.*.from", name,
       "The linkage point from which x and y, or distance and angle, are taken: it comes along when that one "
       "moves."});
  table.push_back({"vary.*.length",
                   range,
                   "Distance from that point; the word shock stands for the shock's eye-to-eye length.",
                   false,
                   "mm",
                   distance,
                   {"shock"}});
  table.push_back({"vary.*.as_long_as", pair,
                   "Instead of length: two linkage points, whose distance topped out it is, as of links cut from one "
                   "part."});
  table.push_back({"vary.*.angle", range, "Direction from that point, from +x, counter-clockwise.", false, "°", angle});
  table.push_back({"vary.*.mirrors", name, "The linkage point whose mirror image it is, topped out."});
  table.push_back({"vary.*.about", name, "The linkage point in the middle between the two."});
  table.push_back({"vary.*.across", pair, "Two linkage points; the line through them is the mirror."});
  table.push_back({.path = "keep",
                   .shape = list,
                   .meaning = "Members that keep the shape that they are drawn with: of its points one may be placed "
                              "freely and one more by its direction from that; all others follow as one body.",
                   .least = 1,
                   .distinct = true});
  table.push_back({"keep[]", name, "A member."});
  table.push_back({"choose", group, "Things to be chosen from a list."});
  table.push_back({.path = "choose.shock",
                   .shape = list,
                   .meaning =
                       "Shock sizes. A word stands for the usual ones: metric with two eyes, trunnion with bolts "
                       "in the body at one end, standard for both.",
                   .words = {"standard", "metric", "trunnion"},
                   .least = 1});
  table.push_back({"choose.shock[]", group, "One size."});
  table.push_back({"choose.shock[].length", number, "Eye to eye, topped out.", true, "mm", {20, 1500}});
  table.push_back({"choose.shock[].stroke", number, "Its stroke.", true, "mm", {1, 500}});
  table.push_back({"choose.shock_length", interval, "Limits of the usual sizes' length.", false, "mm", {20, 1500}});
  table.push_back({"choose.shock_stroke", interval, "Limits of their stroke.", false, "mm", {1, 500}});
  table.push_back(
      {.path = "choose.idler", .shape = list, .meaning = "Teeth of the idler.", .least = 1, .distinct = true});
  table.push_back({"choose.idler[]", whole, "Teeth.", false, "", teeth});
  table.push_back({.path = "choose.chainring",
                   .shape = list,
                   .meaning =
                       "Teeth of the chainring, in place of the one drawn. Gears are then named by their cog alone: "
                       "x18.",
                   .least = 1,
                   .distinct = true});
  table.push_back({"choose.chainring[]", whole, "Teeth.", false, "", teeth});
}

void add_packaging(std::vector<Field>& table) {
  using enum Shape;
  const objectives::Packaging packaging;
  table.push_back({"packaging", group, "What must fit."});
  table.push_back(
      {.path = "packaging.boxes", .shape = names, .meaning = "Boxes that points must lie in, topped out.", .least = 1});
  table.push_back({"packaging.boxes.*", group, "The box of one linkage point."});
  table.push_back({"packaging.boxes.*.x", interval, "Allowed x.", false, "mm", coordinate});
  table.push_back({"packaging.boxes.*.y", interval, "Allowed y.", false, "mm", coordinate});
  table.push_back({"packaging.least_pivot_distance", number,
                   "Least distance between any two pivots or shock eyes over the whole stroke.", false, "mm",
                   up_to(500)});
  table.push_back({"packaging.least_chain_clearance", number,
                   "Least distance of the driving run from drivetrain.clear_of over the whole travel, in every gear.",
                   false, "mm", up_to(500)});
  table.push_back(
      {"packaging.derailleur_capacity",
       number,
       "Teeth that the derailleur takes up: differences of chainrings and cogs, and the growth of both runs "
       "over the whole travel at half a pitch a tooth.",
       false,
       "",
       {1, 200}});
  table.push_back({"packaging.least_transmission_angle",
                   number,
                   "Least transmission angle at any joint over the whole stroke.",
                   false,
                   "°",
                   {0, 90, true, true},
                   {},
                   exact_text(packaging.least_transmission_angle)});
  add_room(table);
}

std::vector<Field> make_fields() {
  using enum Shape;
  std::vector<Field> table;
  table.push_back({"", group, "A brief, or a layout when nothing varies and nothing is asked for."});
  table.push_back({"trammel", whole, "Version of the file format.", true, "", {1, 1}});
  table.push_back({"title", text, "Name of the bike in reports.", false, "", {}, {}, "the file's name"});
  table.push_back(
      {"notes", text,
       "Whatever is to be remembered of the bike, in one line or several; kept and shown, never computed with.", false,
       "", notes_length});
  table.push_back({"units",
                   word,
                   "The unit of lengths in this file. With inch reports give mm and inches, with mm_and_inch as well. "
                   "Never in inches: bead_seat, a measured spring's readings, CSV files and template files beside the "
                   "brief, and what is no length, such as rates in N/mm. A study keeps its brief in mm.",
                   false,
                   "",
                   {},
                   {"mm", std::string(inch_word), std::string(both_word)},
                   "\"mm\""});
  add_bike(table);
  add_drivetrain(table);
  add_linkage(table);
  add_drive(table);
  add_linkages(table);
  add_loads(table);
  add_cases(table);
  add_study(table);
  add_targets(table);
  add_packaging(table);
  add_sound(table);
  add_tolerances(table);
  add_search(table);
  add_references(table);
  return table;
}

std::vector<Choice> make_choices() {
  std::vector<Choice> all;
  all.push_back({"",
                 {{{"linkage", "shock"}},
                  {{"linkage", "drive"}},
                  {{"linkages", "travel", "chainstay"}, {"templates", "spring"}}}});
  all.push_back({"",
                 {{{}},
                  {{"targets", "vary"}, {"choose", "packaging", "sound", "search", "references"}},
                  {{"targets", "choose"}, {"packaging", "sound", "search", "references"}},
                  {{"linkages", "targets", "choose"}, {"packaging", "sound", "search", "references"}}}});
  for (const std::string wheel : {"bike.wheels.rear", "bike.wheels.front", "settings[].wheels.rear"}) {
    all.push_back({wheel, {{{"radius"}}, {{"bead_seat", "tyre_height"}}}});
  }
  for (const std::string front : {"bike.front", "sizes[].front"}) {
    all.push_back({front,
                   {{{"axle"}},
                    {{"axle", "reach", "stack"}, {"head_tube"}},
                    {{"reach", "stack", "head_tube", "fork_length", "fork_offset"}}}});
  }
  all.push_back({"bike.front", {{{"sag"}}}, "follows", {"at_sag"}});
  all.push_back({"linkage", {{{"points"}}, {{"picture"}}}});
  all.push_back({"drivetrain", {{{"chainring"}}, {{"chainrings"}}}});
  all.push_back({"drivetrain", {{{"gears"}, {"cassette"}}, {{"cassette"}}}});
  for (const std::string spring : {"shock.spring", "spring"}) {
    all.push_back({spring, {{{"coil"}}, {{"air"}}, {{"table"}}}});
    all.push_back({spring + ".table", {{{"file"}}, {{"points"}}}});
  }
  all.push_back({"loads", {{{"landing"}, {"cases"}}, {{"cases"}}}});
  all.push_back({"loads.cases.*", {{{"vertical"}}, {{"vertical", "braking"}}, {{"vertical", "driving", "gear"}}}});
  all.push_back({"sizes[]", {{{}, {"rider"}}, {{"riders"}}}});
  all.push_back({"drive", {{{"travel"}}, {{"member", "turn"}}}});
  all.push_back({"vary.*",
                 {{{"x"}, {"y"}},
                  {{"y"}},
                  {{"from"}, {"x", "y"}},
                  {{"from", "length"}, {"angle"}},
                  {{"from", "as_long_as"}, {"angle"}},
                  {{"from", "angle"}},
                  {{"mirrors", "about"}},
                  {{"mirrors", "across"}}}});
  all.push_back({"templates.*.points.*",
                 {{{"x", "y"}, {"from"}},
                  {{"from", "length", "angle"}},
                  {{"from", "as_long_as", "angle"}},
                  {{"mirrors", "about"}},
                  {{"mirrors", "across"}}}});
  all.push_back({"choose", {{{"shock"}, {"idler", "chainring"}}, {{"idler"}, {"chainring"}}, {{"chainring"}}}});
  all.push_back({"choose", {{{"shock"}, {"shock_length", "shock_stroke"}}, {{}}}});
  all.push_back({"packaging.boxes.*", {{{"x"}, {"y"}}, {{"y"}}}});
  add_room_choices(all);
  add_target_choices(all);
  return all;
}

}  // namespace

void add_idler(std::vector<Field>& table, const std::string& path) {
  using enum Shape;
  table.push_back({path + ".teeth", whole, "Its teeth.", true, "", teeth});
  table.push_back({path + ".point", name, "The linkage point of its axis.", true});
  table.push_back(
      {path + ".run", word, "On which side of it the chain runs.", false, "", {}, {"over", "under"}, "\"over\""});
}

void add_members(std::vector<Field>& table, const std::string& path) {
  using enum Shape;
  table.push_back({.path = path + ".members",
                   .shape = names,
                   .meaning = "The rigid members by name, each with the points that it carries. Two members that list "
                              "the same point are joined there by a pivot.",
                   .required = true,
                   .least = 2});
  table.push_back({.path = path + ".members.frame",
                   .shape = list,
                   .meaning = "The front triangle, which is held still.",
                   .required = true,
                   .least = 1,
                   .distinct = true});
  table.push_back({path + ".members.frame[]", name, "A linkage point."});
  table.push_back({.path = path + ".members.*",
                   .shape = list,
                   .meaning = "The points that the member carries.",
                   .least = 1,
                   .distinct = true});
  table.push_back({path + ".members.*[]", name, "A linkage point."});
  table.push_back(
      {.path = path + ".sliders", .shape = list, .meaning = "Points that are kept on a straight line.", .least = 1});
  table.push_back({path + ".sliders[]", group, "One point on one line."});
  table.push_back({path + ".sliders[].point", name, "The point that slides.", true});
  table.push_back({path + ".sliders[].member", name, "The member that carries the line.", true});
  table.push_back({path + ".sliders[].along", pair, "Two points of that member, through which the line runs.", true});
  table.push_back({.path = path + ".through_line",
                   .shape = list,
                   .meaning = "Joints whose two links may come into line and part again on the other side, where the "
                              "rest of the linkage says which side that is. Such a joint has no transmission angle.",
                   .least = 1,
                   .distinct = true});
  table.push_back({path + ".through_line[]", name, "The joint, a linkage point."});
  table.push_back({path + ".axle", group, "The rear axle.", true});
  table.push_back({path + ".axle.point", name, "Its linkage point.", true});
  table.push_back({path + ".axle.member", name, "The member that carries it.", true});
  table.push_back({.path = path + ".brake",
                   .shape = group,
                   .meaning = "The rear brake.",
                   .fallback = "carried by the axle's member"});
  table.push_back({path + ".brake.member", name, "The member that carries the caliper.", true});
}

const std::vector<Field>& fields() {
  static const auto table = make_fields();
  return table;
}

const std::vector<Choice>& choices() {
  static const auto table = make_choices();
  return table;
}

}  // namespace trammel::brief
