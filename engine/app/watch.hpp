// A run watched: its status line, and its report written again from time to time.
#pragma once

#include <functional>
#include <optional>
#include <string>

#include "search/study.hpp"

namespace trammel::app {

/// "8 h 05 min".
std::string clock_text(double seconds);
/// The causes of most losses, as shares of the screened.
std::string losses(const search::Progress& progress);

/// The required target or rule in which a layout of a study has the least margin, by name; empty where it cannot be
/// judged.
std::string weakest_requirement(const search::Setup& setup, const store::LayoutRow& row);

class Watch {
 public:
  Watch(const search::Setup& setup, const search::Budget& budget) : setup_(setup), budget_(budget) {}

  /// Done, rate, feasible, best with its weakest requirement, time left, losses: the least needed last, as a narrow
  /// terminal cuts the line.
  std::string status(const search::Progress& progress);

 private:
  const search::Setup& setup_;
  const search::Budget& budget_;
  std::string best_, weakest_;  ///< of which layout, by id
};

/// Does something again and again, each time so long after it has last been done.
class Every {
 public:
  /// Never without `seconds`.
  explicit Every(std::optional<double> seconds) : seconds_(seconds) {}
  /// `seconds` of a clock that only rises.
  void at(double seconds, const std::function<void()>& what);

 private:
  std::optional<double> seconds_;
  double last_ = 0.0;
};

}  // namespace trammel::app
