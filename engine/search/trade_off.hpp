// Trade-offs of a brief: fronts between groups of targets, musts and packaging kept.
//
// A group's figure is that of its target which comes out worst: how far its value is beyond what is wished, in
// tolerances; negative = inside. A one-sided wish has no end to how far inside a value can be; a band is best met in
// its middle.
#pragma once

#include <memory>
#include <vector>

#include "search/effort.hpp"
#include "search/front.hpp"
#include "search/picker.hpp"
#include "search/setup.hpp"
#include "search/sheet.hpp"
#include "store/study_file.hpp"

namespace trammel::search {

/// A trade-off of one choice as a problem for `find_front`. For one thread; must outlive the problem that it gives.
class TradeOffModel {
 public:
  /// `setup` and `trade_off` must outlive it. `held`, by target: of those that hold by default, which are constraints.
  TradeOffModel(const Setup& setup, int choice, const brief::TradeOff& trade_off, std::vector<bool> held);
  ~TradeOffModel();
  TradeOffModel(const TradeOffModel&) = delete;
  TradeOffModel& operator=(const TradeOffModel&) = delete;

  FrontProblem problem();

 private:
  struct Parts;
  std::unique_ptr<Parts> parts_;
};

/// The layouts that fronts are sought from: the best of each choice that differ and meet every must.
class TradeOffStarts {
 public:
  explicit TradeOffStarts(const Setup& setup);
  /// Looks at the next layout in order of merit. False once no further one could be taken.
  bool offer(const store::LayoutRow& row);
  /// One list a choice.
  std::vector<std::vector<store::LayoutRow>> found() const;

 private:
  std::vector<Picker> pickers_;
};

/// A brief whose fronts are asked for, and the layouts to start from, a list a choice.
struct TradeOffTask {
  const Setup* setup;
  std::vector<std::vector<store::LayoutRow>> starts;
};

/// The fronts of all trade-offs of each task's brief. A function of briefs and starts alone. Throws Stopped.
std::vector<std::vector<TradeOffSheet>> find_trade_offs(const std::vector<TradeOffTask>& tasks,
                                                        const Effort& effort = {});

}  // namespace trammel::search
