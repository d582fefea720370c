#include "app/origin.hpp"

#include "app/study.hpp"
#include "brief/place.hpp"
#include "draft/carried.hpp"

namespace trammel::app {
namespace {

/// Folders of a study lie one inside the other: layouts/01, trade_offs/1/01.
constexpr int most_steps = 4;

std::optional<std::filesystem::path> study_around(const std::filesystem::path& file) {
  std::filesystem::path folder = std::filesystem::absolute(file).lexically_normal().parent_path();
  for (int step = 0; step < most_steps; ++step, folder = folder.parent_path())
    if (std::filesystem::exists(folder / study_file_name)) return folder;
  return std::nullopt;
}

/// The brief of the study in a folder, held to what holds for a stranger's; nothing, with the reason, where it is none.
std::optional<brief::Brief> brief_of_study(const std::filesystem::path& folder, std::string& remark) {
  try {
    return brief_of(read_study_file(folder));
  } catch (const store::StoreError& e) {
    remark = e.what();
  }
  return std::nullopt;
}

}  // namespace

Origin read_with_origin(const std::filesystem::path& file, const std::optional<std::filesystem::path>& wishes) {
  Origin out;
  std::vector<brief::Problem> problems;
  const auto read = [&](const std::filesystem::path& path) {
    brief::Reading reading = brief::read_file(path);
    for (brief::Problem& problem : brief::with_files(reading)) problems.push_back(std::move(problem));
    return std::move(reading.brief);
  };
  out.file = read(file);
  if (wishes) out.of = read(*wishes);
  if (!problems.empty()) throw BadInput(problems);
  out.study = study_around(file);
  if (out.of) return out;
  if (!out.file.vary.empty() || draft::has_targets(out.file.text))
    out.of = out.file;
  else if (out.study)
    out.of = brief_of_study(*out.study, out.remark);
  return out;
}

}  // namespace trammel::app
