// A layout and the brief that it is of: its own file's, or that of the study in whose folder it lies.
#pragma once

#include <filesystem>
#include <optional>
#include <string>

#include "brief/brief.hpp"

namespace trammel::app {

struct Origin {
  brief::Brief file;                           ///< as read; of a brief, its layout as drawn
  std::optional<brief::Brief> of;              ///< the brief with its wishes; absent where none is known
  std::optional<std::filesystem::path> study;  ///< folder of the study that it lies in
  std::string remark;                          ///< why the study that it lies in tells nothing; else empty
};

/// Reads a layout, or a brief's layout as drawn; throws BadInput. `wishes` names another file to take the wishes from.
Origin read_with_origin(const std::filesystem::path& file, const std::optional<std::filesystem::path>& wishes = {});

}  // namespace trammel::app
