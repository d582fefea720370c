// Runs a tape over packs.
#pragma once

#include <algorithm>
#include <vector>

#include "math/trigonometry.hpp"
#include "tape/compiled_tape.hpp"

namespace trammel::tape {

using math::Pack;

/// Per-task workspace; nothing is allocated after it is made.
template <int W>
class Executor {
 public:
  using P = Pack<W>;

  /// Step by step, if so wished, where code could be made too; the digits are the same.
  explicit Executor(const CompiledTape& program, bool stepwise = false)
      : program_(program),
        made_(&program.made(W, stepwise ? 0 : math::native_lanes)),
        list_(made_->slots().end, P(0.0)) {
    for (const auto& [slot, constant] : made_->slots().constants) list_[at(slot)] = P(constant);
  }

  /// May be written before a run, and keeps its value.
  P& input(int i) { return list_[at(i)]; }
  void run() {
    if (made_->code)
      run_code(list_.data() + inputs() - program_.coming(), list_.data() + inputs());
    else
      run_steps();
  }
  const P& result(int i) const { return list_[at(made_->slots().results[at(i)])]; }

  /// Reads the coming inputs from an array; the results are found as after the other `run`.
  void run(const P* in) {
    if (made_->code) {
      run_code(in, list_.data() + inputs());
      return;
    }
    std::copy_n(in, program_.coming(), list_.data() + inputs() - program_.coming());
    run_steps();
  }
  /// Reads the coming inputs from an array and gives the results to another.
  void run(const P* in, P* out) {
    if (made_->code) {
      run_code(in, out);
      return;
    }
    run(in);
    for (int r = 0; r < program_.tape().results(); ++r) out[r] = result(r);
  }

 private:
  using Kind = Tape::Kind;

  int inputs() const { return program_.tape().inputs(); }
  void run_code(const P* in, P* out) {
    made_->code->run(reinterpret_cast<double*>(list_.data()), reinterpret_cast<const double*>(in),
                     reinterpret_cast<double*>(out));
  }
  void run_steps() {
    P* const v = list_.data();
    for (const Step& s : made_->steps.list) v[s.out] = computed(s, v);
  }

  template <class I>
  static std::size_t at(I i) {
    return static_cast<std::size_t>(i);
  }

  [[gnu::always_inline]] static P computed(const Step& s, const P* v) {
    const auto in = [&](std::size_t i) -> const P& { return v[s.in[i]]; };
    switch (s.kind) {
      case Kind::add:
        return in(0) + in(1);
      case Kind::subtract:
        return in(0) - in(1);
      case Kind::multiply:
        return in(0) * in(1);
      case Kind::multiply_add:
        return in(0) * in(1) + in(2);
      case Kind::multiply_take:
        return in(0) * in(1) - in(2);
      case Kind::take_product:
        return in(2) - in(0) * in(1);
      case Kind::sum_of_products:
        return in(0) * in(1) + in(2) * in(3);
      case Kind::difference:
        return in(0) * in(1) - in(2) * in(3);
      case Kind::divide:
        return in(0) / in(1);
      case Kind::negate:
        return -in(0);
      case Kind::plain:
        return in(0);
      case Kind::root:
        return sqrt(in(0));
      case Kind::angle:
        return angle_of(in(0), in(1));
      case Kind::unit_angle:
        return angle_of_unit(in(0), in(1));
      case Kind::power:
        return pow(in(0), s.constant);
      case Kind::logarithm:
        return log(in(0));
      case Kind::less:
        return select(in(0) < in(1), P(1.0), P(0.0));
      case Kind::choose:
        return select(in(0) > P(0.5), in(1), in(2));
      case Kind::input:
      case Kind::constant:
        break;
    }
    return in(0);
  }

  CompiledTape program_;
  const CompiledTape::Made* made_;
  std::vector<P> list_;
};

}  // namespace trammel::tape
