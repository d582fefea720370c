// A layout as built: with errors in its pivots, its shock and its wheels, in all its settings and sizes.
//
// A frame is made with its members' shapes a little off; then its shock, of the length that it has, goes in, and the
// linkage settles topped out on it, as with a setting that moves an eye (bike/cases.hpp). A point that members share is
// off in all of them alike. The centre of gravity keeps its height over the ground, which lies as the wheels' radii
// say.
#pragma once

#include <memory>
#include <span>
#include <vector>

#include "bike/cases.hpp"
#include "brief/tolerances.hpp"
#include "objectives/evaluator.hpp"
#include "search/setup.hpp"
#include "search/tolerance_sheet.hpp"

namespace trammel::search {

/// Errors of one frame, in mm.
struct Errors {
  std::vector<bike::Point> points;  ///< one a linkage point
  double shock_length = 0.0, rear_wheel = 0.0, front_wheel = 0.0;
};

/// One case of frames built to a drawing. Per-task workspace.
class BuiltCase {
 public:
  /// `targets` and `packaging` must outlive it. Throws linkage::CompileFailure.
  BuiltCase(const bike::Layout& drawn, const bike::Case& which, const std::vector<objectives::Target>& targets,
            const objectives::Packaging& packaging, objectives::InstructionSet set);
  BuiltCase(const BuiltCase&) = delete;  // its parts point to one another
  BuiltCase& operator=(const BuiltCase&) = delete;

  const objectives::Demands& demands() const { return *demands_; }

  /// A frame built with errors.
  const objectives::Outcome<double>& build(const Errors& errors);

  /// Derivatives at the frame without errors: of each target's value at each place (of a measure, one) with respect to
  /// each coordinate of `addresses`. Exact for points and the shock, by central differences for the wheels' radii,
  /// which the kernel takes as plain numbers.
  std::vector<std::vector<std::vector<double>>> slopes(std::span<const int> addresses);

 private:
  static constexpr std::size_t partials = 4;

  void take(const Errors& errors);
  /// How the points move when the shock gets longer.
  std::vector<bike::Point> by_shock_length();

  bike::Layout layout_;  ///< with a setting that has a shock, so that it settles
  bike::Case which_;
  bike::Model model_;
  std::unique_ptr<objectives::Demands> demands_;
  std::unique_ptr<objectives::Evaluator> evaluator_;
  bike::CasePoints<double> settle_;
  double shock_length_ = 0.0, rear_ = 0.0, front_ = 0.0;  ///< without errors
  std::vector<bike::Point> points_;
};

// Coordinates are numbered alike for every frame of a linkage: x and y of point p are 2p and 2p + 1, then come the
// shock's length, the rear and the front wheel's radius.

/// The coordinates that have a ±, with their numbers.
std::vector<std::pair<int, Coordinate>> coordinates(const bike::Layout& layout, const brief::Tolerances& tolerances);

/// The errors of frame number `frame`; the same for every layout, so that layouts are compared on the same luck.
Errors errors_of(const brief::Tolerances& tolerances, std::uint64_t seed, std::uint64_t frame);

}  // namespace trammel::search
