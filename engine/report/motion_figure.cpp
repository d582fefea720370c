#include "report/motion_figure.hpp"

#include <algorithm>

#include "bike/reading.hpp"
#include "brief/units.hpp"
#include "report/curve_plots.hpp"
#include "report/digits.hpp"
#include "report/embedded.hpp"
#include "report/frame_sketch.hpp"
#include "report/json.hpp"
#include "report/scene_data.hpp"
#include "report/view.hpp"
#include "report/wording.hpp"

namespace trammel::report {

namespace {

Json gears_of(const search::Sheet& sheet) {
  Json out = Json::array();
  for (const bike::Gear& gear : sheet.layout.drivetrain.gears) {
    Json stations = Json::array();
    for (const bike::Pose& pose : sheet.motion.poses)
      stations.push_back(places_of(chain_scene(sheet.layout, pose, gear)));
    out.push_back({{"name", gear.name()},
                   {"parts", parts_of(chain_scene(sheet.layout, sheet.motion.poses.front(), gear))},
                   {"stations", std::move(stations)}});
  }
  return out;
}

/// Curves of wheel travel that a page shows as figures, with the digits that a reader needs.
Json curves_of(const search::Sheet& sheet, const std::vector<objectives::Target>& targets) {
  Json out = Json::array();
  for (const bike::CurveKey& key : shown_curves(sheet, targets)) {
    const auto& record = bike::record(key.curve);
    Json column = Json::array();
    for (const std::optional<double>& y : values(sheet.motion.table, key)) column.push_back(json_number(y));
    out.push_back({{"name", curve_title(key, sheet.layout)},
                   {"unit", record.unit},
                   {"decimals", decimals_for(record.tolerance)},
                   {"values", std::move(column)}});
  }
  return out;
}

Json motion_data(const search::Sheet& sheet, const brief::Brief& brief, const bike::Gear* gear) {
  const auto scene_at = [&](const bike::Pose& pose) {
    Scene scene = make_scene(sheet.layout, pose, nullptr);
    sketch_frame(scene, sheet.layout, pose);
    add_bodies(scene, bike::body_outlines(sheet.layout, brief.packaging.bodies, pose.points));
    return scene;
  };
  Extent extent;
  Json stations = Json::array(), travel = Json::array(), shock = Json::array(), centres = Json::array();
  for (const bike::Pose& pose : sheet.motion.poses) {
    const Scene scene = scene_at(pose);
    for (const Stroke& s : scene.strokes)
      for (const bike::Point& p : s.points) extent.hold(p);
    for (const Disc& d : scene.discs) extent.hold(d.centre, d.radius);
    stations.push_back(places_of(scene));
    travel.push_back(json_number(pose.travel));
    shock.push_back(json_number(pose.shock));
    centres.push_back(pose.instant_centre
                          ? Json::array({placed(pose.instant_centre->x), placed(pose.instant_centre->y)})
                          : Json(nullptr));
  }
  const auto& gears = sheet.layout.drivetrain.gears;
  return {{"parts", parts_of(scene_at(sheet.motion.poses.front()))},
          {"stations", std::move(stations)},
          {"mm_per_inch", brief.inches_too ? Json(brief::mm_per_inch) : Json(nullptr)},
          {"travel", std::move(travel)},
          {"shock", std::move(shock)},
          {"instant_centres", std::move(centres)},
          {"axle", sheet.layout.mechanism.point_names[static_cast<std::size_t>(sheet.layout.axle.point)]},
          {"sag", json_number(sheet.at_sag.travel)},
          {"gears", gears_of(sheet)},
          {"gear", gear == nullptr ? 0 : gear - gears.data()},
          {"curves", curves_of(sheet, brief.targets)},
          {"extent", {placed(extent.x.lo), placed(extent.y.lo), placed(extent.x.hi), placed(extent.y.hi)}}};
}

Html box(const char* name, const char* words, bool checked) {
  Attributes attributes{{"type", "checkbox"}, {"data-show", name}};
  if (checked) attributes.emplace_back("checked", "");
  return element("label", closed("input", attributes) + text(std::string(" ") + words));
}

/// A choice of names by number, hidden until the page can compute what is chosen; nothing where there are none.
template <class Named>
Html choice(const char* id, const char* words, const std::vector<Named>& names) {
  if (names.empty()) return {};
  Html options;
  for (std::size_t i = 0; i < names.size(); ++i)
    options += element("option", {{"value", std::to_string(i)}}, text(names[i].name));
  return element("label", {{"hidden", ""}}, text(std::string(words) + " ") + element("select", {{"id", id}}, options));
}

/// Which of the settings and sizes is shown.
Html case_choice(const search::Sheet& sheet) {
  if (!sheet.drawn || sheet.cases.empty()) return {};
  return choice("motion-setting", "setting", sheet.drawn->settings) +
         choice("motion-size", "size", sheet.drawn->sizes) +
         element("span", {{"id", "motion-case"}},
                 text("Shown in " + sheet.cases.front().name +
                      ", the first; this page cannot compute the others here, for which it needs WebAssembly."));
}

}  // namespace

Html motion_figure(const search::Sheet& sheet, const brief::Brief& brief, const bike::Gear* gear) {
  const std::size_t last = sheet.motion.poses.size() - 1;
  const Html controls = element("button", {{"type", "button"}, {"id", "motion-play"}}, text("Play")) +
                        element("label", {{"class", "travel"}},
                                text("Wheel travel ") + closed("input", {{"type", "range"},
                                                                         {"id", "motion-travel"},
                                                                         {"min", "0"},
                                                                         {"max", std::to_string(last)},
                                                                         {"step", "1"},
                                                                         {"value", "0"}})) +
                        element("output", {{"id", "motion-place"}, {"for", "motion-travel"}}, Html());
  Html choices = box("centre", "instant centre and its path", true) + box("paths", "paths of the points", true) +
                 box("ghost", "where it is topped out", true);
  if (gear != nullptr) {
    Html options;
    for (std::size_t i = 0; i < sheet.layout.drivetrain.gears.size(); ++i)
      options += element("option", {{"value", std::to_string(i)}}, text(sheet.layout.drivetrain.gears[i].name()));
    choices += element("label", text("chain in ") + element("select", {{"id", "motion-gear"}}, options));
  }
  choices += case_choice(sheet);
  return element(
             "div", {{"id", "motion"}, {"hidden", ""}},
             element("div", {{"class", "controls"}}, controls) + element("div", {{"class", "controls"}}, choices) +
                 element("div", {{"class", "moving"}},
                         element("div", {{"id", "motion-drawing"}}, Html()) +
                             element("table", {{"id", "motion-values"}}, Html())) +
                 element(
                     "p", {{"class", "fine"}},
                     text("Drag the rear wheel, move the slider or use the arrow keys on it. Positions and values are "
                          "those of the stations in curves.csv; the line in every curve below marks the same "
                          "travel. Frame axes: the frame stands still."))) +
         element("script", {{"type", "application/json"}, {"id", "motion-data"}},
                 script_json(motion_data(sheet, brief, gear)));
}

Html motion_script() {
  return element("script", Html(std::string(embedded::scene_script()) + std::string(embedded::motion_script())));
}

}  // namespace trammel::report
