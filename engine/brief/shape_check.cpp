#include "brief/shape_check.hpp"

#include <algorithm>
#include <cmath>
#include <utility>

#include "brief/fields.hpp"
#include "brief/notes.hpp"
#include "brief/scalar.hpp"
#include "brief/scaled.hpp"
#include "brief/units.hpp"

namespace trammel::brief {
namespace {

std::size_t count_characters(const std::string& text) {
  return static_cast<std::size_t>(
      std::count_if(text.begin(), text.end(), [](char c) { return (static_cast<unsigned char>(c) & 0xC0u) != 0x80u; }));
}

class ShapeCheck {
 public:
  ShapeCheck(Problems& problems, bool inches) : problems_(problems), inches_(inches) {}

  void check(Node& node, const Field& field, std::string where) {
    node.where = std::move(where);
    if (!field.words.empty() && node.kind == Node::Kind::scalar && has_word(node, field)) return;
    if (inches_ && is_length(field)) {
      check_value(node, in_inches(field));
      if (!node.flawed) to_mm(node, field.shape);
    } else {
      check_value(node, field);
      if (inches_ && field.path == "targets[]") target_to_mm(node);
    }
  }

 private:
  void check_value(Node& node, const Field& field) {
    switch (field.shape) {
      case Shape::group:
      case Shape::names:
        return check_map(node, field);
      case Shape::list:
        return check_list(node, field);
      case Shape::number:
      case Shape::whole:
        return check_number(node, field, field.limits, field.shape == Shape::whole);
      case Shape::flag:
        if (!read_flag(node)) refuse(node, field, "is neither true nor false");
        return;
      case Shape::text:
        return check_text(node, field);
      case Shape::name:
        return check_name(node, field);
      case Shape::word:
        return refuse(node, field, "is not one of the words");
      case Shape::pair:
        return check_pair(node, field);
      case Shape::point:
        return check_two_numbers(node, field, field.limits, field.limits);
      case Shape::interval:
        return check_interval(node, field);
      case Shape::range:
        return node.kind == Node::Kind::list ? check_interval(node, field)
                                             : check_number(node, field, field.limits, false);
      case Shape::spot:
        return node.kind == Node::Kind::list ? check_two_numbers(node, field, field.limits, field.limits)
                                             : check_name(node, field);
      case Shape::step:
        return check_two_numbers(node, field, {0.0, 1.0}, field.limits);
      case Shape::scaled:
        return check_scaled(node, field);
      case Shape::scaled_range:
        return node.kind == Node::Kind::list ? check_two_scaled(node, field) : check_scaled(node, field);
    }
  }

  static bool has_word(const Node& node, const Field& field) {
    return is_text(node) && std::find(field.words.begin(), field.words.end(), node.text) != field.words.end();
  }

  /// Where a word that is none here belongs: under another key of the same group.
  static std::string belongs(const Node& node, const Field& field) {
    if (field.words.empty() || !is_text(node)) return "";
    for (const Field* other : keys_of(field.path.substr(0, field.path.rfind('.'))))
      if (other->path != field.path && has_word(node, *other))
        return "; " + printable(node.text) + " goes under " + key_of(*other) + ": write " + key_of(*other) + ": " +
               printable(node.text);
    return "";
  }

  /// Numbers with a decimal comma are a list of twice as many to YAML, or text.
  static std::string comma(const Node& node) {
    const auto digits = [](const std::string& text, std::size_t from) {
      return text.size() > from && text.find_first_not_of("0123456789", from) == text.npos;
    };
    std::string meant;
    if (node.kind == Node::Kind::scalar) {
      const std::size_t at = node.text.find(',');
      if (at == node.text.npos || at == 0 || !digits(node.text, at + 1)) return "";
      const bool sign = node.text.front() == '-' || node.text.front() == '+';
      if (!digits(node.text.substr(0, at), sign ? 1 : 0)) return "";
      meant = node.text.substr(0, at) + "." + node.text.substr(at + 1);
    } else if (node.kind == Node::Kind::list && node.items.size() == 4) {
      for (std::size_t i = 0; i < 4; ++i) {
        const Node& item = node.items[i];
        const bool sign = i % 2 == 0 && item.text.starts_with('-');
        if (item.kind != Node::Kind::scalar || !digits(item.text, sign ? 1 : 0)) return "";
        meant += (i == 0 ? "[" : i == 2 ? ", " : ".") + item.text;
      }
      meant += "]";
    } else {
      return "";
    }
    return "; decimals are written with a point, not a comma: " + meant;
  }

  void refuse(Node& node, const Field& field, const std::string& what) {
    std::string hint;
    if (node.kind == Node::Kind::scalar) {
      hint = belongs(node, field);
      misplaced_ = misplaced_ || !hint.empty();
      if (hint.empty()) hint = suggestion(node.text, field.words);
    }
    hint += comma(node);
    problems_.add(node, describe(node) + " was given, which " + what + "; allowed: " + allowed(field) + hint);
    node.flawed = true;
  }

