// The field table in words, for messages and for the written reference.
#include "brief/fields.hpp"
#include "brief/notes.hpp"
#include "brief/problems.hpp"

namespace trammel::brief {
namespace {

std::string shape_in_words(const Field& field) {
  const std::string limits = field.limits.words();
  const std::string unit = field.unit.empty() ? "" : " (" + field.unit + ")";
  const std::string bounded = unit + (limits.empty() ? "" : ", " + limits);
  switch (field.shape) {
    case Shape::group: {
      std::vector<std::string> keys;
      for (const auto* key : keys_of(field.path)) keys.push_back(key_of(*key));
      return "a group of keys: " + join(keys);
    }
    case Shape::names:
      return "names with their values, at least " + std::to_string(field.least);
    case Shape::list:
      return "a list of at least " + std::to_string(field.least) + (field.distinct ? ", none twice" : "");
    case Shape::number:
      return "a number" + bounded;
    case Shape::whole:
      return "a whole number" + bounded;
    case Shape::flag:
      return "true or false";
    case Shape::text:
      return "text of 1 to " + std::to_string(most_characters(field)) + " characters";
    case Shape::name:
      return "a name";
    case Shape::word:
      break;
    case Shape::pair:
      return "[a, b], two different names";
    case Shape::point:
      return "[x, y]" + bounded;
    case Shape::interval:
      return "[low, high] with low below high" + bounded;
    case Shape::range:
      return "a number or [low, high] with low below high" + bounded;
    case Shape::spot:
      return "a name or [x, y]" + bounded;
    case Shape::step:
      return "[fraction from 0 to 1, value]" + bounded;
    case Shape::scaled:
      return "a length, such as 40 or axle_x + 0.1 wheel" + bounded;
    case Shape::scaled_range:
      return "a length or [low, high], such as [-0.05 wheel, 0.1 wheel]" + bounded;
  }
  return "";
}

}  // namespace

std::string allowed(const Field& field) {
  std::string shape = shape_in_words(field);
  if (field.words.empty()) return shape;
  return shape.empty() ? join(field.words) : join(field.words) + ", or " + shape;
}

std::string in_words(const Form& form) {
  std::string text = form.required.empty() ? "none" : join(form.required, " with ");
  if (!form.optional.empty()) text += " (and, if wanted, " + join(form.optional, ", ") + ")";
  return text;
}

}  // namespace trammel::brief
