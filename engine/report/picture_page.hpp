// The page on which points are read off a side view; its script is in page/picture/.
#pragma once

#include <filesystem>
#include <optional>
#include <string>

#include "report/photo.hpp"

namespace trammel::report {

/// The whole page, which asks for nothing: the picture, its script and its style are inside, and it says to the browser
/// that nothing may be loaded and no other script run. Without a picture it asks for one.
std::string picture_page(const std::optional<Photo>& photo);

/// Writes it as index.html into a folder that is there. Throws std::runtime_error naming the path.
void write_picture_page(const std::optional<Photo>& photo, const std::filesystem::path& folder);

}  // namespace trammel::report
