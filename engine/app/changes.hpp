// trammel compare A B: what changed between two briefs or two revisions of a layout, in tables.
#pragma once

#include <filesystem>
#include <vector>

namespace trammel::app {

/// Prints what the two files say differently, the points, the targets and the curves at stated places, each with a
/// column of differences. `travels` are further places, in mm of wheel travel. Throws BadInput.
void print_changes(const std::filesystem::path& before, const std::filesystem::path& after,
                   const std::vector<double>& travels);

}  // namespace trammel::app
