#include <algorithm>
#include <nlohmann/json.hpp>

#include "brief/fields.hpp"
#include "brief/notes.hpp"
#include "brief/read.hpp"
#include "brief/scaled.hpp"
#include "brief/units.hpp"

namespace trammel::brief {
namespace {

using Json = nlohmann::ordered_json;

/// Makes the schema of files in one unit of lengths.
class Schema {
 public:
  explicit Schema(bool inches) : inches_(inches) {}
  Json schema_of(const Field& field) const;

 private:
  Json map_schema(const Field& field) const;
  Json shape_schema(const Field& field) const;
  bool inches_;
};

/// A whole bound is written without a fraction, as a person would.
Json bound(double number) {
  const auto whole = static_cast<std::int64_t>(number);
  return static_cast<double>(whole) == number ? Json(whole) : Json(number);
}

Json number_schema(const Limits& limits, bool whole) {
  Json json{{"type", whole ? "integer" : "number"}};
  if (limits.lo > -std::numeric_limits<double>::infinity()) {
    json[limits.lo_open ? "exclusiveMinimum" : "minimum"] = bound(limits.lo);
  }
  if (limits.hi < std::numeric_limits<double>::infinity()) {
    json[limits.hi_open ? "exclusiveMaximum" : "maximum"] = bound(limits.hi);
  }
  if (limits.not_zero) json["not"] = {{"const", 0}};
  return json;
}

Json two(Json first, Json second) {
  return {{"type", "array"},
          {"items", Json::array({std::move(first), std::move(second)})},
          {"minItems", 2},
          {"maxItems", 2}};
}

Json name_schema() {
  return {{"type", "string"}, {"pattern", name_pattern()}};
}

Json scaled_schema() {
  return {{"anyOf", {Json{{"type", "number"}}, Json{{"type", "string"}, {"pattern", scaled_pattern()}}}}};
}

/// Keys that must be there, and keys that must not.
Json keys_schema(const std::vector<std::string>& required, const std::vector<std::string>& barred) {
  Json json = Json::object();
  if (!required.empty()) json["required"] = required;
  for (const auto& key : barred) json["properties"][key] = false;
  return json;
}

Json choice_schema(const Choice& choice) {
  Json forms = Json::array();
  for (const auto& form : choice.forms) {
    std::vector<std::string> barred;
    for (const auto& key : choice.concerned()) {
      const auto among = [&](const std::vector<std::string>& keys) {
        return std::find(keys.begin(), keys.end(), key) != keys.end();
      };
      if (!among(form.required) && !among(form.optional)) barred.push_back(key);
    }
    forms.push_back(keys_schema(form.required, barred));
  }
  Json any = forms.size() == 1 ? forms.front() : Json{{"anyOf", forms}};
  if (choice.when_key.empty()) return any;
  return {{"if", {{"required", {choice.when_key}}, {"properties", {{choice.when_key, {{"enum", choice.when_words}}}}}}},
          {"then", any}};
}

Json Schema::map_schema(const Field& field) const {
  Json json{{"type", "object"}};
  Json required = Json::array();
  for (const auto* key : keys_of(field.path)) {
    json["properties"][key_of(*key)] = schema_of(*key);
    if (key->required) required.push_back(key_of(*key));
  }
  if (!required.empty()) json["required"] = required;
  if (field.shape == Shape::names) {
    json["propertyNames"] = {{"pattern", name_pattern()}};
    json["additionalProperties"] = schema_of(*find_field(field.path + ".*"));
    json["minProperties"] = field.least;
  } else {
    json["additionalProperties"] = false;
  }
  for (const auto& choice : choices()) {
    if (choice.path == field.path) json["allOf"].push_back(choice_schema(choice));
  }
  return json;
}

Json Schema::shape_schema(const Field& field) const {
  switch (field.shape) {
    case Shape::group:
    case Shape::names:
      return map_schema(field);
    case Shape::list: {
      Json json{{"type", "array"}, {"items", schema_of(*find_field(field.path + "[]"))}, {"minItems", field.least}};
      if (field.distinct) json["uniqueItems"] = true;
      return json;
    }
    case Shape::number:
    case Shape::whole:
      return number_schema(field.limits, field.shape == Shape::whole);
    case Shape::flag:
      return {{"type", "boolean"}};
    case Shape::text:
      return {{"type", "string"}, {"minLength", 1}, {"maxLength", most_characters(field)}};
    case Shape::name:
      return name_schema();
    case Shape::word:
      return {{"enum", field.words}};
    case Shape::pair: {
      Json json = two(name_schema(), name_schema());
      json["uniqueItems"] = true;
      return json;
    }
    case Shape::point:
    case Shape::interval:
      return two(number_schema(field.limits, false), number_schema(field.limits, false));
    case Shape::range: {
      const Json one = number_schema(field.limits, false);
      return {{"anyOf", {one, two(one, one)}}};
    }
    case Shape::scaled:
      return scaled_schema();
    case Shape::scaled_range:
      return {{"anyOf", {scaled_schema(), two(scaled_schema(), scaled_schema())}}};
    case Shape::spot:
      return {{"anyOf", {name_schema(), two(number_schema(field.limits, false), number_schema(field.limits, false))}}};
    case Shape::step:
      break;
  }
  return two(number_schema({0.0, 1.0}, false), number_schema(field.limits, false));
}

Json Schema::schema_of(const Field& given) const {
  const Field field = inches_ && is_length(given) ? in_inches(given) : given;
  Json json = shape_schema(field);
  if (!field.words.empty() && field.shape != Shape::word) {
    json = {{"anyOf", {Json{{"enum", field.words}}, json}}};
  }
  json["description"] = field.meaning + (field.unit.empty() ? "" : " Unit: " + field.unit + ".");
  if (!field.fallback.empty()) {
    // Defaults in words stay words; those that are JSON become values.
    const Json value = Json::parse(field.fallback, nullptr, false);
    if (value.is_discarded()) {
      json["description"] = json["description"].get<std::string>() + " Default: " + field.fallback + ".";
    } else {
      json["default"] = value;
    }
  }
  return json;
}

}  // namespace

std::string schema(bool inches) {
  Json json{{"$schema", "http://json-schema.org/draft-07/schema#"},
            {"title", inches ? "trammel brief in inches" : "trammel brief"}};
  json.update(Schema(inches).schema_of(fields().front()));
  // Which of the two schemas a file is held against is for its author to say; it must then be in that unit.
  Json& words = json["properties"]["units"]["enum"];
  const auto inch = std::find(words.begin(), words.end(), Json(inch_word));
  if (inches) {
    words = Json::array({*inch});
    json["required"].push_back("units");
  } else {
    words.erase(inch);
  }
  return json.dump(2) + "\n";
}

}  // namespace trammel::brief
