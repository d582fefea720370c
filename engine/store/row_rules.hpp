// What the rows of a study file must keep to, whoever wrote it.
#pragma once

#include <cstdint>
#include <optional>
#include <string>
#include <vector>

#include "store/study_file.hpp"

namespace trammel::store {

/// What a brief says of the rows of its study: not which results are right, but which there can be.
struct RowRules {
  struct OfLinkage {
    std::size_t variables = 0;  ///< numbers of a design
    std::size_t targets = 0;    ///< numbers achieved
    std::int64_t musts = 0;     ///< targets that are musts; packaging rules count besides
    std::int64_t choices = 1;
  };
  std::vector<OfLinkage> linkages;  ///< one at least; units take turns
  std::int64_t screened = 0;        ///< layouts that every unit screens
  std::int64_t most_refined = 0;    ///< refinements of a unit
};

/// A row that is not as it must be; the text names table and row, and lacks the file.
struct RowFault : StoreError {
  using StoreError::StoreError;
};

/// Checks rows against the rules of a brief, a unit at a time. Throws RowFault.
class RowCheck {
 public:
  RowCheck(RowRules rules, const StudyHead& head);

  /// A unit without its lists.
  void unit(const UnitRow& unit) const;
  /// A layout of whatever unit, with its numbers; its linkage is its unit's.
  void layout(const LayoutRow& layout) const;
  /// A whole unit.
  void whole(const UnitRow& unit) const;

  const RowRules::OfLinkage& of(std::int64_t linkage) const;

 private:
  std::int64_t linkage_of(std::int64_t unit) const;

  RowRules rules_;
  std::int64_t slice_, slices_;
};

/// Names of rows, for messages.
std::string unit_named(std::int64_t unit);
std::string layout_named(std::int64_t unit, std::int64_t place);

/// Greatest number of a unit, and most units of a plan.
inline constexpr std::int64_t most_units = 1'000'000'000'000;

/// Throws RowFault when the head of a study is none.
void demand_head(const StudyHead& head);

}  // namespace trammel::store
