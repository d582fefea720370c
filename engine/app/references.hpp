// The folder of existing layouts that a brief names, and the copy that its study keeps.
#pragma once

#include <filesystem>

#include "brief/brief.hpp"
#include "search/references.hpp"

namespace trammel::app {

using search::references_folder;

/// All layouts in a folder, by name. Throws BadInput with everything that is wrong with them; also when the folder
/// holds none, or more than 500, at the place of `brief` that names it, or without one of a study's own copy.
std::vector<search::Reference> read_references(const std::filesystem::path& folder,
                                               const brief::Brief* brief = nullptr);

/// The folder that a brief names; nothing when it names none.
std::optional<std::filesystem::path> references_of(const brief::Brief& brief);

/// Copies the layouts of one folder into another, which is made. Throws BadInput when that fails.
void keep_references(const std::filesystem::path& from, const std::filesystem::path& to);

}  // namespace trammel::app
