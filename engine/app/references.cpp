#include "app/references.hpp"

#include <algorithm>

#include "app/verbs.hpp"
#include "brief/place.hpp"

namespace trammel::app {
namespace {

constexpr std::size_t most_references = 500;

/// `brief` names the folder; null for a study's own copy.
std::vector<std::filesystem::path> files_in(const std::filesystem::path& folder, const brief::Brief* brief) {
  const auto refuse = [&](const std::string& what) {
    return brief == nullptr ? BadInput(std::string(references_folder) + ": " + folder.string() + what)
                            : BadInput(brief::problem_at(*brief, "references.folder", folder.string() + what));
  };
  std::error_code error;
  std::vector<std::filesystem::path> files;
  for (std::filesystem::directory_iterator at(folder, error), end; !error && at != end; at.increment(error)) {
    if (at->path().extension() == ".yaml") files.push_back(at->path());
    if (files.size() > most_references)
      throw refuse(" holds more than " + std::to_string(most_references) +
                   " layouts, which is the most that are compared with");
  }
  if (error) throw refuse(" cannot be read: " + error.message());
  if (files.empty()) throw refuse(" holds no layout; their names end in .yaml");
  std::sort(files.begin(), files.end());
  return files;
}

}  // namespace

std::vector<search::Reference> read_references(const std::filesystem::path& folder, const brief::Brief* brief) {
  std::vector<search::Reference> layouts;
  std::vector<brief::Problem> problems;
  for (const auto& file : files_in(folder, brief)) {
    brief::Reading reading = brief::read_file(file);
    for (brief::Problem& problem : brief::with_files(reading)) problems.push_back(std::move(problem));
    if (reading.ok() && !reading.brief.vary.empty())
      problems.push_back(
          brief::problem_at(reading.brief, "vary", "a reference is a layout, whose numbers are no ranges"));
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
    for (const auto& file : files_in(from, nullptr)) std::filesystem::copy_file(file, to / file.filename());
  } catch (const std::filesystem::filesystem_error& e) {
    throw BadInput("references cannot be kept with the study: " + std::string(e.what()));
  }
}

}  // namespace trammel::app
