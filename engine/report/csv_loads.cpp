// Tables of set-up, pivot loads and geometry.
#include <cmath>
#include <variant>

#include "report/csv.hpp"
#include "report/digits.hpp"

namespace trammel::report {

namespace {

std::string cell(const std::optional<double>& x) {
  return x && std::isfinite(*x) ? exact(*x) : std::string();
}

}  // namespace

std::string geometry_csv(const search::Sheet& sheet) {
  std::string out = csv_record({"place", "travel_mm", "fork_mm", "head_angle_deg", "seat_angle_deg", "bb_height_mm",
                                "reach_mm", "stack_mm", "wheelbase_mm", "chainstay_mm", "trail_mm"});
  for (const bike::GeometryRow& r : sheet.geometry)
    out += csv_record({r.place, cell(r.travel), cell(r.fork), cell(r.head_angle), cell(r.seat_angle), cell(r.bb_height),
                       cell(r.reach), cell(r.stack), cell(r.wheelbase), cell(r.chainstay), cell(r.trail)});
  return out;
}

std::string set_up_csv(const search::Sheet& sheet) {
  if (sheet.set_up.empty()) return "";
  const bool air = std::holds_alternative<spring::Air>(sheet.layout.shock->spring->kind);
  const std::string of = sheet.layout.sag.of == bike::SagOf::wheel ? "_of_wheel_travel" : "_of_shock_stroke";
  const std::string value = air ? "pressure_bar" : "coil_rate_n_mm";
  std::string out = csv_record({"rider_kg", "wheel_load_n", "shock_load_n", "wanted_" + value, "offered_" + value,
                                "spacers", "sag" + of, "sag_off" + of, "least_sag" + of, "greatest_sag" + of, "fits",
                                "bottom_force_n", "energy_to_bottom_j", "bottom_margin_pct"});
  const bool table = std::holds_alternative<spring::Table>(sheet.layout.shock->spring->kind);
  for (const bike::SetUpRow& r : sheet.set_up)
    out += csv_record({cell(r.rider), cell(r.load.wheel), cell(r.load.shock), table ? "" : cell(r.wanted),
                       cell(r.offered), air ? std::to_string(r.spacers) : "", cell(r.sag), cell(r.sag_off),
                       cell(r.least_sag), cell(r.greatest_sag), r.fits ? "yes" : "no", cell(r.bottom_force),
                       cell(r.energy_to_bottom), cell(r.bottom_margin)});
  return out;
}

std::string loads_csv(const search::Sheet& sheet) {
  if (sheet.loads.empty()) return "";
  const auto& mechanism = sheet.layout.mechanism;
  std::string out =
      csv_record({"case", "shock_mm", "travel_mm", "part", "on_member", "force_x_n", "force_y_n", "force_n"});
  for (const bike::CaseLoads& load : sheet.loads)
    for (std::size_t i = 0; i < load.travel.size(); ++i) {
      const auto record = [&](const std::string& part, const std::string& member, const std::string& x,
                              const std::string& y, double force) {
        out += csv_record({load.of.name, cell(load.shock[i]), cell(load.travel[i]), part, member, x, y, cell(force)});
      };
      for (const bike::PivotLoad& pivot : load.pivots) {
        const bike::Point& force = pivot.force[i];
        record(mechanism.point_names[static_cast<std::size_t>(pivot.point)], felt_by(mechanism, pivot), cell(force.x),
               cell(force.y), norm(force));
      }
      for (std::size_t s = 0; s < load.shoes.size(); ++s) {
        const linkage::Slider& slider = mechanism.sliders[s];
        record("rail at " + mechanism.point_names[static_cast<std::size_t>(slider.point)],
               mechanism.members[static_cast<std::size_t>(slider.member)].name, "", "", load.shoes[s][i]);
      }
      record("shock", "", "", "", load.shock_force[i]);
    }
  return out;
}

}  // namespace trammel::report
