// trammel compare A B --json
#include "app/changes.hpp"
#include "app/verdicts_json.hpp"
#include "search/references.hpp"

namespace trammel::app {
namespace {

Json file_json(const Changes::File& file) {
  return {{"file", file.path.string()},
          {"title", file.title},
          {"notes", {{"layout", text_or_null(file.notes)}, {"targets", file.noted}}},
          {"remark", text_or_null(file.remark)},
          {"failure", text_or_null(file.failure)}};
}

Json point_json(const std::optional<bike::Point>& point) {
  if (!point) return nullptr;
  return {{"x_mm", json_number(point->x)}, {"y_mm", json_number(point->y)}};
}

/// Of a path how far off it, as in the tables.
Json side_json(const objectives::Target& target, const std::optional<objectives::Verdict>& verdict) {
  if (!verdict) return nullptr;
  return {{"value", json_number(search::compared(target, *verdict))}, {"met", verdict->met}};
}

Json target_json(const Changes::Judged& one) {
  const objectives::Target& target = one.target();
  return {{"name", one.name},
          {"required", target.must},
          {"unit", unit_of(target)},
          {"asked_a", one.a ? asked_json(*one.a) : Json(nullptr)},
          {"asked_b", one.b ? asked_json(*one.b) : Json(nullptr)},
          {"a", side_json(target, one.was)},
          {"b", side_json(target, one.is)}};
}

Json curve_json(const Changes::Curve& curve) {
  Json values = Json::array();
  for (const Changes::Value& value : curve.values)
    values.push_back({{"place", value.place}, {"a", json_number(value.a)}, {"b", json_number(value.b)}});
  return {{"curve", curve.key},
          {"title", curve.title},
          {"unit", curve.unit},
          {"gear", text_or_null(curve.gear)},
          {"values", std::move(values)}};
}

}  // namespace

Json changes_json(const Changes& changes) {
  Json written = Json::array(), points = Json::array(), targets = Json::array(), curves = Json::array();
  for (const brief::Difference& d : changes.written)
    written.push_back({{"key", d.path}, {"a", text_or_null(d.before)}, {"b", text_or_null(d.after)}});
  for (const Changes::Point& point : changes.points)
    points.push_back({{"name", point.name}, {"a", point_json(point.a)}, {"b", point_json(point.b)}});
  for (const Changes::Judged& one : changes.targets) targets.push_back(target_json(one));
  for (const Changes::Curve& curve : changes.curves) curves.push_back(curve_json(curve));
  return {
      {"a", file_json(changes.a)},     {"b", file_json(changes.b)},   {"written", std::move(written)},
      {"only_a", changes.only_a},      {"only_b", changes.only_b},    {"points", std::move(points)},
      {"targets", std::move(targets)}, {"curves", std::move(curves)}, {"no_curves", text_or_null(changes.no_curves)}};
}

}  // namespace trammel::app
