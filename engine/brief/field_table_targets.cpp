// What stands under `targets`, and which of its keys go together.
#include "brief/brief.hpp"
#include "brief/field_parts.hpp"
#include "brief/notes.hpp"
#include "brief/read_relative.hpp"
#include "brief/scalar.hpp"

namespace trammel::brief {
namespace {

constexpr Limits wished{-1e6, 1e6};

std::vector<std::string> curve_words(auto&& wanted) {
  std::vector<std::string> words;
  for (const auto& record : bike::curve_table()) {
    if (wanted(record)) words.emplace_back(record.key);
  }
  return words;
}
std::vector<std::string> measure_words(auto&& wanted) {
  std::vector<std::string> words;
  for (const auto& record : objectives::measure_table()) {
    if (wanted(record)) words.emplace_back(record.key);
  }
  return words;
}
bool needs_gear(const bike::CurveRecord& record) {
  return record.needs == bike::Needs::gear;
}
bool needs_point(const bike::CurveRecord& record) {
  return record.needs == bike::Needs::point;
}
bool needs_points(const bike::CurveRecord& record) {
  return record.needs == bike::Needs::points;
}

/// Of the curve, or of a measure's own.
bool needs_rider(const bike::CurveRecord& record) {
  return bike::about_rider(record.needs);
}
bool needs_landing(const bike::CurveRecord& record) {
  return record.needs == bike::Needs::landing;
}
bool needs_pivot(const bike::CurveRecord& record) {
  return record.needs == bike::Needs::pivot;
}

void add_place(std::vector<Field>& table, const std::string& path, const std::string& meaning,
               const std::string& fallback) {
  using enum Shape;
  table.push_back({path, group, meaning, false, "", {}, {"sag", "topped_out", "bottomed"}, fallback});
  table.push_back({path + ".travel", number, "Wheel travel there.", false, "mm", up_to(1000)});
  table.push_back({path + ".fraction", number, "Fraction of the whole wheel travel there.", false, "", part});
}

/// Which keys go with which measure.
void add_measure_choices(std::vector<Choice>& all) {
  using objectives::MeasureRecord;
  using objectives::Reduction;
  using objectives::Where;
  all.push_back(
      {"targets[]",
       {{{"curve"}, {"gear", "gears", "point", "points", "pivot", "load"}},
        {{"measure", "curve"}, {"gear", "gears", "point", "points", "pivot", "load", "from", "to", "crosses"}},
        {{"measure"}, {"from", "to", "path"}}}});
  const auto when = [&](std::vector<Form> forms, auto&& wanted, std::vector<std::string> never) {
    all.push_back({"targets[]", std::move(forms), "measure", measure_words(wanted), std::move(never)});
  };
  const auto at = [](Where where) { return [where](const MeasureRecord& r) { return r.where == where; }; };
  when({{{"curve"}}}, [](const MeasureRecord& r) { return !r.curve; }, {});
  const auto about_rider = [](const MeasureRecord& r) { return r.own_curve && needs_rider(bike::record(*r.curve)); };
  when({{{}}}, [&](const MeasureRecord& r) { return r.own_curve && !about_rider(r); }, {"rider"});
  when({{{}}}, [](const MeasureRecord& r) { return r.own_curve && r.reduction != Reduction::bottom_margin; },
       {"spacers"});
  when({{{"curve"}, {"rider", "spacers"}}, {{}}}, [](const MeasureRecord& r) { return r.curve && !r.own_curve; }, {});
  when({{{}}}, [](const MeasureRecord& r) { return r.own_curve; }, {"curve"});
  when({{{}, {"from", "to"}}}, at(Where::between), {"at", "over", "follow", "follow_file", "crosses", "path"});
  when({{{}}}, at(Where::fixed), {"at", "over", "follow", "follow_file", "from", "to", "crosses", "path"});
  when({{{}}}, at(Where::whole), {"at", "over", "follow", "follow_file", "from", "to", "path"});
  when({{{}, {"over"}}}, at(Where::stretch), {"at", "follow", "follow_file", "from", "to", "crosses"});
  when({{{"gears", "at"}}, {{"gears", "over"}}}, at(Where::any),
       {"gear", "follow", "follow_file", "from", "to", "crosses", "path"});
  when({{{"crosses"}}}, [](const MeasureRecord& r) { return r.reduction == Reduction::crossing && !r.own_curve; }, {});
  when({{{"path"}}}, [](const MeasureRecord& r) { return r.reduction == Reduction::path; }, {});
  when({{{}}}, [](const MeasureRecord& r) { return r.where == Where::stretch && r.reduction != Reduction::path; },
       {"path"});
  when({{{}}}, [](const MeasureRecord& r) { return r.where == Where::whole && r.own_curve; }, {"crosses"});
}

}  // namespace

void add_targets(std::vector<Field>& table) {
  using enum Shape;
  const objectives::Target target;
  table.push_back({.path = "targets", .shape = list, .meaning = "What is asked for of the layout.", .least = 1});
  table.push_back({"targets[]", group, "One wish about one curve or measure."});
  table.push_back({"targets[].name",
                   text,
                   "Its name in reports, used once in a brief.",
                   false,
                   "",
                   {},
                   {},
                   "made from curve, gear and place"});
  table.push_back({"targets[].notes", text, "Why it is asked for, or whatever else is to be remembered of it.", false,
                   "", notes_length});
  table.push_back(
      {"targets[].curve", word, "The curve.", false, "", {}, curve_words([](const auto&) { return true; })});
  table.push_back({"targets[].measure",
                   word,
                   "One number made from the curve's values at several places; see the table of measures.",
                   false,
                   "",
                   {},
                   measure_words([](const auto&) { return true; })});
  table.push_back({"targets[].gear", text, "One of the drivetrain's gears, such as 32x18."});
  table.push_back({.path = "targets[].gears",
                   .shape = list,
                   .meaning = "Several gears, in each of which it holds; the word all stands for every one.",
                   .words = {std::string(every_case)},
                   .least = 2,
                   .distinct = true});
  table.push_back({"targets[].gears[]", text, "One of the drivetrain's gears."});
  table.push_back({"targets[].point", name, "The linkage point that point_x or point_y is of."});
  table.push_back({"targets[].points", pair, "The two linkage points that point_distance is between."});
  table.push_back({"targets[].pivot", name, "The pivot or shock eye, a linkage point, that pivot_force is in."});
  table.push_back({"targets[].load", name, "The case of loads.cases that pivot_force is under."});
  table.push_back({"targets[].spacers",
                   whole,
                   "With how many volume spacers in the air spring.",
                   false,
                   "",
                   up_to(50),
                   {},
                   "set_up.most_spacers, or those of shock.spring.air"});
  table.push_back({"targets[].rider",
                   number,
                   "The rider with kit that a curve is about which needs one.",
                   false,
                   "kg",
                   {10, 300},
                   {},
                   "bike.mass.rider, or the size's"});
  add_place(table, "targets[].at", "One place in the travel.", "");
  table.push_back({"targets[].over",
                   interval,
                   "A stretch of the travel, in fractions of wheel travel.",
                   false,
                   "",
                   part,
                   {},
                   "[0, 1] with follow or a measure"});
  add_place(table, "targets[].from", "Where a measure starts.", "\"topped_out\"");
  add_place(table, "targets[].to", "Where a measure ends.", "\"bottomed\"");
  table.push_back({"targets[].crosses", number, "The level that a crossing is of.", false, "the curve's", wished});
  table.push_back({.path = "targets[].path",
                   .shape = list,
                   .meaning =
                       "The wheel path that path_deviation is from: straight lines through points of the axle in "
                       "frame axes, from low to high.",
                   .least = 2});
  table.push_back({"targets[].path[]", point, "One point of the path.", false, "mm", coordinate});
  table.push_back({"targets[].band", interval, "Lowest and highest value wanted.", false, "the curve's", wished});
  table.push_back({"targets[].ceiling", number, "Highest value wanted.", false, "the curve's", wished});
  table.push_back({"targets[].floor", number, "Lowest value wanted.", false, "the curve's", wished});
  table.push_back(
      {"targets[].value", number, "The value wanted, give or take the tolerance.", false, "the curve's", wished});
  table.push_back({.path = "targets[].follow",
                   .shape = list,
                   .meaning = "A path that the curve should follow, give or take the tolerance: straight lines through "
                              "[fraction of wheel travel, value].",
                   .least = 2});
  table.push_back({"targets[].follow[]", step, "One point of the path.", false, "the curve's", wished});
  table.push_back({"targets[].follow_file", text,
                   "The same path from a CSV file beside the brief: two columns, fraction and value, or a header that "
                   "names a column fraction and one after the curve. It is kept with the study."});
  table.push_back(
      {"targets[].of",
       text,
       "The layout whose own value, or curve over a stretch, tells what is asked for: a file from the brief's "
       "folder, or drawn for the layout as drawn. Of several settings and sizes it is looked at in the one "
       "that in names, else in the first.",
       false,
       "",
       {},
       {std::string(drawn_word)}});
  table.push_back({"targets[].times",
                   range,
                   "What that layout has is multiplied by this; of a range comes a band.",
                   false,
                   "",
                   {0.0, 100.0, true},
                   {},
                   "1"});
  table.push_back({"targets[].plus",
                   range,
                   "What is added to that; of a range comes a band.",
                   false,
                   "the curve's",
                   wished,
                   {},
                   "0"});
  table.push_back({"targets[].as",
                   word,
                   "What becomes of the number or curve: the highest or the lowest that is wanted, not the very value.",
                   false,
                   "",
                   {},
                   {"ceiling", "floor"}});
  table.push_back({"targets[].found",
                   number,
                   "What that layout has, as a study keeps it; its file is then not looked at.",
                   false,
                   "the curve's",
                   {-1e9, 1e9}});
  table.push_back({.path = "targets[].found_curve",
                   .shape = list,
                   .meaning = "The same over a stretch: [fraction of wheel travel, value] at its places.",
                   .least = 2});
  table.push_back({"targets[].found_curve[]", step, "One place.", false, "the curve's", {-1e9, 1e9}});
  table.push_back({"targets[].tolerance",
                   number,
                   "What counts as one unit of deviation.",
                   false,
                   "the curve's",
                   above_zero,
                   {},
                   "the curve's own, see the table of curves"});
  table.push_back({"targets[].weight",
                   number,
                   "How much the deviation counts.",
                   false,
                   "",
                   above_zero,
                   {},
                   exact_text(target.weight)});
  table.push_back({"targets[].must",
                   flag,
                   "True: a requirement, without which no layout is feasible; false: a preference.",
                   false,
                   "",
                   {},
                   {},
                   "false"});
  table.push_back({"targets[].between",
                   pair,
                   "What is judged is no value but a difference: of two settings or two sizes the second's value less "
                   "the first's; of all settings or all sizes the greatest less the least. Settings are compared in "
                   "each size by itself, sizes in each setting.",
                   false,
                   "",
                   {},
                   {std::string(settings_word), std::string(sizes_word)}});
  table.push_back({"targets[].in",
                   name,
                   "The setting or size in which it holds; the word all stands for every one.",
                   false,
                   "",
                   {},
                   {},
                   "\"" + std::string(every_case) + "\""});
}

void add_target_choices(std::vector<Choice>& all) {
  for (const std::string place : {"at", "from", "to"}) {
    all.push_back({"targets[]." + place, {{{"travel"}}, {{"fraction"}}}});
  }
  add_measure_choices(all);
  all.push_back({"targets[]",
                 {{{"band"}},
                  {{"ceiling"}},
                  {{"floor"}},
                  {{"value"}},
                  {{"follow"}},
                  {{"follow_file"}},
                  {{"of"}, {"times", "plus", "as", "found", "found_curve"}}}});
  all.push_back({"targets[]",
                 {{{"at"}, {"of"}},
                  {{"over"}, {"follow", "follow_file", "of"}},
                  {{"follow"}},
                  {{"follow_file"}},
                  {{"of"}},
                  {{"measure"}, {"at", "over", "of"}}}});
  all.push_back({"targets[]", {{{"gear"}}, {{"gears"}}}, "curve", curve_words(needs_gear)});
  all.push_back(
      {"targets[]", {{{}}}, "curve", curve_words([](const auto& r) { return !needs_gear(r); }), {"gear", "gears"}});
  all.push_back({"targets[]", {{{}}}, "curve", curve_words([](const auto& r) { return !needs_rider(r); }), {"rider"}});
  all.push_back(
      {"targets[]", {{{}}}, "curve", curve_words([](const auto& r) { return !needs_landing(r); }), {"spacers"}});
  all.push_back({"targets[]", {{{"point"}}}, "curve", curve_words(needs_point), {"points", "pivot", "load"}});
  all.push_back({"targets[]", {{{"points"}}}, "curve", curve_words(needs_points), {"point", "pivot", "load"}});
  all.push_back({"targets[]", {{{"pivot", "load"}}}, "curve", curve_words(needs_pivot), {"point", "points"}});
  all.push_back({"targets[]",
                 {{{}}},
                 "curve",
                 curve_words([](const auto& r) { return !needs_point(r) && !needs_points(r) && !needs_pivot(r); }),
                 {"point", "points", "pivot", "load"}});
}

}  // namespace trammel::brief
