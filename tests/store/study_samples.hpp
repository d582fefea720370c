// Invented studies, the same on every call, for the store's tests.
#pragma once

#include <unistd.h>

#include <cmath>
#include <filesystem>
#include <fstream>
#include <string>

#include "store/study_file.hpp"

namespace trammel::test {

/// A folder of its own, gone when the test ends.
struct Folder {
  std::filesystem::path path;
  Folder() {
    static int count = 0;
    path = std::filesystem::temp_directory_path() /
           ("trammel-store-" + std::to_string(::getpid()) + "-" + std::to_string(++count));
    std::filesystem::create_directories(path);
  }
  ~Folder() { std::filesystem::remove_all(path); }
  Folder(const Folder&) = delete;
  Folder& operator=(const Folder&) = delete;
  std::filesystem::path study(const std::string& name = "trammel.study") const { return path / name; }
};

inline store::StudyHead sample_head() {
  return {.engine_version = "0.1.0",
          .brief_file = "trail.yaml",
          .brief_text = "trammel: 1\ntitle: Übungsrad \"ß\"\n",
          .brief_hash = "0123abcd",
          .seed = ~std::uint64_t{0} - 3,
          .planned_units = 100,
          .slice = 3,
          .slices = 16};
}

/// Unit `id`, all of whose numbers follow from `id`.
inline store::UnitRow sample_unit(std::int64_t id, int layouts = 6) {
  const auto number = [&](std::int64_t i) { return std::sin(static_cast<double>(id * 1000 + i)); };
  store::UnitRow unit{
      .unit = id, .screened = 2048, .refined = 6, .evaluations = 1000 + id, .layouts = {}, .failures = {}};
  for (int place = 0; place < layouts; ++place) {
    store::LayoutRow layout{.unit = id,
                            .place = place,
                            .choice = place % 2,
                            .design = {},
                            .achieved = {},
                            .musts = 4,
                            .musts_met = place % 5,
                            .score = number(place) * number(place),
                            .margin = number(place + 1)};
    layout.must_margin = number(place + 2);
    layout.wish_margin = number(place + 3);
    layout.room = std::abs(number(place + 4));
    for (int i = 0; i < 10; ++i) layout.design.push_back(std::abs(number(place * 10 + i)));
    for (int i = 0; i < 5; ++i) layout.achieved.push_back(100.0 * number(place * 5 + i));
    unit.layouts.push_back(layout);
  }
  unit.linkage = id % 3;
  for (store::LayoutRow& layout : unit.layouts) layout.linkage = unit.linkage;
  unit.failures = {{id, "does not assemble at stay", 17 + id}, {id, "does not assemble at tail", 3}};
  return unit;
}

/// Equal to the last bit.
inline bool same(const store::UnitRow& a, const store::UnitRow& b) {
  const auto bits = [](const std::vector<double>& x, const std::vector<double>& y) {
    bool equal = x.size() == y.size();
    for (std::size_t i = 0; equal && i < x.size(); ++i) {
      equal = x[i] == y[i] && std::signbit(x[i]) == std::signbit(y[i]);
    }
    return equal;
  };
  bool equal = a.unit == b.unit && a.linkage == b.linkage && a.screened == b.screened && a.refined == b.refined &&
               a.evaluations == b.evaluations && a.layouts.size() == b.layouts.size() &&
               a.failures.size() == b.failures.size();
  for (std::size_t i = 0; equal && i < a.layouts.size(); ++i) {
    const store::LayoutRow &x = a.layouts[i], &y = b.layouts[i];
    equal = x.unit == y.unit && x.linkage == y.linkage && x.place == y.place && x.choice == y.choice &&
            x.musts == y.musts && x.musts_met == y.musts_met &&
            bits({x.score, x.margin, x.must_margin, x.wish_margin, x.room},
                 {y.score, y.margin, y.must_margin, y.wish_margin, y.room}) &&
            bits(x.design, y.design) && bits(x.achieved, y.achieved);
  }
  for (std::size_t i = 0; equal && i < a.failures.size(); ++i) {
    equal = a.failures[i].unit == b.failures[i].unit && a.failures[i].cause == b.failures[i].cause &&
            a.failures[i].count == b.failures[i].count;
  }
  return equal;
}

}  // namespace trammel::test
