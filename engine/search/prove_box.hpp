// What can be said of all layouts in a box of the design variables at once.
//
// Points, motion and curves are computed over Taylor forms (math/taylor_form.hpp) by the same tapes that move single
// layouts, from the design variables on. Every must becomes rows: linear in the variables, with an error that holds for
// the whole box. A box in which a row is above 0 everywhere holds no layout that meets that must.
//
// Layouts whose transmission angles fall below what the brief asks for are dropped at once: at stations below it,
// between them below it by 2° or by half of it, which breaks the same rule where no station is.
//
// What is looked at: that the linkage assembles, the packaging rules on points as drawn and along the stroke, and all
// required targets, at the stations and places where a search looks. Left out, so that what depends on them is not
// proven: the room between bodies, sensitivity, differences between cases, and cases that move points.
#pragma once

#include <memory>
#include <span>
#include <vector>

#include "math/interval.hpp"
#include "search/setup.hpp"

namespace trammel::search {

/// A range of every design variable, each in 0 … 1.
using VariableBox = std::vector<math::Interval>;

/// What is demanded, by kinds: number of a target in the brief, or of a packaging rule.
struct Must {
  enum class Kind { assembles, target, rule } kind = Kind::assembles;
  std::size_t number = 0;
  friend bool operator==(const Must&, const Must&) = default;
};
/// As a report names it: the target's name, or the rule's.
std::string name_of(const Must& must, const brief::Brief& brief);

/// a·ε + b ≤ 0 for every layout of the box that meets the must, with ε ∈ [−1, 1]ⁿ the place in the box.
struct ProofRow {
  std::size_t must = 0;  ///< of BoxJudge::musts
  double b = 0.0;
};

/// Rows of one box; their coefficients side by side.
struct ProofRows {
  std::size_t variables = 0;
  std::vector<ProofRow> rows;
  std::vector<double> slopes;  ///< row by row

  void clear() {
    rows.clear();
    slopes.clear();
  }
  std::span<const double> slopes_of(std::size_t row) const { return {slopes.data() + row * variables, variables}; }
};

/// Per-task workspace.
class BoxJudge {
 public:
  virtual ~BoxJudge() = default;
  /// In the order in which they are asked for.
  virtual const std::vector<Must>& musts() const = 0;
  /// Gives a must that no layout of the box meets, or −1 and the rows of all that may be broken. Without `closely` only
  /// a few stations and those targets are looked at that are decided at few places.
  virtual int judge(const VariableBox& box, bool closely, ProofRows& rows) = 0;
};

/// Nothing where a linkage cannot be judged so: one with blocks, or a search over too many variables. `setup` must
/// outlive it.
std::unique_ptr<BoxJudge> make_box_judge(const Setup& setup, int choice);

/// Most design variables.
inline constexpr int most_proof_variables = 31;

/// What of every limit is given away, in tolerances or as a share of a rule's scale: far more than all rounding in what
/// a search computes of a layout, and in what is computed of rows.
inline constexpr double proof_slack = 1e-6;

}  // namespace trammel::search
