// Writing into the report's folder.
#pragma once

#include <filesystem>
#include <string_view>

namespace trammel::report {

/// Writes a whole file, replacing what was there. Throws std::runtime_error naming the path when that fails, also when
/// the disk is full.
void write_file(const std::filesystem::path& path, std::string_view content);

/// Makes a folder and those above it. Throws std::runtime_error naming the path.
void make_folder(const std::filesystem::path& path);

/// Removes what an earlier report left in `layouts`: files of the report's own names in folders named by a number, and
/// folders that are empty then. Anything else stays.
void clear_layouts(const std::filesystem::path& layouts);

}  // namespace trammel::report
