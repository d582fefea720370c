// The field table: one record for every key that a brief may hold. The shape check, the suggestions for misspelt keys,
// the JSON Schema and the written reference are all made from it.
#pragma once

#include <limits>
#include <string>
#include <string_view>
#include <vector>

namespace trammel::brief {

/// Largest difference between the drawn distance of the eyes and the shock's length, mm: half of the last digit that a
/// drawing in whole millimetres gives.
inline constexpr double length_slack = 0.5;
/// How far a known length of a picture may be from the scale of all of them, as a share of it.
inline constexpr double picture_agreement = 0.05;
/// How far from the bottom bracket a point of a picture may come out along either axis, mm.
inline constexpr double picture_reach = 3000.0;
/// How far off a point of a picture may have been read when the brief does not say, pixels.
inline constexpr double picture_reading = 1.0;
/// What a target says that holds in every setting and size, or in every gear.
inline constexpr std::string_view every_case = "all";
/// What stands for a demand that is not made.
inline constexpr std::string_view no_demand = "any";
/// What a target says that compares all settings, or all sizes.
inline constexpr std::string_view settings_word = "settings", sizes_word = "sizes";
/// Most characters of a text.
inline constexpr std::size_t longest_text = 80;

/// What a value looks like.
enum class Shape {
  group,         ///< fixed keys, each with its own record
  names,         ///< keys are names of the brief's own choosing; the record for their values ends in ".*"
  list,          ///< values in order; the record for each ends in "[]"
  number,        ///< within `limits`
  whole,         ///< a number without a fraction, within `limits`
  flag,          ///< true or false
  text,          ///< 1 … `longest_text` characters, or as many as `limits` say
  name,          ///< see `is_name`
  word,          ///< one of `words`
  pair,          ///< two different names
  point,         ///< [x, y], each within `limits`
  interval,      ///< [low, high], low < high, each within `limits`
  range,         ///< a number, or [low, high] with low < high, within `limits`
  spot,          ///< a name, or [x, y], each within `limits`
  step,          ///< [fraction 0 … 1, value within `limits`]
  scaled,        ///< a number or a sum of multiples, see scaled.hpp
  scaled_range,  ///< one of these, or [low, high] of them
};

/// Bounds of a number. Open bounds are not themselves allowed.
struct Limits {
  double lo = -std::numeric_limits<double>::infinity();
  double hi = std::numeric_limits<double>::infinity();
  bool lo_open = false;
  bool hi_open = false;
  bool not_zero = false;
  bool hold(double number) const;
  /// "above 0, at most 90".
  std::string words() const;
};

struct Field {
  std::string path;  ///< "bike.wheels.rear.radius"; "[]" for an item of a list, ".*" for a value under a free name
  Shape shape = Shape::group;
  std::string meaning;  ///< one sentence
  bool required = false;
  std::string unit = {};  ///< mm, °, kg, N/mm; empty for none
  Limits limits = {};
  std::vector<std::string> words = {};  ///< allowed words; beside its shape's own values unless the shape is `word`
  std::string fallback = {};            ///< what holds when the key is left out, as JSON or in words; empty = nothing
  std::size_t least = 0;                ///< list or names: fewest entries
  bool distinct = false;                ///< list: no entry twice
  bool always_mm = false;               ///< a size that is named in mm, whatever the file's unit of lengths
};

/// Keys that may stand together in a group.
struct Form {
  std::vector<std::string> required;
  std::vector<std::string> optional = {};
};

/// Which sets of keys a group may hold: one of `forms`. Keys that no form and `never` names are not concerned.
struct Choice {
  std::string path;  ///< the group's
  std::vector<Form> forms;
  std::string when_key = {};  ///< when set, the choice applies only if this key holds one of `when_words` …
  std::vector<std::string> when_words = {};
  std::vector<std::string> never = {};  ///< … and these keys are then refused
  /// All keys that the choice is about.
  std::vector<std::string> concerned() const;
};

/// All records: a group's before its keys', in the order of the written reference.
const std::vector<Field>& fields();
const std::vector<Choice>& choices();

/// What a field allows, in words: "a number (mm), above 0, at most 3000".
std::string allowed(const Field& field);
/// A form in words: "bead_seat with tyre_height".
std::string in_words(const Form& form);

const Field* find_field(std::string_view path);
/// The records of the keys of a group, free names (".*") and list items ("[]") left out.
std::vector<const Field*> keys_of(std::string_view path);
/// The last part of a field's path.
std::string key_of(const Field& field);

/// A name of the brief's own choosing: a letter, then letters, digits, '_' or '-', at most 40; none of the words that
/// some YAML readers take for flags or null (on, off, yes, no, y, n, true, false, null).
bool is_name(std::string_view text);
/// The same rule in words.
std::string name_rule();
/// The same rule as a regular expression for the schema.
std::string name_pattern();

}  // namespace trammel::brief