  void refuse_kind(Node& node, const Field& field) {
    if (node.kind == Node::Kind::nothing) {
      problems_.add(node, "nothing was given; give a value or leave the key out; allowed: " + allowed(field));
      node.flawed = true;
    } else {
      refuse(node, field, "does not fit here");
    }
  }

  void check_number(Node& node, const Field& field, const Limits& limits, bool whole) {
    if (node.kind != Node::Kind::scalar) return refuse_kind(node, field);
    const auto reading = read_number(node);
    if (!reading.value) return refuse(node, field, reading.flaw);
    if (whole && *reading.value != std::floor(*reading.value)) return refuse(node, field, "is not a whole number");
    if (!limits.hold(*reading.value)) return refuse(node, field, "is out of range");
  }

  void check_two_numbers(Node& node, const Field& field, const Limits& first, const Limits& second) {
    if (node.kind != Node::Kind::list) return refuse_kind(node, field);
    if (node.items.size() != 2) return refuse(node, field, "does not hold two numbers");
    for (std::size_t i = 0; i < 2; ++i) {
      node.items[i].where = node.where + "[" + std::to_string(i) + "]";
      check_number(node.items[i], field, i == 0 ? first : second, false);
      node.flawed |= node.items[i].flawed;
    }
  }

  void check_interval(Node& node, const Field& field) {
    check_two_numbers(node, field, field.limits, field.limits);
    if (node.flawed) return;
    const double lo = *read_number(node.items[0]).value;
    const double hi = *read_number(node.items[1]).value;
    if (lo >= hi) {
      problems_.add(node, "[" + node.items[0].text + ", " + node.items[1].text +
                              "] was given; the first must be below the second");
      node.flawed = true;
    }
  }

  void check_scaled(Node& node, const Field& field) {
    if (node.kind != Node::Kind::scalar) return refuse_kind(node, field);
    // How long it comes out is looked at when it is put on a bike; here every word is worth 1.
    if (const auto reading = read_scaled(node, {}); !reading.value) refuse(node, field, reading.flaw);
  }

  void check_two_scaled(Node& node, const Field& field) {
    if (node.items.size() != 2) return refuse(node, field, "does not hold two lengths");
    for (std::size_t i = 0; i < 2; ++i) {
      node.items[i].where = node.where + "[" + std::to_string(i) + "]";
      check_scaled(node.items[i], field);
      node.flawed |= node.items[i].flawed;
    }
  }

  void check_text(Node& node, const Field& field) {
    if (node.kind != Node::Kind::scalar) return refuse_kind(node, field);
    // A bare cog in place of a gear: who knows the gears says what they are called.
    const bool gear = field.path.ends_with(".gear") || field.path == "targets[].gears[]";
    if (gear && node.plain && read_number(node).value) return;
    if (!is_text(node)) return refuse(node, field, "YAML reads as a number or a flag; put it in quotes");
    const std::size_t length = count_characters(node.text);
    if (length < 1 || length > most_characters(field))
      refuse(node, field, "has " + std::to_string(length) + " characters");
  }

  void check_name(Node& node, const Field& field) {
    if (node.kind != Node::Kind::scalar) return refuse_kind(node, field);
    if (!is_text(node) || !is_name(node.text)) refuse(node, field, "is none; a name is " + name_rule());
  }

  void check_pair(Node& node, const Field& field) {
    if (node.kind != Node::Kind::list) return refuse_kind(node, field);
    if (node.items.size() != 2) return refuse(node, field, "does not hold two names");
    for (std::size_t i = 0; i < 2; ++i) {
      node.items[i].where = node.where + "[" + std::to_string(i) + "]";
      check_name(node.items[i], field);
      node.flawed |= node.items[i].flawed;
    }
    if (!node.flawed && node.items[0].text == node.items[1].text) {
      refuse(node, field, "names " + node.items[0].text + " twice");
    }
  }

  void check_list(Node& node, const Field& field) {
    if (node.kind != Node::Kind::list) return refuse_kind(node, field);
    if (node.items.size() < field.least) return refuse(node, field, "is too short");
    const Field& item = *find_field(field.path + "[]");
    for (std::size_t i = 0; i < node.items.size(); ++i) {
      check(node.items[i], item, node.where + "[" + std::to_string(i) + "]");
      if (field.distinct) check_distinct(node, i);
    }
  }

  void check_distinct(Node& list, std::size_t last) {
    Node& item = list.items[last];
    if (item.flawed) return;
    const auto same = [&](const Node& other) {
      if (other.flawed) return false;
      const auto a = read_number(item).value, b = read_number(other).value;
      return a && b ? *a == *b : item.text == other.text;
    };
    const auto end = list.items.begin() + static_cast<std::ptrdiff_t>(last);
    const auto first = std::find_if(list.items.begin(), end, same);
    if (first == end) return;
    problems_.add(item, describe(item) + " was given twice; the first is on line " + std::to_string(first->mark.line));
    item.flawed = true;
  }

