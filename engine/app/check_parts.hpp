// What `trammel check` says, part by part, in the order in which it is said. All of it goes to standard output.
#pragma once

#include "brief/brief.hpp"
#include "search/drawn.hpp"
#include "search/influence.hpp"
#include "search/setup.hpp"

namespace trammel::app {

/// Whether the bike is drawn level, facing right and of one piece, in every size, and what to change where it is not.
void describe_stance(const bike::Layout& layout);

/// How far each case moves; its geometry topped out and at sag; its spring; what is unusual for the kind of bike.
/// `title` of a layout without settings and sizes, such as "drawn layout".
void describe_drawn(const search::Drawn& drawn, const std::string& title);

/// Every target and rule with value, limit, margin and place.
void describe_verdicts(const brief::Brief& brief, const search::Drawn& drawn);

/// The targets alone, where there is no layout to judge.
void list_targets(const brief::Brief& brief);

/// How far each target can be moved, by what, and what moves none.
void describe_influence(const search::Setup& setup);

/// What tolerances do to the layout as drawn.
void describe_tolerances(const brief::Brief& brief);

/// Ranges with their place in the drawing.
void describe_ranges(const search::Setup& setup);

/// What can be said before searching; false when no layout can meet every must.
bool describe_prospects(const search::Setup& setup);

}  // namespace trammel::app
