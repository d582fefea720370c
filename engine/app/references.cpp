#include "app/references.hpp"

#include <algorithm>

#include "app/verbs.hpp"
#include "brief/place.hpp"

namespace trammel::app {
namespace {

constexpr std::size_t most_references = 500;

/// `named` says where the folder is named, or which it is.
std::vector<std::filesystem::path> files_in(const std::filesystem::path& folder, const std::string& named) {
  std::error_code error;
  std::vector<std::filesystem::path> files;
  for (std::filesystem::directory_iterator at(folder, error), end; !error && at != end; at.increment(error)) {
    if (at->path().extension() == ".yaml") files.push_back(at->path());
    if (files.size() > most_references)
      throw BadInput(named + ": " + folder.string() + " holds more than " + std::to_string(most_references) +
                     " layouts, which is the most that are compared with");
  }
  if (error) throw BadInput(named + ": " + folder.string() + " cannot be read: " + error.message());
  if (files.empty()) throw BadInput(named + ": " + folder.string() + " holds no layout; their names end in .yaml");
  std::sort(files.begin(), files.end());
  return files;
}

}  // namespace

std::vector<search::Reference> read_references(const std::filesystem::path& folder, const std::string& named) {
  std::vector<search::Reference> layouts;
  std::string problems;
  for (const auto& file : files_in(folder, named)) {
    brief::Reading reading = brief::read_file(file);
    problems += reading.message();
    if (reading.ok() && !reading.brief.vary.empty())
      problems += brief::place_of(reading.brief, "vary") + ": a reference is a layout, whose numbers are no ranges\n";
    layouts.push_back({file.stem().string(), std::move(reading.brief.layout), std::move(reading.brief.tolerances)});
  }
  if (!problems.empty()) throw BadInput(problems);
  return layouts;
}

std::optional<std::filesystem::path> references_of(const brief::Brief& brief) {
  if (brief.references.empty()) return std::nullopt;
  return std::filesystem::path(brief.file).parent_path() / brief.references;
}

void keep_references(const std::filesystem::path& from, const std::filesystem::path& to) {
  try {
    std::filesystem::create_directory(to);
    for (const auto& file : files_in(from, "references")) std::filesystem::copy_file(file, to / file.filename());
  } catch (const std::filesystem::filesystem_error& e) {
    throw BadInput("references cannot be kept with the study: " + std::string(e.what()));
  }
}

}  // namespace trammel::app
