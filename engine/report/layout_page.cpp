#include <algorithm>
#include <functional>
#include <variant>

#include "bike/reading.hpp"
#include "brief/problems.hpp"
#include "report/case_tables.hpp"
#include "report/centres.hpp"
#include "report/choices.hpp"
#include "report/csv.hpp"
#include "report/curve_plots.hpp"
#include "report/digits.hpp"
#include "report/drawing.hpp"
#include "report/guidance_table.hpp"
#include "report/inches.hpp"
#include "report/live_panel.hpp"
#include "report/load_tables.hpp"
#include "report/motion_figure.hpp"
#include "report/notes.hpp"
#include "report/pages.hpp"
#include "report/parts.hpp"
#include "report/scene.hpp"
#include "report/svg_canvas.hpp"
#include "report/tolerance_tables.hpp"
#include "report/wording.hpp"
#include "report/workshop_drawing.hpp"

namespace trammel::report {

namespace {

using search::Sheet;

/// The targets of one origin.
Html target_table(const Sheet& sheet, const std::vector<objectives::Target>& targets, objectives::Origin origin) {
  std::vector<std::vector<Html>> rows;
  for (std::size_t i = 0; i < std::min(targets.size(), sheet.assessment.targets.size()); ++i) {
    const auto& target = targets[i];
    if (target.origin != origin) continue;
    const auto& verdict = sheet.assessment.targets[i];
    Html name = text(target.name);
    if (target.must) name += Html(" ") + element("span", {{"class", "must"}}, text("required"));
    std::string wished = wish(target);
    if (target.wish.along_path()) {
      wished += ", there " + quantity(verdict.wished, decimals_for(target.tolerance), unit_of(target));
    }
    const std::string judged = has_place(target) ? shown(verdict.at_travel, 1) + " mm" : "–";
    std::string achieved = outcome(target, verdict);
    if (verdict.gear >= 0)
      achieved += ", in " + sheet.layout.drivetrain.gears[static_cast<std::size_t>(verdict.gear)].name();
    std::string where = place(target);
    if (i < sheet.departures.size() && sheet.departures[i])
      where += "; in between up to " +
               shown(sheet.departures[i]->amount, decimals_for(bike::record(target.curve.curve).tolerance)) +
               " off a straight line, at " + shown(sheet.departures[i]->at_travel, 0) + " mm";
    rows.push_back({head_cell(name), cell(subject(target, sheet.layout)), cell(where), cell(wished),
                    number_cell(achieved), number_cell(judged), number_cell(shown(verdict.margin, 3)),
                    element("td", met_mark(verdict.met))});
  }
  if (rows.empty()) return {};
  return table("", {"Target", "Curve", "Where", "Asked for", "Achieved", "At travel", "Margin", "Verdict"}, rows);
}

/// The rules of one origin.
Html rule_table(const Sheet& sheet, objectives::Origin origin) {
  std::vector<std::vector<Html>> rows;
  for (const auto& rule : sheet.assessment.rules) {
    if (rule.origin != origin) continue;
    rows.push_back({head_cell(text(rule.name)), cell(quantity(rule.demanded, 1, rule.unit)),
                    number_cell(quantity(rule.achieved, 1, rule.unit)),
                    cell(rule.where + (rule.in.empty() ? "" : ", in " + rule.in)),
                    number_cell(shown(rule.at_travel, 1) + " mm"), number_cell(shown(rule.margin, 3)),
                    element("td", met_mark(rule.met))});
  }
  Html out;
  if (!rows.empty())
    out += table("", {"Rule", "Demanded", "Achieved", "Where", "At travel", "Margin", "Verdict"}, rows);
  const auto& motion = sheet.motion;
  if (origin == objectives::Origin::brief && !motion.least_transmission_joint.empty()) {
    out += element("p", "Least transmission angle " + quantity(motion.least_transmission, 1, "°") + " at " +
                            motion.least_transmission_joint + ", " + shown(motion.least_transmission_travel, 1) +
                            " mm of travel.");
  }
  return out;
}

/// What holds unless the brief says otherwise.
Html sound_demands(const Sheet& sheet, const std::vector<objectives::Target>& targets) {
  const Html own =
      target_table(sheet, targets, objectives::Origin::sound) + rule_table(sheet, objectives::Origin::sound);
  if (own.empty()) return {};
  return element("p",
                 "Demands that hold unless the brief gives other limits under “sound”, or drops them: common "
                 "practice, no source.") +
         own;
}

Html pivot_table(const Sheet& sheet, const std::vector<std::string>& tied, bool in_inches = false) {
  std::vector<std::vector<Html>> rows;
  const auto& names = sheet.layout.mechanism.point_names;
  const bool any_tied = std::any_of(tied.begin(), tied.end(), [](const std::string& words) { return !words.empty(); });
  for (std::size_t i = 0; i < names.size(); ++i) {
    std::vector<Html> row{head_cell(text(names[i])), cell(brief::join(members_at(sheet.layout, static_cast<int>(i))))};
    for (const auto* pose : {&sheet.topped_out, &sheet.at_sag, &sheet.bottomed})
      for (const double x : {pose->points[i].x, pose->points[i].y})
        row.push_back(number_cell(in_inches ? inches(x, 2) : shown(x, 2)));
    if (any_tied) row.push_back(cell(tied[i]));
    rows.push_back(std::move(row));
  }
  std::vector<std::string> heads{"Point",    "Members",  "x topped out", "y topped out",
                                 "x at sag", "y at sag", "x bottomed",   "y bottomed"};
  if (any_tied) heads.push_back("Tied, as drawn");
  return table(in_inches ? "The same in inches." : "Frame axes, mm. Unrounded numbers in pivots.csv and layout.yaml.",
               heads, rows);
}

Html member_table(const Sheet& sheet) {
  std::vector<std::vector<Html>> rows;
  for (const CentreDistance& one : centre_distances(sheet.layout))
    rows.push_back(
        {head_cell(text(one.member)), cell(one.from + " – " + one.to), number_cell(quantity(one.distance, 2, "mm"))});
  return table("", {"Member", "Between", "Length"}, rows);
}

/// The spring as the layout has it.
void spring_rows(const Sheet& sheet, const std::function<void(const char*, const std::string&)>& row) {
  const spring::Spring& spring = *sheet.layout.shock->spring;
  if (const auto* coil = std::get_if<spring::Coil>(&spring.kind)) {
    row("Coil rate", quantity(coil->rate, 1, "N/mm"));
    row("Preload", quantity(coil->preload, 1, "mm"));
  } else if (const auto* air = std::get_if<spring::Air>(&spring.kind)) {
    row("Air spring, bore", quantity(air->bore, 1, "mm"));
    row("Pressure topped out, gauge", quantity(air->pressure, 2, "bar"));
    row("Positive chamber with its spacers", quantity(air->positive_chamber().volume / spring::mm3_per_cm3, 1, "cm³") +
                                                 ", " + std::to_string(air->spacers) + " spacers");
    row("Negative chamber", air->negative > 0.0 ? quantity(air->negative, 1, "cm³") : "none");
    row("Exponent of a stroke", shown(air->exponent, 2));
  } else if (const auto* table = std::get_if<spring::Table>(&spring.kind)) {
    row("Measured spring", std::to_string(table->points().size()) + " readings");
  }
  if (const auto& stop = spring.bump_stop)
    row("Bump stop", quantity(stop->force, 0, "N") + " over the last " + quantity(stop->length, 1, "mm"));
  const auto bottomed = [&](bike::Curve curve) {
    const bike::Values all = values(sheet.motion.table, {curve});
    return all.empty() ? std::nullopt : all.back();
  };
  const bike::CurveKey left{bike::Curve::energy_to_bottom};
  if (const auto energy = value_at(sheet.motion.table, left, sheet.at_sag.travel))
    row("Energy from sag to bottom, as sprung here", quantity(*energy, 0, "J"));
  if (const auto force = bottomed(bike::Curve::wheel_force)) {
    row("Wheel force bottomed", quantity(*force, 0, "N"));
    if (const auto& landing = sheet.layout.loads.landing)
      row("Bottom-out margin for the landing load", quantity(100.0 * (*force / *landing - 1.0), 0, "%"));
  }
  if (spring.breakaway > 0.0) row("Breakaway friction", "± " + quantity(spring.breakaway, 0, "N"));
}

Html shock_table(const Sheet& sheet) {
  const auto& layout = sheet.layout;
  const double travel = sheet.bottomed.travel;
  std::vector<std::vector<Html>> rows;
  const auto row = [&](const char* label, const std::string& value) {
    rows.push_back({head_cell(text(label)), number_cell(value)});
  };
  row("Wheel travel", quantity(travel, 2, "mm"));
  row("Wheel travel at sag", quantity(sheet.at_sag.travel, 2, "mm"));
  if (layout.shock) {
    const auto& shock = *layout.shock;
    const auto& drive = layout.mechanism.drive;
    const auto& names = layout.mechanism.point_names;
    row("Shock between", names[static_cast<std::size_t>(drive.a)] + " – " + names[static_cast<std::size_t>(drive.b)]);
    row("Eye to eye", quantity(shock.length, 2, "mm"));
    row("Stroke", quantity(shock.stroke, 2, "mm"));
    row("Shock travel at sag", quantity(sheet.at_sag.shock, 2, "mm"));
    row("Mean leverage ratio", shown(shock.stroke > 0.0 ? travel / shock.stroke : 0.0, 3));
    if (drive.extends) row("Working direction", "extends");
    if (shock.spring) spring_rows(sheet, row);
  }
  return table("", {"Shock and travel", "Amount"}, rows);
}

/// The place of a value in its range, as a bar; at a limit it is flagged, for a limit that binds may be worth moving.
Html varied_table(const Sheet& sheet) {
  std::vector<std::vector<Html>> rows;
  for (const auto& v : sheet.varied) {
    const double width = v.hi - v.lo;
    const double part = width > 0.0 ? std::clamp((v.value - v.lo) / width, 0.0, 1.0) : 0.5;
    constexpr double at_limit = 0.005;  // half a hundredth of the range: no ruler tells it from the limit
    SvgCanvas bar(120.0, 14.0);
    bar.line({4.0, 7.0}, {116.0, 7.0}, {"#7b8794", 1.2, ""});
    for (const double x : {4.0, 116.0}) bar.line({x, 2.5}, {x, 11.5}, {"#7b8794", 1.2, ""});
    bar.circle({4.0 + 112.0 * part, 7.0}, 4.0, {"#ffffff", 1.0, ""}, "#1d2733");
    std::string flag;
    if (part < at_limit) flag = "▼ at lower limit";
    if (part > 1.0 - at_limit) flag = "▲ at upper limit";
    rows.push_back({head_cell(text(v.name)), number_cell(quantity(v.value, 3, v.unit)),
                    number_cell(quantity(v.lo, 1, v.unit)), element("td", bar.inside_page("")),
                    number_cell(quantity(v.hi, 1, v.unit)), element("td", {{"class", "flag"}}, text(flag))});
  }
  return table("", {"Varied", "Value", "Lower limit", "Place", "Upper limit", "Note"}, rows);
}

Html files(const Sheet& sheet) {
  std::vector<std::pair<std::string_view, std::string_view>> list{
      {"summary.html", "in short, on one sheet of A4"},
      {"layout.yaml", "the layout, to be read by trammel again"},
      {"curves.csv", "every curve at every station"},
      {"pivots.csv", "all points topped out, at sag and bottomed"},
      {"geometry.csv", "the geometry chart"}};
  if (!sheet.set_up.empty()) list.emplace_back("set_up.csv", "the spring for each rider");
  if (!sheet.loads.empty()) list.emplace_back("loads.csv", "forces at every pivot and in the shock through the stroke");
  if (sheet.tolerance) list.emplace_back("sensitivity.csv", "the effect of every coordinate on every target");
  if (!yield_words(sheet).empty()) {
    list.emplace_back("tolerances.csv", "targets and rules over built frames");
    list.emplace_back("bands.csv", "every curve's 5 and 95 % over built frames");
  }
  list.emplace_back("drawing_mm.dxf", "for CAD: R12, millimetres, origin at the bottom bracket");
  list.emplace_back("drawing.svg", "the drawing, true lengths in mm");
  Html items;
  for (const std::string& name : workshop_names(sheet))
    items +=
        element("li", link_to(name + ".svg", name + ".svg") + text(", ") + link_to(name + "_mm.dxf", name + "_mm.dxf") +
                          text(" – the drawing for the bench: to scale, holes from the bottom bracket, lengths"));
  for (const search::CaseSheet& one : sheet.cases)
    items +=
        element("li", link_to(curves_file(one), curves_file(one)) + text(" – ") + text("the curves in " + one.name));
  for (const auto& [name, what] : list) {
    items += element("li", link_to(std::string(name), name) + text(" – ") + text(what));
  }
  return element("ul", items);
}

}  // namespace

std::string folder_of(const Sheet& sheet) {
  const std::string rank = std::to_string(sheet.rank);
  return rank.size() < 2 ? "0" + rank : rank;
}

std::string layout_page(const search::StudyReport& study, const Sheet& sheet, const Standing& standing,
                        const std::string& yaml) {
  const auto& a = sheet.assessment;
  const auto& targets = study.brief.targets;
  const bike::Gear* gear = drawn_gear(sheet.layout, targets);
  const Html musts =
      text(std::to_string(a.musts_met) + " of " + std::to_string(a.musts) + " ") + met_mark(a.feasible());

  const std::string yield = yield_words(sheet), flag = yield_flag(sheet, study.brief.search.yield);
  Html body = navigation(standing);
  std::vector<std::pair<std::string, Html>> boxes{{"Study", text(study.summary.study)},
                                                  {standing.counted, text(standing.place)},
                                                  {"Requirements", musts},
                                                  {"Score", text(significant(a.score, 4))},
                                                  {"Required margin", text(shown(a.must_margin, 3))},
                                                  {"Preferred margin", text(shown(a.wish_margin, 3))},
                                                  {"Seed", text(std::to_string(study.summary.seed))},
                                                  {"Engine", text(study.summary.engine_version)}};
  const std::vector<std::string> lists = offered(study.brief), choices = chosen(study.brief, sheet);
  for (std::size_t i = 0; i < lists.size(); ++i)
    if (!choices[i].empty()) boxes.insert(boxes.begin() + 6, {"Chosen " + lists[i], text(choices[i])});
  if (!yield.empty()) boxes.insert(boxes.begin() + 6, {"Yield", text(yield + (flag.empty() ? "" : " " + flag))});
  if (!sheet.linkage.empty()) boxes.insert(boxes.begin() + 1, {"Linkage", text(sheet.linkage)});
  body += title_block(study.brief.layout.title, standing.title, boxes);
  Html main = element("p", {{"class", "lead"}}, text(standing.lead));
  main += notes_section(study.brief);
  main += section("Drawing",
                  element("div", {{"class", "drawings"}}, bike_figure(sheet, gear) + linkage_figure(sheet, gear)));
  main += element("section", {{"class", "motion"}},
                  element("h2", "In motion") + motion_figure(sheet, study.brief, gear, standing.others));
  main += live_panel(sheet, study.brief);
  if (!targets.empty()) main += section("Targets", target_table(sheet, targets, objectives::Origin::brief));
  if (const Html words = reference_words(study, sheet); !words.empty())
    main += section("Against the references", words);
  if (!sheet.cases.empty()) main += section("Settings and sizes", case_tables(sheet, targets));
  if (const Html remarks = guidance_table(sheet); !remarks.empty()) main += section("Guidance", remarks);
  const Html rules = rule_table(sheet, objectives::Origin::brief);
  if (!rules.empty()) main += section("Packaging and feasibility", rules);
  if (const Html sound = sound_demands(sheet, targets); !sound.empty()) main += section("Sound by default", sound);
  if (!yield.empty() && study.brief.tolerances)
    main += section("Tolerances", tolerance_section(sheet, targets, *study.brief.tolerances, study.brief.search.yield));
  if (sheet.tolerance && !sheet.tolerance->effects.empty())
    main += section("Sensitivity", sensitivity_section(sheet, targets));
  main += section("Curves", element("div", {{"class", "plots"}},
                                    curve_figures(sheet, targets, study.references) + path_figures({sheet})));
  if (!sheet.varied.empty()) main += section("Varied values in their ranges", varied_table(sheet));
  const std::vector<std::string> tied = ties(study.brief, sheet);
  const bool inches_too = study.brief.inches_too;
  main += section("Pivots", pivot_table(sheet, tied) + (inches_too ? pivot_table(sheet, tied, true) : Html()));
  main += section("Dimensions", element("div", {{"class", "pair"}}, member_table(sheet) + shock_table(sheet)));
  if (!sheet.geometry.empty())
    main += section("Geometry in motion", geometry_table(sheet) + (inches_too ? geometry_table(sheet, true) : Html()));
  if (!sheet.set_up.empty()) main += section("Set-up", set_up_table(sheet));
  if (!sheet.loads.empty()) main += section("Pivot loads", loads_table(sheet));
  main += screen_section("Files", files(sheet));
  main += screen_section("layout.yaml", element("pre", {{"id", "layout-yaml"}}, text(yaml)));
  main += conventions_block(sheet.layout) + cautions_block();
  body += element("main", main) + motion_script() + live_script() + scroll_script();
  return page(standing.title + " – " + study.brief.layout.title, body);
}

}  // namespace trammel::report
