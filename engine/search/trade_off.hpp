// Trade-offs of a brief: fronts between groups of targets, musts and packaging kept.
//
// A group's figure is that of its target which comes out worst: how far its value is beyond what is wished, in
// tolerances; negative = inside. A one-sided wish has no end to how far inside a value can be; a band is best met in
// its middle.
#pragma once

#include <memory>
#include <vector>

#include "search/front.hpp"
#include "search/setup.hpp"
#include "search/sheet.hpp"
#include "store/study_file.hpp"

namespace trammel::search {

/// A trade-off of one choice as a problem for `find_front`. Uses the plain kernel for values, and the same kernel in
/// dual numbers for slopes. For one thread; must outlive the problem that it gives.
class TradeOffModel {
 public:
  /// `setup` and `trade_off` must outlive it.
  TradeOffModel(const Setup& setup, int choice, const brief::TradeOff& trade_off);
  ~TradeOffModel();
  TradeOffModel(const TradeOffModel&) = delete;
  TradeOffModel& operator=(const TradeOffModel&) = delete;

  FrontProblem problem();

 private:
  struct Parts;
  std::unique_ptr<Parts> parts_;
};

/// The fronts of all trade-offs of the brief, found from the best layouts of a study: `ranked` in order of merit. A
/// function of brief and layouts alone.
std::vector<TradeOffSheet> find_trade_offs(const Setup& setup, const std::vector<store::LayoutRow>& ranked);

}  // namespace trammel::search
