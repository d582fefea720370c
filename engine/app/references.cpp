#include "app/references.hpp"

#include <algorithm>

#include "app/verbs.hpp"

namespace trammel::app {
namespace {

constexpr std::size_t most_references = 500;

std::vector<std::filesystem::path> files_in(const std::filesystem::path& folder) {
  std::error_code error;
  std::vector<std::filesystem::path> files;
  for (const auto& entry : std::filesystem::directory_iterator(folder, error))
    if (entry.path().extension() == ".yaml") files.push_back(entry.path());
  if (error) throw BadInput("references.folder: " + folder.string() + " cannot be read: " + error.message());
  if (files.empty())
    throw BadInput("references.folder: " + folder.string() + " holds no layout; their names end in .yaml");
  if (files.size() > most_references)
    throw BadInput("references.folder: " + folder.string() + " holds " + std::to_string(files.size()) +
                   " layouts; at most " + std::to_string(most_references) + " are compared with");
  std::sort(files.begin(), files.end());
  return files;
}

}  // namespace

std::vector<search::Reference> read_references(const std::filesystem::path& folder) {
  std::vector<search::Reference> layouts;
  std::string problems;
  for (const auto& file : files_in(folder)) {
    brief::Reading reading = brief::read_file(file);
    problems += reading.message();
    if (reading.ok() && !reading.brief.vary.empty())
      problems += file.string() + ": vary: a reference is a layout, whose numbers are no ranges\n";
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
    for (const auto& file : files_in(from)) std::filesystem::copy_file(file, to / file.filename());
  } catch (const std::filesystem::filesystem_error& e) {
    throw BadInput("references cannot be kept with the study: " + std::string(e.what()));
  }
}

}  // namespace trammel::app
