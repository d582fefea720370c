#include "app/verdicts_json.hpp"

#include "brief/notes.hpp"
#include "report/wording.hpp"

namespace trammel::app {
namespace {

using objectives::Target;

Json rule_json(const objectives::RuleVerdict& rule) {
  return {{"name", rule.name},
          {"where", text_or_null(rule.where)},
          {"origin", origin_word(rule.origin)},
          {"unit", rule.unit},
          {"achieved", json_number(rule.achieved)},
          {"demanded", json_number(rule.demanded)},
          {"margin", json_number(rule.margin)},
          {"met", rule.met},
          {"at_travel_mm", json_number(rule.at_travel)},
          {"in", text_or_null(rule.in)}};
}

/// What a path is to the curve; null for a wish that has none.
Json path_word(objectives::Wish::Kind kind) {
  using Kind = objectives::Wish::Kind;
  if (kind == Kind::follow) return "value";
  if (kind == Kind::under) return "greatest";
  return kind == Kind::over ? Json("least") : Json(nullptr);
}

}  // namespace

const char* origin_word(objectives::Origin origin) {
  return origin == objectives::Origin::sound ? "sound by default" : "brief";
}

Json asked_json(const Target& target) {
  using Kind = objectives::Wish::Kind;
  const objectives::Wish& wish = target.wish;
  const auto limit = [&](bool has, double value) { return has ? json_number(value) : Json(nullptr); };
  const bool value = wish.kind == Kind::value;
  return {{"words", report::wish(target) + ", " + report::place(target)},
          {"least", limit(wish.kind == Kind::band || wish.kind == Kind::floor, wish.lo)},
          {"greatest", limit(wish.kind == Kind::band || wish.kind == Kind::ceiling, wish.hi)},
          {"value", limit(value, wish.lo)},
          {"path", wish.along_path() ? Json(wish.path) : Json(nullptr)},
          {"path_is", path_word(wish.kind)},
          {"tolerance", json_number(target.tolerance)}};
}

Json verdict_json(const Target& target, const objectives::Verdict& verdict, const bike::Layout& layout) {
  Json out{{"name", target.name},
           {"required", target.must},
           {"weight", json_number(target.weight)},
           {"origin", origin_word(target.origin)},
           {"unit", unit_of(target)},
           {"asked", asked_json(target)},
           {"achieved", json_number(verdict.achieved)},
           {"missed_by", json_number(verdict.violation)},
           {"margin", json_number(verdict.margin)},
           {"met", verdict.met},
           {"at_travel_mm", has_place(target) ? json_number(verdict.at_travel) : Json(nullptr)},
           {"path_value", nullptr},
           {"gear", nullptr},
           {"in", text_or_null(verdict.in)}};
  if (target.wish.along_path()) out["path_value"] = json_number(verdict.wished);
  if (verdict.gear >= 0) out["gear"] = layout.drivetrain.gears[static_cast<std::size_t>(verdict.gear)].name();
  return out;
}

Json notes_json(const brief::Brief& brief) {
  const brief::Notes notes = brief::notes_of(brief);
  Json targets = Json::object();
  for (std::size_t t = 0; t < brief.targets.size(); ++t)
    if (const std::string own = notes.of_target(t); !own.empty()) targets[brief.targets[t].name] = own;
  return {{"layout", text_or_null(notes.layout)}, {"targets", std::move(targets)}};
}

Json assessment_json(const std::vector<Target>& targets, const objectives::Assessment& a, const bike::Layout& layout) {
  Json of_targets = Json::array(), of_rules = Json::array();
  for (std::size_t t = 0; t < targets.size() && t < a.targets.size(); ++t)
    of_targets.push_back(verdict_json(targets[t], a.targets[t], layout));
  for (const objectives::RuleVerdict& rule : a.rules) of_rules.push_back(rule_json(rule));
  return {{"requirements", a.musts},
          {"requirements_met", a.musts_met},
          {"score", json_number(a.score)},
          {"margin", json_number(a.margin)},
          {"required_margin", json_number(a.must_margin)},
          {"preferred_margin", json_number(a.wish_margin)},
          {"targets", std::move(of_targets)},
          {"rules", std::move(of_rules)}};
}

}  // namespace trammel::app
