// Lengths of a linkage template: numbers in mm and multiples of the bike's own, such as "axle_x + 0.1 wheel".
//
// A length is a sum of terms; a term is a product of factors, joined by * or /; a factor is a number, a word, or a
// number with a word behind it. There are no brackets. "0.8 chainstay / leverage" is (0.8 · chainstay) / leverage.
#pragma once

#include <string>
#include <vector>

#include "brief/scalar.hpp"

namespace trammel::brief {

/// What the words stand for on one bike.
struct Scale {
  double travel = 1.0;     ///< wheel travel, mm
  double chainstay = 1.0;  ///< bottom bracket to rear axle, mm
  double wheel = 1.0;      ///< rear wheel's radius, mm
  double shock = 1.0;      ///< eye to eye, mm; of several shock sizes the first
  double stroke = 1.0;     ///< its stroke, mm
  double leverage = 1.0;   ///< travel over stroke
  double axle_x = 1.0;     ///< where the rear axle lies topped out, mm
  double axle_y = 1.0;     ///< mm
};

/// One word with what it stands for, for messages and the written reference.
struct ScaleWord {
  std::string word;
  double Scale::*value;
  std::string meaning;
};
const std::vector<ScaleWord>& scale_words();
/// The words alone.
std::vector<std::string> scale_word_list();

/// Reads a plain number or a sum as above.
NumberReading read_scaled(const Node& node, const Scale& scale);

/// The same length with its numbers that stand alone times a factor, such as the mm of another unit: what is a multiple
/// of the bike's own lengths stays. `text` as `read_scaled` takes it.
std::string scaled_times(const std::string& text, const std::string& factor);

/// What `read_scaled` accepts beside numbers, as a regular expression for the schema.
std::string scaled_pattern();

}  // namespace trammel::brief
