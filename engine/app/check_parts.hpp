// What `trammel check` finds, and how it says it, part by part: in words on standard output, or for programs.
#pragma once

#include <memory>

#include "app/call.hpp"
#include "bike/stance.hpp"
#include "brief/brief.hpp"
#include "search/drawn.hpp"
#include "search/gradient_check.hpp"
#include "search/influence.hpp"
#include "search/setup.hpp"
#include "search/tolerance_sheet.hpp"

namespace trammel::app {

/// The bike as drawn in one of its sizes.
struct SizeStance {
  std::string size;  ///< empty without sizes
  bike::Layout layout;
  bike::Stance stance;
};

/// What is known of a search before it.
struct Outlook {
  const search::Setup& setup;
  search::DrawnDesign drawn;
  std::optional<search::Influence> influence;  ///< of a brief that draws its linkage, where that assembles as drawn
  std::vector<std::string> proven;             ///< why no layout can meet every requirement
  std::vector<std::string> notes;
};

/// A linkage of the brief, or the one that it draws.
struct CheckedLinkage {
  const brief::Brief& brief;
  search::Drawn drawn;  ///< of a template with every range in its middle
  std::optional<search::ToleranceSheet> tolerances;
  std::optional<Outlook> outlook;  ///< of a brief that varies something
  std::optional<search::GradientCheck> gradient;
};

struct Checked {
  const brief::Brief& brief;
  std::vector<SizeStance> stances;
  std::unique_ptr<search::Setup> setup;   ///< of a brief that varies something
  std::optional<std::size_t> references;  ///< how many existing layouts it names
  std::vector<CheckedLinkage> linkages;
};

/// A gradient that is farther off than this, as a share of its greatest entry, is wrong.
inline constexpr double gradient_tolerance = 1e-4;

/// All of it for programs.
Json check_json(const Checked& checked);

/// Whether the bike is drawn level, facing right and of one piece, in every size.
std::vector<SizeStance> stances_of(const bike::Layout& layout);

/// The same in words, with what to change where it is not.
void describe_stance(const bike::Layout& layout, const std::vector<SizeStance>& stances);

/// How far each case moves; its geometry topped out and at sag; its spring; what is unusual for the kind of bike.
/// `title` of a layout without settings and sizes, such as "drawn layout".
void describe_drawn(const search::Drawn& drawn, const std::string& title);

/// Every target and rule with value, limit, margin and place.
void describe_verdicts(const brief::Brief& brief, const search::Drawn& drawn);

/// The targets alone, where there is no layout to judge.
void list_targets(const brief::Brief& brief);

/// How far each target can be moved, by what, and what moves none.
void describe_influence(const search::Setup& setup, const search::Influence& influence);

/// What tolerances do to the layout as drawn.
void describe_tolerances(const brief::Brief& brief, const search::ToleranceSheet& sheet);

/// Ranges with their place in the drawing.
void describe_ranges(const Outlook& outlook);

/// What can be said before searching.
void describe_prospects(const Outlook& outlook);

/// How a gradient compares with differences.
void describe_gradient(const search::Setup& setup, const search::GradientCheck& check);

}  // namespace trammel::app
