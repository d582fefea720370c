// Writing into the report's folder.
#pragma once

#include <filesystem>
#include <string_view>
#include <vector>

namespace trammel::report {

/// Writes a whole file in place of what was there. Throws std::runtime_error naming the path when that fails: when the
/// disk is full, and when what was there is no file, or a link, behind which the folder would be left.
void write_file(const std::filesystem::path& path, std::string_view content);

/// Makes the folder of a report, and those above it. Throws std::runtime_error naming the path.
void make_report_folder(const std::filesystem::path& path);

/// Makes a folder in one that is there, unless it is there. Throws std::runtime_error naming the path, also when a link
/// stands in its place.
void make_folder(const std::filesystem::path& path);

/// The folders named by a number in `layouts`, by name; links are none. Others are somebody else's.
std::vector<std::filesystem::path> layout_folders(const std::filesystem::path& layouts);

/// Removes what an earlier report left in `layouts`: files of the report's own names in folders named by a number, and
/// folders that are empty then. Anything else stays.
void clear_layouts(const std::filesystem::path& layouts);

/// Takes scripts of references away that an earlier report left.
void clear_references(const std::filesystem::path& assets);

}  // namespace trammel::report
