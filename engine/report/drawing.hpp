// Drawings of a layout, to scale.
#pragma once

#include <string>
#include <vector>

#include "report/html.hpp"
#include "search/sheet.hpp"

namespace trammel::report {

/// The whole bike, topped out with sag and bottomed laid over it, wheels, ground, chain and centre of gravity.
Html bike_figure(const search::Sheet& sheet, const bike::Gear* gear);

/// The linkage alone, larger, with its points' names and their paths through the stroke.
Html linkage_figure(const search::Sheet& sheet, const bike::Gear* gear);

/// A small picture for a table; `name` is its own on the page.
Html thumbnail(const search::Sheet& sheet, const std::string& name);

/// The whole bike as an SVG file whose lengths in mm are true.
std::string drawing_svg(const search::Sheet& sheet, const bike::Gear* gear);

/// Bikes beside each other, all at the scale that fits the largest.
std::vector<Html> figures_at_one_scale(const std::vector<search::Sheet>& sheets);

}  // namespace trammel::report
