#include "report/beside.hpp"

#include "report/motion_figure.hpp"
#include "report/scene_data.hpp"

namespace trammel::report {

std::string reference_beside_file(std::size_t number) {
  return "assets/reference-" + std::to_string(number + 1) + ".js";
}

std::string beside_script(const search::Sheet& sheet, const brief::Brief& brief) {
  constexpr double per_mm = 10.0;
  Json stations = Json::array(), travel = Json::array();
  for (const bike::Pose& pose : sheet.motion.poses) {
    stations.push_back(places_of(make_scene(sheet.layout, pose, nullptr), per_mm));
    travel.push_back(json_number(pose.travel));
  }
  const Json data{{"parts", parts_of(make_scene(sheet.layout, sheet.motion.poses.front(), nullptr))},
                  {"stations", std::move(stations)},
                  {"travel", std::move(travel)},
                  {"sag", json_number(sheet.at_sag.travel)},
                  {"curves", curves_json(sheet, brief.targets)}};
  return "trammelBeside(" + script_json(data).str() + ");\n";
}

}  // namespace trammel::report
