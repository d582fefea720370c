// trammel draft --from: a brief that goes on from a layout.
#pragma once

#include <filesystem>
#include <optional>
#include <string>
#include <vector>

namespace trammel::app {

struct FromArguments {
  std::filesystem::path layout;
  std::vector<std::string> keep;
  double within = 10.0;                         ///< mm
  std::optional<std::filesystem::path> points;  ///< moved ones, CSV or DXF
  std::optional<std::filesystem::path> wishes;  ///< a brief to take the wishes from
  std::optional<std::string> kind;
  std::optional<std::filesystem::path> out;  ///< where the text will go
};

struct Draft {
  std::string text;                   ///< of the brief
  std::vector<std::string> messages;  ///< what a user should know of it, a line each
};

/// Goes on from a layout; after points were moved the messages say everything that no longer holds. Throws BadInput.
Draft draft_from(const FromArguments& arguments);

}  // namespace trammel::app
