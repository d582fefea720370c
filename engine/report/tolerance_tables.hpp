// What tolerances do to a layout: tables of its page and files.
#pragma once

#include <optional>
#include <string>
#include <vector>

#include "report/html.hpp"
#include "search/sheet.hpp"

namespace trammel::report {

/// "97.2 % (96.4 to 97.9 %)"; empty where no frames were built.
std::string yield_words(const search::Sheet& sheet);

/// Whether fewer of the frames built are kept than `asked`, a share; false where no frames were built or none is asked.
bool under_yield(const search::Sheet& sheet, const std::optional<double>& asked);
/// "✗ under 95 %", to stand behind a yield that is under what the brief asks; else empty.
std::string yield_flag(const search::Sheet& sheet, const std::optional<double>& asked);

/// Yield, the spread of every target, the share of frames that keep each target and rule.
Html tolerance_section(const search::Sheet& sheet, const std::vector<objectives::Target>& targets,
                       const brief::Tolerances& tolerances, const std::optional<double>& asked);

/// The ten greatest effects of a coordinate on a target.
Html sensitivity_section(const search::Sheet& sheet, const std::vector<objectives::Target>& targets);

/// One record a target: nominal value, mean, standard deviation, the same to first order, 5 and 95 %, share that meets
/// it.
std::string tolerances_csv(const search::Sheet& sheet, const std::vector<objectives::Target>& targets);

/// One record a target and coordinate, greatest effect first.
std::string sensitivity_csv(const search::Sheet& sheet, const std::vector<objectives::Target>& targets);

/// travel, then for each curve what 5 % of the frames are below and above.
std::string bands_csv(const search::Sheet& sheet);

}  // namespace trammel::report
