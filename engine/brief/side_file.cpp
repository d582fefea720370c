#include "brief/side_file.hpp"

#include <filesystem>

#include "brief/yaml_loader.hpp"
#include "io/files.hpp"

namespace trammel::brief {

std::optional<std::string> side_file(const Node& named, const Brief& brief, const std::string& wanted,
                                     Problems& problems) {
  if (brief.kept) {
    problems.add(named, describe(named) + " was given, but the brief of a study names no file: all that it had from " +
                            "others is kept in its text");
    return std::nullopt;
  }
  const std::filesystem::path path = std::filesystem::path(brief.file).parent_path() / named.text;
  try {
    return io::read_regular(path, size_limit);
  } catch (const io::FileFailure& failure) {
    problems.add(named, describe(named) + " was given, but " + printable(path.string()) + " " + failure.what() +
                            "; give " + wanted + " beside the brief, at most " + std::to_string(size_limit / 1024) +
                            " KiB");
    return std::nullopt;
  }
}

}  // namespace trammel::brief
