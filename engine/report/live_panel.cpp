#include "report/live_panel.hpp"

#include "brief/fields.hpp"
#include "brief/ranges_around.hpp"
#include "report/base64.hpp"
#include "report/case_tables.hpp"
#include "report/curve_plots.hpp"
#include "report/digits.hpp"
#include "report/embedded.hpp"
#include "report/json.hpp"
#include "report/record.hpp"
#include "report/scene_data.hpp"
#include "report/wording.hpp"
#include "search/setup.hpp"

namespace trammel::report {

namespace {

std::string record_of(const search::Sheet& sheet, const brief::Brief& brief) {
  record::Task task{sheet.whole(), brief.targets, brief.packaging, {}, shown_curves(sheet, brief.targets), {}};
  for (const search::CaseSetup& one : search::cases_of(task.layout, brief.targets))
    task.cases.push_back({one.which, one.name, one.targets, one.numbers});
  if (const brief::Brief* of = brief::placed_by(task.layout, brief))
    task.placing = {of->vary, of->layout.mechanism.point_names, of->layout.mechanism.points};
  return record::written(std::move(task));
}

/// By their numbers, which is how the module tells of them.
Json part_names() {
  Json out = Json::array();
  for (int part = 0; part <= static_cast<int>(Part::cg); ++part) out.push_back(name_of(static_cast<Part>(part)));
  return out;
}

Json points_of(const bike::Layout& layout) {
  Json out = Json::array();
  for (std::size_t i = 0; i < layout.mechanism.points.size(); ++i)
    out.push_back({{"name", layout.mechanism.point_names[i]},
                   {"x", json_number(layout.mechanism.points[i].x)},
                   {"y", json_number(layout.mechanism.points[i].y)}});
  return out;
}

Json verdict_of(const objectives::Verdict& verdict) {
  return {{"achieved", json_number(verdict.achieved)}, {"margin", json_number(verdict.margin)}, {"met", verdict.met}};
}

Json targets_of(const search::Sheet& sheet, const std::vector<objectives::Target>& targets) {
  Json out = Json::array();
  for (std::size_t i = 0; i < std::min(targets.size(), sheet.assessment.targets.size()); ++i)
    out.push_back({{"name", targets[i].name},
                   {"wish", wish(targets[i])},
                   {"unit", unit_of(targets[i])},
                   {"decimals", decimals_for(targets[i].tolerance)},
                   {"must", targets[i].must},
                   {"compares", targets[i].between.has_value()},
                   {"all", verdict_of(sheet.assessment.targets[i])}});
  return out;
}

/// Settings and sizes, each with how the targets came out in it; null where one does not hold.
Json cases_of(const search::Sheet& sheet, std::size_t targets) {
  Json out = Json::array();
  const bike::Layout& layout = sheet.whole();
  const std::vector<bike::Case> all = bike::cases_of(layout);
  for (std::size_t k = 0; k < all.size(); ++k) {
    Json verdicts = Json::array();
    for (std::size_t t = 0; t < targets; ++t) {
      const objectives::Verdict* verdict =
          sheet.cases.empty() ? &sheet.assessment.targets[t] : verdict_in(sheet.cases[k], t);
      verdicts.push_back(verdict == nullptr ? Json(nullptr) : verdict_of(*verdict));
    }
    out.push_back({{"name", bike::name_of(layout, all[k])},
                   {"setting", all[k].setting},
                   {"size", all[k].size},
                   {"targets", std::move(verdicts)}});
  }
  return out;
}

}  // namespace

Html live_panel(const search::Sheet& sheet, const brief::Brief& brief) {
  if (embedded::module().empty()) return {};
  const bike::Layout& layout = sheet.whole();
  Json eyes = nullptr;  // which points the shock is between, and how long it is
  if (layout.shock)
    eyes = {{"between", {layout.mechanism.drive.a, layout.mechanism.drive.b}},
            {"length", layout.shock->length},
            {"slack", brief::length_slack}};
  const Json data{{"eyes", std::move(eyes)},
                  {"module", base64(embedded::module())},
                  {"record", base64(record_of(sheet, brief))},
                  {"points", points_of(layout)},
                  {"cases", cases_of(sheet, std::min(brief.targets.size(), sheet.assessment.targets.size()))},
                  {"go_on", sheet.go_on},
                  {"stations", sheet.motion.poses.size()},
                  {"parts", part_names()},
                  {"targets", targets_of(sheet, brief.targets)}};
  const auto button = [](const char* id, const char* words) {
    return element("button", {{"type", "button"}, {"id", id}, {"disabled", ""}}, text(words));
  };
  Html steps;
  for (const char* step : {"0.1", "0.5", "1", "5"}) steps += element("option", {{"value", step}}, text(step));
  const Html controls =
      button("live-undo", "Undo") + button("live-redo", "Redo") + button("live-back", "As reported") +
      element("label", text("arrow keys step ") + element("select", {{"id", "live-step"}}, steps) + text(" mm")) +
      button("live-save", "Save layout") +
      (sheet.go_on.empty()
           ? Html()
           : button("live-go-on", "Save go-on brief") + element("label", text("in which points move by up to ") +
                                                                             closed("input", {{"id", "live-within"},
                                                                                              {"type", "number"},
                                                                                              {"min", "0.1"},
                                                                                              {"max", "200"},
                                                                                              {"step", "any"},
                                                                                              {"value", "10"}}) +
                                                                             text(" mm")));
  const auto scrolled = [](const char* id) {
    return element("div", {{"class", "scroll"}}, element("table", {{"id", id}}, Html()));
  };
  const Html body =
      element("p",
              text("Type a coordinate, step it with the arrow keys, or drag a ring in the drawing above. The kernel "
                   "of the search computes curves, targets and packaging anew; values beside the drawing say how much "
                   "each has changed there, and the layout as reported stays as a broken outline, its curves faint.")) +
      element("div", {{"class", "controls"}}, controls) +
      element("p", {{"id", "live-said"}, {"role", "status"}}, Html()) +
      element("div", {{"class", "pair"}}, scrolled("live-points") + scrolled("live-targets")) + scrolled("live-rules") +
      element("p", {{"class", "fine"}},
              text("Points topped out, frame axes, mm, as drawn" +
                   std::string(sheet.cases.empty() ? "" : ", before any setting or size") +
                   ". The tables further down stay those of the layout as reported. A rule on sensitivity is not "
                   "computed here: run trammel check on a saved layout before building by it."));
  return element("section", {{"class", "live screen"}, {"id", "live"}, {"hidden", ""}},
                 element("h2", "Other places for the pivots") + body) +
         element("script", {{"type", "application/json"}, {"id", "live-data"}}, script_json(data));
}

Html live_script() {
  if (embedded::module().empty()) return {};
  std::string script;
  for (const std::string_view part :
       {embedded::live_parts(), embedded::live_kernel(), embedded::live_curves(), embedded::live_targets(),
        embedded::live_points(), embedded::live_cases(), embedded::live_main()})
    script += part;
  return element("script", Html(script));
}

}  // namespace trammel::report
