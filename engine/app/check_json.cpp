// trammel check --json
#include "app/check_parts.hpp"
#include "app/verdicts_json.hpp"

namespace trammel::app {
namespace {

Json stance_json(const SizeStance& one) {
  const bike::Stance& s = one.stance;
  return {{"size", text_or_null(one.size)},
          {"level", std::abs(s.front_higher) <= bike::level_slack(one.layout)},
          {"front_higher_mm", json_number(s.front_higher)},
          {"turned_deg", json_number(s.turned)},
          {"wheelbase_mm", json_number(s.wheelbase)},
          {"between_tyres_mm", json_number(s.between_tyres)},
          {"faces_left", s.rear_ahead},
          {"fork_offset_mm", json_number(s.fork_offset)}};
}

Json geometry_json(const std::optional<bike::GeometryRow>& row) {
  if (!row) return nullptr;
  return {{"head_angle_deg", json_number(row->head_angle)},
          {"seat_angle_deg", json_number(row->seat_angle)},
          {"reach_mm", json_number(row->reach)},
          {"stack_mm", json_number(row->stack)},
          {"wheelbase_mm", json_number(row->wheelbase)},
          {"chainstay_mm", json_number(row->chainstay)},
          {"bb_height_mm", json_number(row->bb_height)}};
}

/// Pressure of an air spring, rate of a coil; a measured table has neither.
Json set_up_json(const search::DrawnCase& one) {
  Json out = Json::array();
  for (const bike::SetUpRow& row : one.set_up) {
    const spring::Spring& spring = *one.layout.shock->spring;
    const bool air = std::holds_alternative<spring::Air>(spring.kind);
    const bool measured = std::holds_alternative<spring::Table>(spring.kind);
    out.push_back({{"rider_kg", json_number(row.rider)},
                   {"unit", measured ? Json(nullptr) : Json(air ? "bar" : "N/mm")},
                   {"wanted", measured ? Json(nullptr) : json_number(row.wanted)},
                   {"offered", json_number(row.offered)},
                   {"spacers", air ? Json(row.spacers) : Json(nullptr)},
                   {"sag", json_number(row.sag)},
                   {"fits", row.fits},
                   {"bottom_out_margin_pct", json_number(row.bottom_margin)}});
  }
  return out;
}

Json remarks_json(const std::vector<objectives::Remark>& remarks) {
  Json out = Json::array();
  for (const objectives::Remark& remark : remarks) {
    if (remark.verdict.met) continue;
    out.push_back({{"what", remark.record->what},
                   {"unit", unit_of(remark.target)},
                   {"found", json_number(remark.verdict.achieved)},
                   {"usual", asked_json(remark.target)},
                   {"words", remark.words()}});
  }
  return out;
}

Json case_json(const search::DrawnCase& one) {
  const bool moves = !one.failure;
  const auto of_moving = [&](double value) { return moves ? json_number(value) : Json(nullptr); };
  return {{"name", text_or_null(one.name)},
          {"failure", text_or_null(one.failure.value_or(""))},
          {"travel_mm", of_moving(one.travel)},
          {"stroke_mm", one.layout.shock ? json_number(one.layout.shock->stroke) : Json(nullptr)},
          {"least_transmission_deg", of_moving(one.least_transmission)},
          {"least_transmission_joint", moves ? text_or_null(one.least_transmission_joint) : Json(nullptr)},
          {"least_transmission_travel_mm", of_moving(one.least_transmission_travel)},
          {"topped_out", geometry_json(one.topped_out)},
          {"at_sag", geometry_json(one.at_sag)},
          {"set_up", set_up_json(one)},
          {"remarks", remarks_json(one.guidance)}};
}

Json tolerances_json(const brief::Brief& brief, const search::ToleranceSheet& sheet) {
  Json targets = Json::array();
  for (std::size_t t = 0; t < brief.targets.size(); ++t) {
    const search::TargetSpread& spread = sheet.targets[t];
    targets.push_back({{"name", brief.targets[t].name},
                       {"unit", unit_of(brief.targets[t])},
                       {"mean", json_number(spread.mean)},
                       {"deviation", json_number(spread.deviation)},
                       {"first_order_deviation", json_number(spread.first_order)},
                       {"met", json_number(spread.met.share())}});
  }
  return {{"frames", sheet.yield.of},
          {"yield", json_number(sheet.yield.share())},
          {"yield_from", json_number(sheet.yield.lo)},
          {"yield_to", json_number(sheet.yield.hi)},
          {"targets", std::move(targets)}};
}

Json variables_json(const Outlook& outlook) {
  Json out = Json::array();
  for (std::size_t v = 0; v < outlook.drawn.x.size(); ++v) {
    const search::Variable& variable = outlook.setup.design.variables()[v];
    out.push_back({{"name", variable.name},
                   {"unit", variable.unit},
                   {"least", json_number(variable.lo)},
                   {"greatest", json_number(variable.hi)},
                   {"drawn", json_number(variable.at(outlook.drawn.x[v]))}});
  }
  return out;
}

/// Of each target where it lies as drawn, how far all variables take it, and what each one does over its range.
Json influence_json(const Outlook& outlook) {
  if (!outlook.influence) return nullptr;
  Json out = Json::array();
  const std::vector<objectives::Target>& targets = outlook.setup.brief.targets;
  for (std::size_t t = 0; t < targets.size(); ++t) {
    const search::Reach& reach = outlook.influence->targets[t];
    Json effects = Json::object();
    for (std::size_t v = 0; v < reach.effects.size(); ++v)
      effects[outlook.setup.design.variables()[v].name] = json_number(reach.effects[v]);
    out.push_back({{"target", targets[t].name},
                   {"unit", unit_of(targets[t])},
                   {"drawn", json_number(reach.value)},
                   {"least", json_number(reach.least)},
                   {"greatest", json_number(reach.most)},
                   {"moved", reach.moved},
                   {"effects", std::move(effects)}});
  }
  return out;
}

Json gradient_json(const std::optional<search::GradientCheck>& check) {
  if (!check) return nullptr;
  const bool any = check->layouts > 0;
  return {{"layouts", check->layouts},
          {"entries", check->entries},
          {"worst_variable", any ? Json(check->worst.variable) : Json(nullptr)},
          {"worst_off", any ? json_number(check->worst.off()) : Json(nullptr)},
          {"tolerance", gradient_tolerance}};
}

Json search_json(const CheckedLinkage& one) {
  if (!one.outlook) return nullptr;
  const brief::SearchOptions& o = one.brief.search;
  return {{"units", o.units},
          {"screened_per_unit", o.samples},
          {"refined_per_unit", o.refine},
          {"algorithm", o.algorithm},
          {"variables", variables_json(*one.outlook)},
          {"influence", influence_json(*one.outlook)},
          {"cannot_be_met", one.outlook->proven},
          {"notes", one.outlook->notes},
          {"gradient", gradient_json(one.gradient)}};
}

Json linkage_json(const CheckedLinkage& one) {
  Json cases = Json::array();
  for (const search::DrawnCase& drawn : one.drawn.cases) cases.push_back(case_json(drawn));
  return {{"linkage", text_or_null(one.brief.linkage)},
          {"cases", std::move(cases)},
          {"judged",
           one.drawn.judged ? assessment_json(one.brief.targets, *one.drawn.judged, one.brief.layout) : Json(nullptr)},
          {"tolerances", one.tolerances ? tolerances_json(one.brief, *one.tolerances) : Json(nullptr)},
          {"search", search_json(one)}};
}

}  // namespace

Json check_json(const Checked& checked) {
  Json stances = Json::array(), linkages = Json::array();
  for (const SizeStance& one : checked.stances) stances.push_back(stance_json(one));
  for (const CheckedLinkage& one : checked.linkages) linkages.push_back(linkage_json(one));
  return {{"file", checked.brief.file},
          {"title", checked.brief.layout.title},
          {"notes", notes_json(checked.brief)},
          {"read_off_picture_within_mm",
           checked.brief.layout.reading > 0.0 ? json_number(checked.brief.layout.reading) : Json(nullptr)},
          {"references", checked.references ? Json(*checked.references) : Json(nullptr)},
          {"stances", std::move(stances)},
          {"layouts", std::move(linkages)}};
}

}  // namespace trammel::app
