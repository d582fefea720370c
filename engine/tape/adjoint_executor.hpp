// Runs the derivatives of a tape over packs: in each lane another weighting of the results, or another place.
#pragma once

#include <vector>

#include "tape/executor.hpp"

namespace trammel::tape {

/// Per-task workspace; nothing is allocated after it is made.
template <int W>
class AdjointExecutor {
 public:
  using P = Pack<W>;

  /// Of `adjoint(tape)`.
  explicit AdjointExecutor(const CompiledTape& adjoint) : AdjointExecutor(adjoint, adjoint.tape().results()) {}
  /// Of what is left of that where work has been done ahead (KnownInputs::last): all inputs but the coming ones are
  /// weights.
  static AdjointExecutor of_rest(const CompiledTape& rest) { return AdjointExecutor(rest, 0); }

  /// Input i; may be written before a run, and keeps its value.
  P& input(int i) { return run_.input(i); }
  /// No result flows back.
  void still() {
    for (int r = 0; r < results_; ++r) run_.input(first_weight_ + r) = P(0.0);
  }
  /// How much of a result flows back in one lane; adds up.
  void add(int result, std::size_t lane, double weight) { numbers(run_.input(first_weight_ + result))[lane] += weight; }
  void add(int result, const P& weights) { run_.input(first_weight_ + result) += weights; }
  /// The same in all lanes, whatever flowed back before.
  void set(int result, const P& weights) { run_.input(first_weight_ + result) = weights; }
  void run() { run_.run(); }
  /// Reads the coming inputs from an array.
  void run(const P* in) { run_.run(in); }
  /// Inputs that anything can flow to, and those that nothing can.
  const std::vector<int>& reached() const { return reached_; }
  const std::vector<int>& unreached() const { return unreached_; }
  /// What has flowed back to an input.
  const P& flow_pack(int input) const { return run_.result(input); }
  /// The same, a number in each lane.
  const double* flow(int input) const { return numbers(run_.result(input)); }

 private:
  AdjointExecutor(const CompiledTape& adjoint, int first_weight)
      : run_(adjoint),
        first_weight_(first_weight),
        results_(adjoint.tape().inputs() - adjoint.coming() - first_weight) {
    const Tape& tape = adjoint.tape();
    for (int i = 0; i < tape.results(); ++i) {
      const Tape::Operation& flow = tape.operations()[static_cast<std::size_t>(tape.result_at(i))];
      (flow.kind != Tape::Kind::constant ? reached_ : unreached_).push_back(i);
    }
  }

  Executor<W> run_;
  int first_weight_, results_;
  std::vector<int> reached_, unreached_;
};

}  // namespace trammel::tape
