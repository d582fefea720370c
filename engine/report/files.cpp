#include "report/files.hpp"

#include <algorithm>
#include <array>
#include <stdexcept>
#include <string>
#include <vector>

#include "io/files.hpp"

namespace trammel::report {

namespace {

/// std::filesystem's own errors are runtime_errors too, but a user needs the path first.
[[noreturn]] void fail(const std::filesystem::path& path, const std::string& what) {
  throw std::runtime_error(path.string() + ": " + what);
}

}  // namespace

void write_file(const std::filesystem::path& path, std::string_view content) {
  try {
    io::replace_file(path, content);
  } catch (const io::FileFailure& failure) {
    fail(path, failure.what());
  }
}

void make_report_folder(const std::filesystem::path& path) {
  std::error_code error;
  std::filesystem::create_directories(path, error);
  if (error) fail(path, "cannot be made: " + error.message());
}

void make_folder(const std::filesystem::path& path) {
  try {
    io::make_own_folder(path);
  } catch (const io::FileFailure& failure) {
    fail(path, failure.what());
  }
}

std::vector<std::filesystem::path> layout_folders(const std::filesystem::path& layouts) {
  std::error_code error;
  std::vector<std::filesystem::path> folders;
  for (const auto& entry : std::filesystem::directory_iterator(layouts, error)) {
    const std::string name = entry.path().filename().string();
    const bool numbered = std::all_of(name.begin(), name.end(), [](char c) { return c >= '0' && c <= '9'; });
    if (numbered && !entry.is_symlink() && entry.is_directory()) folders.push_back(entry.path());
  }
  std::sort(folders.begin(), folders.end());
  return folders;
}

void clear_layouts(const std::filesystem::path& layouts) {
  static constexpr std::array own{"index.html",     "summary.html",    "layout.yaml", "curves.csv",     "pivots.csv",
                                  "geometry.csv",   "set_up.csv",      "loads.csv",   "drawing_mm.dxf", "drawing.svg",
                                  "tolerances.csv", "sensitivity.csv", "bands.csv",   "brief.yaml",     "beside.js",
                                  "index.pdf",      "summary.pdf"};
  try {
    io::demand_own_folder(layouts);
  } catch (const io::FileFailure& failure) {
    fail(layouts, failure.what());
  }
  std::error_code error;
  for (const auto& folder : layout_folders(layouts)) {
    std::vector<std::filesystem::path> files;
    files.reserve(std::size(own));
    for (const char* name : own) files.push_back(folder / name);
    for (const auto& entry : std::filesystem::directory_iterator(folder, error)) {
      const std::string name = entry.path().filename().string();
      const bool curves = name.starts_with("curves-") && name.ends_with(".csv");
      const bool workshop = name.starts_with("workshop") &&
                            (name.ends_with(".svg") || name.ends_with("_mm.dxf") || name.ends_with(".pdf"));
      if (curves || workshop) files.push_back(entry.path());
    }
    for (const auto& file : files) {
      std::filesystem::remove(file, error);
      if (error) fail(file, "cannot be replaced: " + error.message());
    }
    std::filesystem::remove(folder, error);  // fails, as it should, when something else is in it
  }
}

void clear_references(const std::filesystem::path& assets) {
  std::error_code error;
  std::vector<std::filesystem::path> files;
  for (const auto& entry : std::filesystem::directory_iterator(assets, error)) {
    const std::string name = entry.path().filename().string();
    if (name.starts_with("reference-") && name.ends_with(".js")) files.push_back(entry.path());
  }
  for (const auto& file : files) std::filesystem::remove(file, error);
}

}  // namespace trammel::report
