// Existing layouts judged by a study's targets, and where new ones stand among them.
#pragma once

#include <optional>
#include <string>
#include <vector>

#include "search/sheet.hpp"

namespace trammel::search {

/// Where a study keeps its copies of them, in its own folder.
inline constexpr const char* references_folder = "references";

/// A layout that is there already, such as one measured from a drawing.
struct Reference {
  std::string name;  ///< its file's
  bike::Layout layout;
  std::optional<brief::Tolerances> tolerances = {};  ///< how well it is known, such as read off a picture
};

/// What of a verdict is compared: the value achieved, of a path how far off it.
double compared(const objectives::Target& target, const objectives::Verdict& verdict);

/// All references judged as drawn, in the order given; those that do not move through their stroke are left out.
References judge_references(const brief::Brief& brief, const std::vector<Reference>& layouts);

/// Where a value stands in a class.
struct Standing {
  std::size_t below = 0;  ///< of the class, how many have less
  std::size_t above = 0;
  std::size_t count = 0;
};
/// `rising` are the values of the class. What agrees within rounding (1e-9 of the value) is neither below nor above.
Standing standing(const std::vector<double>& rising, double value);

}  // namespace trammel::search
