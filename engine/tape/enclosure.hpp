// Runs a tape over numbers that enclose: intervals (interval.hpp) or Taylor forms (taylor_form.hpp).
//
// A choice takes both sides where its condition is not decided. The greater and the lesser of two numbers, the absolute
// value and the square are known as what they are, since their operands hang together.
#pragma once

#include <map>
#include <vector>

#include "math/interval.hpp"
#include "math/tape.hpp"

namespace trammel::tape {

using math::Interval;
using math::Tape;

/// Of a tape the operations that some of its results need, in order.
class TapeExcerpt {
 public:
  enum class Kind : std::uint8_t { plain, square, greater, lesser, absolute };
  struct Step {
    Tape::Operation operation;
    int out = 0;
    Kind kind = Kind::plain;
  };

  /// `tape` is finished; `results` by number.
  TapeExcerpt(const Tape& tape, const std::vector<int>& results);

  /// A step that keeps a number from falling below a small share of another, as the kernel does with what it takes
  /// roots of.
  struct Guarded {
    std::size_t step = 0;                  ///< by its place
    int number = 0, limit = 0, scale = 0;  ///< operations
  };
  /// Those that are kept from falling below `share`; in order.
  std::vector<Guarded> guarded(const Tape& tape, double share) const;

  const std::vector<Step>& steps() const { return steps_; }
  std::size_t size() const { return size_; }  ///< of the tape, in operations
  /// Inputs that the results need, by number.
  const std::vector<int>& inputs() const { return inputs_; }
  /// The operations that give all inputs, and all results.
  int input_at(int i) const { return input_at_[static_cast<std::size_t>(i)]; }
  int result_at(int i) const { return result_at_[static_cast<std::size_t>(i)]; }

 private:
  std::vector<Step> steps_;
  std::vector<int> inputs_, input_at_, result_at_;
  std::size_t size_ = 0;
};

/// What a step gives; `v` holds the numbers of all earlier operations.
template <class T>
T enclosed(const TapeExcerpt::Step& step, const std::vector<T>& v) {
  using Kind = Tape::Kind;
  const Tape::Operation& o = step.operation;
  const auto in = [&](int i) -> const T& { return v[static_cast<std::size_t>(i)]; };
  switch (step.kind) {
    case TapeExcerpt::Kind::square:
      return square(in(o.a));
    case TapeExcerpt::Kind::greater:
      return max(in(o.b), in(o.c));
    case TapeExcerpt::Kind::lesser:
      return min(in(o.b), in(o.c));
    case TapeExcerpt::Kind::absolute:
      return max(in(o.c), T(-in(o.c)));
    case TapeExcerpt::Kind::plain:
      break;
  }
  switch (o.kind) {
    case Kind::constant:
      return T(o.constant);
    case Kind::add:
      return in(o.a) + in(o.b);
    case Kind::subtract:
      return in(o.a) - in(o.b);
    case Kind::multiply:
      return in(o.a) * in(o.b);
    case Kind::divide:
      return in(o.a) / in(o.b);
    case Kind::negate:
      return -in(o.a);
    case Kind::root:
      return sqrt(in(o.a));
    case Kind::angle:
      return atan2(in(o.a), in(o.b));
    case Kind::unit_angle:
      return unit_angle(in(o.a), in(o.b));
    case Kind::power:
      return pow(in(o.a), o.constant);
    case Kind::logarithm:
      return log(in(o.a));
    case Kind::less:
      return as_number<T>(in(o.a) < in(o.b));
    case Kind::choose:
      return select(truth_of(in(o.a)), in(o.b), in(o.c));
    default:
      return in(o.a);
  }
}

/// Runs an excerpt of which only cases are of interest in which guarded numbers are at least `share` of their scales;
/// `known` are numbers that steps are known to give. `v` has the numbers of its inputs in their places, and afterwards
/// those of its results.
template <class T>
void run_enclosed(const TapeExcerpt& excerpt, const std::vector<TapeExcerpt::Guarded>& floors, double share,
                  const std::map<std::size_t, T>& known, std::vector<T>& v) {
  std::size_t next = 0;
  for (std::size_t i = 0; i < excerpt.steps().size(); ++i) {
    const TapeExcerpt::Step& step = excerpt.steps()[i];
    T& out = v[static_cast<std::size_t>(step.out)];
    if (const auto found = known.find(i); found != known.end()) {
      out = found->second;
      continue;
    }
    if (next == floors.size() || floors[next].step != i) {
      out = enclosed(step, v);
      continue;
    }
    const TapeExcerpt::Guarded& of = floors[next++];
    const auto at = [&](int operation) -> const T& { return v[static_cast<std::size_t>(operation)]; };
    const double least = (at(of.scale).range() * Interval(share)).lo;
    const bool limits = !(least > at(of.limit).range().hi);
    out = (limits ? enclosed(step, v) : at(of.number)).within({least, std::numeric_limits<double>::infinity()});
  }
}

}  // namespace trammel::tape
