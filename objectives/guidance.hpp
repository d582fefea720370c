// Ranges that are common practice for a kind of bike: for remarks in words. Nothing in a search looks at them.
//
// They are habits of the trade without a published source, and a good bike may lie outside every one of them.
#pragma once

#include <optional>
#include <span>
#include <string_view>
#include <vector>

#include "bike/layout.hpp"
#include "objectives/target.hpp"
#include "objectives/verdict.hpp"

namespace trammel::objectives {

struct GuidanceRecord {
  std::string_view topic;          ///< of several records on one topic, a kind's own takes the general one's place
  std::string_view what;           ///< what is looked at, for reports and docs
  std::vector<bike::Kind> kinds;   ///< for which it is; empty = general, for every kind and where none is given
  std::optional<Measure> measure;  ///< of the curve
  bike::Curve curve;               ///< one that needs a gear is looked at in the lowest gear
  Station at, to;                  ///< as in a target
  std::optional<Stretch> over;     ///< likewise
  std::optional<double> least, greatest;  ///< the usual range, in the curve's or measure's unit; one at least
  std::string_view below, above;          ///< what it is like outside, one sentence each
};

std::span<const GuidanceRecord> guidance_table();
/// What a record looks at, as a target on a layout; `gear` is for a curve that needs one.
Target target_of(const GuidanceRecord& record, int gear);
/// Index of the gear with the least ratio of chainring to cog; −1 without gears.
int lowest_gear(const bike::Drivetrain& drivetrain);

/// What guidance says of one layout.
struct Remark {
  const GuidanceRecord* record = nullptr;
  Target target;
  Verdict verdict;
  /// The record's sentence when the layout lies outside; else empty.
  std::string_view words() const;
};

/// In the table's order: the remarks of the layout's kind, and the general ones on other topics, as far as the layout
/// has what they look at. Empty when it does not assemble through its stroke.
std::vector<Remark> remarks(const bike::Layout& layout);

/// A remark as it is for several cases of one layout.
struct SharedRemark {
  Remark remark;                       ///< of the first of them
  std::vector<std::size_t> cases;      ///< their numbers, rising
  double least = 0.0, greatest = 0.0;  ///< achieved in them
  /// Whether it is not for every one of so many cases.
  bool differs(std::size_t of) const { return cases.size() < of; }
};

/// The remarks of cases put together where they say the same: in the table's order, then by the first case.
std::vector<SharedRemark> shared(const std::vector<std::vector<Remark>>& cases);

}  // namespace trammel::objectives
