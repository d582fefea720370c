#include "report/load_tables.hpp"

#include <cmath>
#include <variant>

#include "report/digits.hpp"
#include "report/inches.hpp"
#include "report/parts.hpp"
#include "report/wording.hpp"

namespace trammel::report {

namespace {

using search::Sheet;

std::string optional_shown(const std::optional<double>& x, int decimals) {
  return x ? shown(*x, decimals) : "–";
}

std::string per_cent(double fraction, int decimals) {
  return shown(100.0 * fraction, decimals) + " %";
}

std::string sag_of(const bike::Layout& layout) {
  return layout.sag.of == bike::SagOf::wheel ? "wheel travel" : "shock stroke";
}

std::string describe(const bike::LoadCase& load, const bike::Layout& layout) {
  std::string out = quantity(load.vertical, 0, "N") + " up";
  if (load.braking > 0.0) out += ", " + quantity(load.braking, 0, "N") + " rearward under the brake";
  if (load.driving > 0.0)
    out += ", " + quantity(load.driving, 0, "N") + " forward in " +
           layout.drivetrain.gears[static_cast<std::size_t>(load.gear)].name();
  return out;
}

/// Whether the force bottomed is under the landing load.
bool bottoms_out(const bike::SetUpRow& row) {
  return row.bottom_margin && *row.bottom_margin < 0.0;
}

/// Whether every rider's spring could be had, and what it does at a landing, in words.
Html set_up_summary(const Sheet& sheet) {
  std::string misfits, bottoming;
  for (const bike::SetUpRow& row : sheet.set_up) {
    if (bottoms_out(row)) bottoming += (bottoming.empty() ? "" : ", ") + quantity(row.rider, 1, "kg");
    if (!row.fits)
      misfits += (misfits.empty() ? "" : "; ") + quantity(row.rider, 1, "kg") + ": sag is off by " +
                 shown(100.0 * row.sag_off, 1) + " % points";
  }
  std::string words = misfits.empty() ? "Every rider listed comes to the wanted sag."
                                      : "No spring on offer gives these riders the wanted sag; the nearest one is "
                                        "shown. " +
                                            misfits + ".";
  if (!bottoming.empty()) words += " Under the landing load the suspension bottoms out for: " + bottoming + ".";
  return element("p", words);
}

}  // namespace

Html geometry_table(const Sheet& sheet, bool in_inches) {
  std::vector<std::vector<Html>> rows;
  for (const bike::GeometryRow& r : sheet.geometry) {
    std::vector<Html> row{head_cell(text(r.place))};
    const auto length = [&](std::optional<double> mm) {
      row.push_back(number_cell(!mm ? "–" : in_inches ? inches(*mm, 1) : shown(*mm, 1)));
    };
    const auto angle = [&](std::optional<double> degrees) { row.push_back(number_cell(optional_shown(degrees, 2))); };
    length(r.travel);
    length(r.fork);
    angle(r.head_angle);
    angle(r.seat_angle);
    length(r.bb_height);
    length(r.reach);
    length(r.stack);
    length(r.wheelbase);
    length(r.chainstay);
    length(r.trail);
    rows.push_back(std::move(row));
  }
  return table(
      in_inches
          ? "The same in inches."
          : "Against the ground, both wheels on it. Lengths in mm, angles in degrees; the fork as the conventions "
            "say.",
      {"Place", "Travel", "Fork", "Head angle", "Seat angle", "BB height", "Reach", "Stack", "Wheelbase", "Chainstay",
       "Trail"},
      rows);
}

Html set_up_table(const Sheet& sheet) {
  const bike::Layout& layout = sheet.layout;
  const spring::Spring& spring = *layout.shock->spring;
  const bool air = std::holds_alternative<spring::Air>(spring.kind);
  const bool measured = std::holds_alternative<spring::Table>(spring.kind);
  const std::string unit = air ? "bar" : "N/mm";
  std::vector<std::string> head{"Rider [kg]", "Rear load [N]", "Shock load [N]"};
  if (!measured) {
    head.push_back((air ? "Pressure wanted [" : "Coil rate wanted [") + unit + "]");
    head.push_back("On offer [" + unit + "]");
  }
  if (air) head.emplace_back("Spacers");
  for (const char* more : {"Sag", "Off by", "Rests between", "Wanted sag", "Force bottomed [N]", "Energy to bottom [J]",
                           "Bottom-out margin"})
    head.emplace_back(more);
  std::vector<std::vector<Html>> rows;
  for (const bike::SetUpRow& r : sheet.set_up) {
    std::vector<Html> row{head_cell(text(shown(r.rider, 1))), number_cell(shown(r.load.wheel, 0)),
                          number_cell(shown(r.load.shock, 0))};
    if (!measured) {
      row.push_back(number_cell(shown(r.wanted, 2)));
      row.push_back(number_cell(r.offered ? shown(*r.offered, 2) : "any"));
    }
    if (air) row.push_back(number_cell(std::to_string(r.spacers)));
    row.push_back(number_cell(per_cent(r.sag, 1)));
    row.push_back(number_cell(shown(100.0 * r.sag_off, 1) + " % points"));
    row.push_back(number_cell(per_cent(r.least_sag, 1) + " and " + per_cent(r.greatest_sag, 1)));
    row.push_back(element("td", met_mark(r.fits)));
    row.push_back(number_cell(shown(r.bottom_force, 0)));
    row.push_back(number_cell(shown(r.energy_to_bottom, 0)));
    row.push_back(element(
        "td", {{"class", bottoms_out(r) ? "n missed" : "n"}},
        text(!r.bottom_margin ? "–" : shown(*r.bottom_margin, 0) + " %" + (bottoms_out(r) ? " ✗ bottoms out" : ""))));
    rows.push_back(std::move(row));
  }
  std::string notes = "Wanted sag " + per_cent(layout.sag.fraction, 1) + " of " + sag_of(layout) + ", give or take " +
                      per_cent(layout.set_up.sag_tolerance, 1) + "; every sag here is of " + sag_of(layout) +
                      ". The rear load is the sprung mass alone, by moments about the front contact at that sag; its "
                      "centre of gravity is taken to be the same for every rider.";
  if (air) notes += " Set-up is slow (exponent 1); bottoming has the exponent of a stroke.";
  if (layout.loads.landing)
    notes += " The margin is force bottomed over the landing load of " + quantity(*layout.loads.landing, 0, "N") +
             " (for " + quantity(layout.mass->rider, 0, "kg") +
             ", for others in proportion to the sprung mass), without damping; below 0 it bottoms out.";
  return table(notes, head, rows) + set_up_summary(sheet);
}

Html loads_table(const Sheet& sheet) {
  const auto& mechanism = sheet.layout.mechanism;
  std::vector<std::vector<Html>> rows;
  for (const bike::CaseLoads& load : sheet.loads) {
    const std::string what = load.of.name + ": " + describe(load.of, sheet.layout);
    const auto row = [&](const std::string& part, const std::string& member, const std::string& x, const std::string& y,
                         double force, std::size_t at) {
      rows.push_back({head_cell(text(what)), cell(part), cell(member), number_cell(x), number_cell(y),
                      number_cell(shown(force, 0)), number_cell(shown(load.travel[at], 1))});
    };
    for (const bike::PivotLoad& pivot : load.pivots) {
      const bike::Point& force = pivot.force[pivot.worst];
      row(mechanism.point_names[static_cast<std::size_t>(pivot.point)], felt_by(mechanism, pivot), shown(force.x, 0),
          shown(force.y, 0), norm(force), pivot.worst);
    }
    for (std::size_t s = 0; s < load.shoes.size(); ++s) {
      const auto& forces = load.shoes[s];
      std::size_t worst = 0;
      for (std::size_t i = 1; i < forces.size(); ++i)
        if (std::abs(forces[i]) > std::abs(forces[worst])) worst = i;
      const linkage::Slider& slider = mechanism.sliders[s];
      row("rail at " + mechanism.point_names[static_cast<std::size_t>(slider.point)],
          mechanism.members[static_cast<std::size_t>(slider.member)].name, "–", "–", std::abs(forces[worst]), worst);
    }
    row("shock", "–", "–", "–", load.shock_force[load.worst_shock], load.worst_shock);
  }
  constexpr std::string_view caution =
      "These are loads of rigid, weightless parts at rest, for sizing a first guess. They are no proof of strength: "
      "impacts, side loads, fatigue and play are not in them. Strength and fatigue are proved by tests (ISO 4210) "
      "under "
      "a qualified engineer.";
  return table("The greatest force over the stroke, of the pin on the member, with its parts in frame axes; N and mm.",
               {"Case", "Part", "On", "x", "y", "Force", "At travel"}, rows) +
         element("p", {{"class", "caution"}}, text(caution));
}

}  // namespace trammel::report
