// A linkage template put on a brief's bike: the tree of a brief that draws its own linkage.
#pragma once

#include <optional>
#include <string>
#include <vector>

#include "brief/marked_tree.hpp"
#include "brief/problems.hpp"
#include "brief/scaled.hpp"

namespace trammel::brief {

/// A template that a brief names.
struct Template {
  std::string name;
  Node tree;         ///< after `check_template`
  std::string text;  ///< its file's; empty for one that stands in the brief itself
};

/// The brief's tree with the template's linkage, shock and vary in place of `linkages`. Every value keeps the place
/// where it was written. What the brief says of points that this template has not is left out, and so is the choice of
/// idlers where it has no idler but one of `known` has. Nothing, with a problem, where points are placed from each
/// other in a circle or from one that there is not.
std::optional<Node> expand(const Node& brief, const Template& one, const Scale& scale,
                           const std::vector<Template>& known, Problems& problems);

/// Reports points that a brief speaks of and none of its templates has.
void report_unknown_points(const Node& brief, const std::vector<Template>& known, Problems& problems);

}  // namespace trammel::brief
