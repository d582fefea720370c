// The plots of a layout's page and of a comparison: which curves, over what, with which wishes.
#pragma once

#include <span>
#include <vector>

#include "report/html.hpp"
#include "search/sheet.hpp"

namespace trammel::report {

/// The curves that a layout's page shows over wheel travel, in the order of their figures.
std::vector<bike::CurveKey> shown_curves(const search::Sheet& sheet, const std::vector<objectives::Target>& targets);

/// Every curve of a layout over wheel travel, with the targets drawn at their place and where the references run.
Html curve_figures(const search::Sheet& sheet, const std::vector<objectives::Target>& targets,
                   const search::References& references);

/// Some of them, those that the layout has, without references.
Html some_curve_figures(const search::Sheet& sheet, const std::vector<objectives::Target>& targets,
                        std::span<const bike::Curve> curves);

/// The path of the rear axle and of the instant centre, at equal scale along both axes.
Html path_figures(const std::vector<search::Sheet>& sheets);

/// The curves of several layouts in the same axes.
Html overlaid_figures(const std::vector<search::Sheet>& sheets);

/// "A", "B", … and the layout's id, or its title when it has none: how a comparison calls its layouts.
std::string letter_name(std::size_t index, const search::Sheet& sheet);

}  // namespace trammel::report