  void check_map(Node& node, const Field& field) {
    if (node.kind != Node::Kind::map) return refuse_kind(node, field);
    const bool outside = std::exchange(misplaced_, false);
    const auto known = keys_of(field.path);
    const Field* free = field.shape == Shape::names ? find_field(field.path + ".*") : nullptr;
    for (std::size_t i = 0; i < node.keys.size(); ++i) {
      const Key& key = node.keys[i];
      const std::string where = node.where.empty() ? key.text : node.where + "." + key.text;
      const auto found =
          std::find_if(known.begin(), known.end(), [&](const Field* f) { return key_of(*f) == key.text; });
      if (found != known.end()) {
        check(node.items[i], **found, where);
      } else if (free == nullptr) {
        refuse_key(node, key, known);
      } else {
        if (!is_name(key.text)) {
          problems_.add(key.mark, node.where, "'" + printable(key.text) + "' is no name; allowed: " + name_rule());
        }
        check(node.items[i], *free, where);
      }
    }
    check_required(node, known);
    if (free != nullptr && node.keys.size() < field.least) refuse(node, field, "is too short");
    // Which keys go together is another question once a word has been moved to where it belongs.
    if (std::exchange(misplaced_, outside)) return;
    for (const auto& choice : choices()) {
      if (choice.path == field.path) check_choice(node, choice);
    }
  }

  void refuse_key(const Node& node, const Key& key, const std::vector<const Field*>& known) {
    std::vector<std::string> words;
    words.reserve(known.size());
    for (const auto* field : known) words.push_back(key_of(*field));
    const bool after_comma = !key.text.empty() && key.text.find_first_not_of("0123456789") == key.text.npos;
    problems_.add(key.mark, node.where.empty() ? "file" : node.where,
                  "unknown key '" + printable(key.text) + "'" +
                      (after_comma ? " after a comma: decimals are written with a point" : "") +
                      "; allowed: " + join(words) + suggestion(key.text, words));
  }

  void check_required(const Node& node, const std::vector<const Field*>& known) {
    for (const auto* field : known) {
      const std::string key = key_of(*field);
      if (!field->required || node.find(key) != nullptr) continue;
      problems_.add(node.mark, node.where.empty() ? "file" : node.where,
                    "key '" + key + "' is missing: " + field->meaning +
                        " Allowed: " + allowed(inches_ && is_length(*field) ? in_inches(*field) : *field));
    }
  }

  void check_choice(Node& node, const Choice& choice) {
    if (!choice.when_key.empty()) {
      const Node* key = node.find(choice.when_key);
      const auto& words = choice.when_words;
      if (key == nullptr || !is_text(*key) || std::find(words.begin(), words.end(), key->text) == words.end()) return;
    }
    std::vector<std::string> given;
    for (const auto& key : choice.concerned()) {
      if (node.find(key) != nullptr) given.push_back(key);
    }
    const auto among = [](const std::vector<std::string>& words, const std::string& word) {
      return std::find(words.begin(), words.end(), word) != words.end();
    };
    const bool fits = std::any_of(choice.forms.begin(), choice.forms.end(), [&](const Form& form) {
      return std::all_of(form.required.begin(), form.required.end(),
                         [&](const auto& key) { return among(given, key); }) &&
             std::all_of(given.begin(), given.end(),
                         [&](const auto& key) { return among(form.required, key) || among(form.optional, key); });
    });
    if (fits) return;
    std::vector<std::string> forms;
    for (const auto& form : choice.forms) forms.push_back(in_words(form));
    const std::string condition =
        choice.when_key.empty() ? "" : " when " + choice.when_key + " is " + node.find(choice.when_key)->text;
    problems_.add(
        node.mark, node.where.empty() ? "file" : node.where,
        (given.empty() ? "none of " + join(choice.concerned()) + " was given" : "the keys given are " + join(given)) +
            condition + "; allowed: " + join(forms, "; or "));
    node.flawed = true;
  }

  Problems& problems_;
  bool inches_;             ///< the file's lengths are in inches
  bool misplaced_ = false;  ///< a word of the group in hand belongs under another of its keys
};

}  // namespace

void check_shape(Node& root, Problems& problems) {
  const bool inches = in_inches(root);
  ShapeCheck(problems, inches).check(root, fields().front(), "");
  if (!inches) return;
  Node& units = *root.find("units");
  units.written = std::exchange(units.text, std::string(both_word));
}

void check_template(Node& root, const std::string& where, Problems& problems) {
  ShapeCheck(problems, false).check(root, *find_field("templates.*"), where);
}

}  // namespace trammel::brief
