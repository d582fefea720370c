#include "report/previews.hpp"

#include <algorithm>

#include "report/embedded.hpp"
#include "report/pages.hpp"
#include "report/scene_data.hpp"
#include "report/view.hpp"

namespace trammel::report {

namespace {

constexpr std::size_t most_stations = 25;
constexpr double per_mm = 10.0;

/// What moves, seen from near: no ground, no fork, no chain.
Scene near_scene(const search::Sheet& sheet, const bike::Pose& pose) {
  Scene scene = make_scene(sheet.layout, pose, nullptr);
  std::erase_if(scene.strokes, [](const Stroke& s) { return s.part == Part::ground || s.part == Part::fork; });
  std::erase_if(scene.discs, [](const Disc& d) { return d.part == Part::front_wheel; });
  return scene;
}

Json preview_of(const search::Sheet& sheet) {
  const auto& poses = sheet.motion.poses;
  const std::size_t count = std::min(poses.size(), most_stations);
  Extent extent;
  extent.hold({}, 40.0);
  Json stations = Json::array(), travel = Json::array();
  std::size_t sag = 0;
  for (std::size_t k = 0; k < count; ++k) {
    const bike::Pose& pose = poses[count > 1 ? k * (poses.size() - 1) / (count - 1) : 0];
    for (const bike::Point& p : pose.points) extent.hold(p, 40.0);
    stations.push_back(places_of(near_scene(sheet, pose), per_mm));
    travel.push_back(placed(pose.travel, per_mm));
    if (pose.travel <= sheet.at_sag.travel) sag = k;
  }
  return {{"id", sheet.id},
          {"parts", parts_of(near_scene(sheet, poses.front()))},
          {"stations", std::move(stations)},
          {"travel", std::move(travel)},
          {"sag", sag},
          {"extent", {placed(extent.x.lo), placed(extent.y.lo), placed(extent.x.hi), placed(extent.y.hi)}}};
}

}  // namespace

Html previews(const search::StudyReport& study) {
  Json data = Json::object();
  for (const search::Sheet& sheet : study.shortlist)
    if (!sheet.motion.poses.empty()) data[folder_of(sheet)] = preview_of(sheet);
  return element("script", {{"type", "application/json"}, {"id", "previews"}}, script_json(data)) +
         element("script", Html(std::string(embedded::scene_script()) + std::string(embedded::preview_script())));
}

}  // namespace trammel::report
