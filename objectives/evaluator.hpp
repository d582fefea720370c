// The work that a search does millions of times, behind one door for each instruction set.
#pragma once

#include <memory>
#include <optional>
#include <span>
#include <string_view>
#include <vector>

#include "bike/motion_adjoint.hpp"
#include "objectives/quantity.hpp"
#include "objectives/screen.hpp"

namespace trammel::objectives {

/// Instruction sets that the program has the work compiled for. All give the same digits.
enum class InstructionSet {
  baseline,  ///< what every processor of the kind has
  avx2,
  avx512,
};

/// "baseline", "avx2", "avx512".
std::string_view name_of(InstructionSet set);
std::optional<InstructionSet> find_instruction_set(std::string_view name);
/// Those that this program has and this processor can run, the widest last.
std::vector<InstructionSet> usable_instruction_sets();

/// How far the room between bodies is searched along the stroke when a layout is judged.
enum class RoomDetail {
  decisive,  ///< as far as a margin can change: bodies that stay further apart than a margin counts are left at that
  exact,     ///< to the least distance of each pair, for those who show it
};

/// Per-task workspace; nothing is allocated after the first call of each member.
class Evaluator {
 public:
  virtual ~Evaluator() = default;

  /// Screens a block; see Screening::screen.
  virtual void screen(const Block& block, const Emphasis& emphasis, double limit, std::span<Screened> out) = 0;

  /// Moves one layout through its stroke and gathers what the demands ask for.
  virtual const Outcome<double>& evaluate(const std::vector<math::Vec2<double>>& points) = 0;

  /// The same, the room between bodies searched through the whole stroke: for layouts that are judged.
  virtual const Outcome<double>& judge(const std::vector<math::Vec2<double>>& points, RoomDetail detail) = 0;

  // Of demands with tapes:

  /// The gradient of the figure of the layout last evaluated.
  virtual void gradient(const bike::Tangents& tangents, const Emphasis& emphasis, std::span<double> out) = 0;

  /// The gradients of some of its numbers, one a row.
  virtual void slopes(const bike::Tangents& tangents, std::span<const Quantity> quantities, std::span<double> rows) = 0;
};

/// `demands` must outlive it. `set` must be usable.
std::unique_ptr<Evaluator> make_evaluator(const Demands& demands, InstructionSet set);

}  // namespace trammel::objectives
