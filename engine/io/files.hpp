// The door to files that others may have laid there: what is read is a regular file of limited size, and what is
// written stays where it belongs.
#pragma once

#include <cstddef>
#include <filesystem>
#include <stdexcept>
#include <string>
#include <string_view>

namespace trammel::io {

/// Why a file is not read or written. The text follows the file's name: "is a folder".
struct FileFailure : std::runtime_error {
  using std::runtime_error::runtime_error;
};

/// All bytes of a file of at most `most` bytes, behind symbolic links too. Throws FileFailure. What is a folder, a
/// named pipe, a socket or a device is told by kind before it is opened, so that nothing is waited for and nothing
/// begun.
std::string read_regular(const std::filesystem::path& path, std::size_t most);

/// Throws FileFailure when a path that is to be written is there already and is itself no regular file: a symbolic link
/// leads elsewhere, and a pipe takes what is written to whoever holds its other end.
void demand_own_file(const std::filesystem::path& path);

/// The same for a folder that is to be written into.
void demand_own_folder(const std::filesystem::path& path);

/// Throws FileFailure, led by the path, when anything in a folder, at any depth, is a symbolic link, or the folder is
/// one. A folder that is not there has none.
void demand_no_links(const std::filesystem::path& folder);

/// Writes a whole file in place of the one that is there, whose other names keep the old content. Throws FileFailure,
/// also when the disk is full.
void replace_file(const std::filesystem::path& path, std::string_view content);

/// Makes a folder in one that is there, unless it is there itself. Throws FileFailure.
void make_own_folder(const std::filesystem::path& path);

}  // namespace trammel::io
