#include "search/make_sheet.hpp"

#include "bike/reading.hpp"
#include "search/score.hpp"
#include "search/setup.hpp"

namespace trammel::search {

namespace {

/// Stations of a reported layout's curves.
constexpr int report_stations = 101;

/// A layout that is only one.
Sheet sheet_of(const bike::Layout& layout, const std::vector<objectives::Target>& targets,
               const objectives::Packaging& packaging) {
  Sheet sheet;
  sheet.layout = layout;
  std::vector<bike::CurveKey> named;
  for (const objectives::Target& target : targets)
    if (bike::named_by_target(target.curve)) named.push_back(target.curve);
  sheet.motion = bike::trace(layout, report_stations, true, named);
  sheet.assessment = assess_layout(layout, targets, packaging);
  for (const objectives::Target& target : targets)
    sheet.departures.push_back(departure_of(target, layout, sheet.motion.table));
  sheet.topped_out = sheet.motion.poses.front();
  sheet.bottomed = sheet.motion.poses.back();
  sheet.at_sag = bike::pose_at_travel(layout, bike::sag_travel(layout));
  const auto bodies = [&](const bike::Pose& pose) {
    return bike::body_outlines(layout, packaging.bodies, pose.points);
  };
  sheet.bodies_topped_out = bodies(sheet.topped_out);
  sheet.bodies_at_sag = bodies(sheet.at_sag);
  sheet.bodies_bottomed = bodies(sheet.bottomed);
  sheet.close_places = close_places(layout, packaging, sheet.assessment);
  sheet.geometry = bike::geometry_chart(layout);
  sheet.set_up = bike::set_up(layout);
  sheet.loads = bike::pivot_loads(layout, report_stations);
  sheet.guidance = objectives::remarks(layout);
  return sheet;
}

}  // namespace

Sheet make_sheet(const bike::Layout& layout, const std::vector<objectives::Target>& targets,
                 const objectives::Packaging& packaging) {
  if (layout.settings.empty() && layout.sizes.empty()) return sheet_of(layout, targets, packaging);
  Sheet out;
  std::vector<objectives::CaseAssessment> judged;
  std::vector<CaseSheet> cases;
  for (const CaseSetup& one : cases_of(layout, targets)) {
    Sheet sheet = sheet_of(bike::layout_of(layout, one.which), one.targets, packaging);
    judged.push_back({one.name, one.numbers, sheet.assessment});
    cases.push_back({one.name, sheet.layout, judged.back(), sheet.motion.table, sheet.bottomed.travel, sheet.geometry,
                     sheet.set_up, sheet.guidance});
    if (cases.size() == 1) out = std::move(sheet);
  }
  out.assessment = objectives::merged(judged, targets, objectives::comparisons_of(layout, targets));
  out.drawn = layout;
  out.departures.clear();  // of the first case alone
  out.cases = std::move(cases);
  return out;
}

}  // namespace trammel::search
