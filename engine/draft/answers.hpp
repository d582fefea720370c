// The few answers from which a brief is drafted, read from words.
#pragma once

#include <optional>
#include <string>
#include <string_view>
#include <vector>

#include "draft/usual.hpp"

namespace trammel::draft {

/// A value read from words, or what is wrong with them, with what is allowed.
template <class Value>
struct Reading {
  std::optional<Value> value;
  std::string flaw;  ///< set when `value` is not
};

/// "trail", "cross-country", "e_bike".
Reading<bike::Kind> read_kind(std::string_view words);
/// "150" or "150 mm"; from 40 to 300.
Reading<double> read_travel(std::string_view words);
/// "29", "27.5", or front and rear: "29/27.5".
Reading<Wheels> read_wheels(std::string_view words);
/// Name of a shipped linkage template.
Reading<std::string> read_linkage(std::string_view words);
/// "210x55": eye to eye and stroke in mm. A stroke on which no layout of this travel keeps within the leverage that is
/// sound by default is refused.
Reading<brief::ShockSize> read_shock(std::string_view words, double travel);
/// A brief's title: from 1 to 80 letters of text.
Reading<std::string> read_title(std::string_view words);

/// "210x55".
std::string shock_name(const brief::ShockSize& shock);

struct Answers {
  bike::Kind kind{};
  double travel = 0.0;  ///< mm
  Wheels wheels;
  std::string linkage;
  brief::ShockSize shock;
  std::string title;  ///< empty = made from the others
};

}  // namespace trammel::draft
