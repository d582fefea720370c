#include "brief/units.hpp"

#include <cmath>

#include "brief/scalar.hpp"
#include "brief/scaled.hpp"
#include "objectives/target.hpp"

namespace trammel::brief {
namespace {

void scalar_to_mm(Node& value, bool sum) {
  std::string text;
  if (const auto inches = read_number(value).value)
    // Rounded where no one has measured, so that 4.1 becomes 104.14 and not 104.13999999999999.
    text = exact_text(std::round(*inches * mm_per_inch * 1e9) / 1e9);
  else if (sum)
    text = scaled_times(value.text, exact_text(mm_per_inch));
  if (text.empty() || text == value.text) return;
  value.written = std::move(value.text);
  value.text = std::move(text);
}

/// What a target is about, as far as its unit needs it; nothing when its words are wrong.
std::optional<objectives::Target> subject_of(const Node& target) {
  objectives::Target out;
  if (const Node* measure = target.find("measure")) {
    const auto* record = measure->flawed ? nullptr : objectives::find_measure(measure->text);
    if (record == nullptr) return {};
    out.measure = record->measure;
    if (record->curve) out.curve.curve = *record->curve;
  }
  if (const Node* curve = target.find("curve")) {
    const auto* record = curve->flawed ? nullptr : bike::find_curve(curve->text);
    if (record == nullptr) return {};
    out.curve.curve = record->curve;
  }
  return out;
}

}  // namespace

bool in_inches(const Node& root) {
  const Node* units = root.find("units");
  return units != nullptr && units->kind == Node::Kind::scalar && units->text == inch_word;
}

bool is_length(const Field& field) {
  return field.unit == "mm" && !field.always_mm;
}

Field in_inches(const Field& field) {
  constexpr double steps = 1e4;
  Field out = field;
  out.unit = "in";
  out.limits.lo = std::ceil(field.limits.lo / mm_per_inch * steps) / steps;
  out.limits.hi = std::floor(field.limits.hi / mm_per_inch * steps) / steps;
  if (!field.fallback.empty() && std::string_view("-[0123456789").find(field.fallback[0]) != std::string_view::npos)
    out.fallback += " mm";
  return out;
}

void to_mm(Node& value, Shape shape) {
  if (value.kind == Node::Kind::scalar)
    return scalar_to_mm(value, shape == Shape::scaled || shape == Shape::scaled_range);
  for (std::size_t i = shape == Shape::step ? 1 : 0; i < value.items.size(); ++i)
    to_mm(value.items[i], shape == Shape::step ? Shape::number : shape);
}

void target_to_mm(Node& target) {
  const auto subject = subject_of(target);
  if (!subject) return;
  const auto convert = [&](const char* key, Shape shape) {
    Node* value = target.find(key);
    if (value != nullptr && !value->flawed) to_mm(*value, shape);
  };
  if (bike::record(subject->curve.curve).unit == "mm") convert("crosses", Shape::number);
  if (objectives::unit_of(*subject) != "mm") return;
  for (const char* key : {"band", "ceiling", "floor", "value", "plus", "found", "tolerance"})
    convert(key, Shape::range);
  for (const char* key : {"follow", "found_curve"})
    if (Node* path = target.find(key); path != nullptr && path->kind == Node::Kind::list)
      for (Node& step : path->items)
        if (!step.flawed) to_mm(step, Shape::step);
}

}  // namespace trammel::brief
