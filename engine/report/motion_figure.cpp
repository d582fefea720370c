#include "report/motion_figure.hpp"

#include <algorithm>

#include "bike/reading.hpp"
#include "brief/units.hpp"
#include "report/curve_plots.hpp"
#include "report/digits.hpp"
#include "report/embedded.hpp"
#include "report/json.hpp"
#include "report/moving_scene.hpp"
#include "report/scene_data.hpp"
#include "report/view.hpp"
#include "report/wording.hpp"

namespace trammel::report {

namespace {

bool is_force(Part part) {
  return part == Part::transfer || part == Part::driving || part == Part::braking || part == Part::cg;
}

/// All of a scene, or all but the lines of forces.
void hold(const Scene& scene, Extent& extent, bool forces = true) {
  for (const Stroke& s : scene.strokes)
    if (forces || !is_force(s.part))
      for (const bike::Point& p : s.points) extent.hold(p);
  for (const Disc& d : scene.discs)
    if (forces || !is_force(d.part)) extent.hold(d.centre, d.radius);
}

/// Adds to `with_forces` what the gears' lines need.
Json gears_of(const search::Sheet& sheet, Extent& with_forces) {
  Json out = Json::array();
  for (std::size_t gear = 0; gear < sheet.layout.drivetrain.gears.size(); ++gear) {
    Json stations = Json::array();
    for (std::size_t k = 0; k < sheet.motion.poses.size(); ++k) {
      const Scene scene = moving_chain(sheet.layout, sheet.motion, k, gear);
      hold(scene, with_forces);
      stations.push_back(places_of(scene));
    }
    out.push_back({{"name", sheet.layout.drivetrain.gears[gear].name()},
                   {"parts", parts_of(moving_chain(sheet.layout, sheet.motion, 0, gear))},
                   {"stations", std::move(stations)}});
  }
  return out;
}

Json corners_of(const Extent& extent) {
  return {placed(extent.x.lo), placed(extent.y.lo), placed(extent.x.hi), placed(extent.y.hi)};
}

/// The table's columns that the page shows, in the order of `shown_curves`.
Json columns_of(const search::Sheet& sheet, const std::vector<objectives::Target>& targets) {
  Json out = Json::array();
  const auto& all = sheet.motion.table.columns;
  for (const bike::CurveKey& key : shown_curves(sheet, targets)) {
    const bike::Column* column = sheet.motion.table.find(key);
    out.push_back(column == nullptr ? -1 : static_cast<int>(column - all.data()));
  }
  return out;
}

Json others_of(const std::vector<std::pair<std::string, std::string>>& others) {
  Json out = Json::array();
  for (const auto& [name, file] : others) out.push_back({{"name", name}, {"file", file}});
  return out;
}

Json motion_data(const search::Sheet& sheet, const brief::Brief& brief, const bike::Gear* gear,
                 const std::vector<std::pair<std::string, std::string>>& others) {
  const auto scene_at = [&](std::size_t station) {
    return moving_scene(sheet.layout, brief.packaging.bodies, sheet.motion, station);
  };
  Extent extent, with_forces;
  Json stations = Json::array(), travel = Json::array(), shock = Json::array(), centres = Json::array();
  for (std::size_t k = 0; k < sheet.motion.poses.size(); ++k) {
    const bike::Pose& pose = sheet.motion.poses[k];
    const Scene scene = scene_at(k);
    hold(scene, extent, false);
    hold(scene, with_forces);
    stations.push_back(places_of(scene));
    travel.push_back(json_number(pose.travel));
    shock.push_back(json_number(pose.shock));
    centres.push_back(pose.instant_centre
                          ? Json::array({placed(pose.instant_centre->x), placed(pose.instant_centre->y)})
                          : Json(nullptr));
  }
  const auto& gears = sheet.layout.drivetrain.gears;
  Json of_gears = gears_of(sheet, with_forces);
  return {{"parts", parts_of(scene_at(0))},
          {"stations", std::move(stations)},
          {"mm_per_inch", brief.inches_too ? Json(brief::mm_per_inch) : Json(nullptr)},
          {"travel", std::move(travel)},
          {"shock", std::move(shock)},
          {"instant_centres", std::move(centres)},
          {"axle", sheet.layout.mechanism.point_names[static_cast<std::size_t>(sheet.layout.axle.point)]},
          {"sag", json_number(sheet.at_sag.travel)},
          {"gears", std::move(of_gears)},
          {"gear", gear == nullptr ? 0 : gear - gears.data()},
          {"curves", curves_json(sheet, brief.targets)},
          {"columns", columns_of(sheet, brief.targets)},
          {"others", others_of(others)},
          {"extent", corners_of(extent)},
          {"extent_with_forces", corners_of(with_forces)}};
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

Json curves_json(const search::Sheet& sheet, const std::vector<objectives::Target>& targets) {
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

Html motion_figure(const search::Sheet& sheet, const brief::Brief& brief, const bike::Gear* gear,
                   const std::vector<std::pair<std::string, std::string>>& others) {
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
                 box("ghost", "where it is topped out", true) +
                 box("forces", "lines of load transfer, driving, braking", false);
  if (gear != nullptr) {
    Html options;
    for (std::size_t i = 0; i < sheet.layout.drivetrain.gears.size(); ++i)
      options += element("option", {{"value", std::to_string(i)}}, text(sheet.layout.drivetrain.gears[i].name()));
    choices += element("label", text("chain in ") + element("select", {{"id", "motion-gear"}}, options));
  }
  choices += case_choice(sheet);
  if (!others.empty())
    choices += element("label", {{"hidden", ""}},
                       text("beside it ") + element("select", {{"id", "motion-beside"}},
                                                    element("option", {{"value", ""}}, text("nothing"))));
  const Html against = element(
      "div", {{"id", "motion-against"}, {"hidden", ""}},
      element("h3", "Differences") + element("p", {{"id", "motion-against-name"}, {"role", "status"}}, Html()) +
          table("", {"Curve", "Topped out", "At sag", "Bottomed out", "Greatest difference at the same travel"}, {}) +
          element("p", {{"class", "fine"}},
                  text(std::string("At sag and bottomed out each has a travel of its own, as the report has it.") +
                       (sheet.cases.empty() ? "" : " The other one is shown in its first setting and size."))));
  return element(
             "div", {{"id", "motion"}, {"hidden", ""}},
             element("div", {{"class", "controls"}}, controls) + element("div", {{"class", "controls"}}, choices) +
                 element("div", {{"class", "moving"}},
                         element("div", {{"id", "motion-drawing"}}, Html()) +
                             element("table", {{"id", "motion-values"}}, Html())) +
                 element(
                     "p", {{"class", "fine"}},
                     text("Drag the rear wheel, move the slider, or use the arrow keys on it or on the drawing; while "
                          "the "
                          "drawing has the focus the mouse wheel does it, too, until Escape. Positions and values are "
                          "those of the stations in curves.csv; the line in every curve below marks the same "
                          "travel. Frame axes: the frame stands still.")) +
                 against) +
         element("script", {{"type", "application/json"}, {"id", "motion-data"}},
                 script_json(motion_data(sheet, brief, gear, others)));
}

Html motion_script() {
  return element("script", Html(std::string(embedded::scene_script()) + std::string(embedded::motion_script()) +
                                std::string(embedded::curves_script()) + std::string(embedded::beside_script())));
}

}  // namespace trammel::report
