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

/// A target as a reference can be judged by it; nothing where the reference lacks what the target's curve needs.
/// Gears are matched by their teeth, where the study chooses the chainring by those of the cog; one that the reference
/// does not list is added to it, since its chain would run alike. Points are matched by their names. In which setting
/// or size the target holds is left out of account.
std::optional<objectives::Target> target_for(const objectives::Target& target, const bike::Layout& asked,
                                             bike::Layout& reference);

/// What of a verdict is compared: the value achieved, of a path to follow how far off it.
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
