// Runs a formula over packs.
#pragma once

#include <algorithm>
#include <span>
#include <utility>
#include <vector>

#include "math/formula_plan.hpp"
#include "math/trigonometry.hpp"

namespace trammel::math {

/// Per-task workspace; nothing is allocated once each set of results has been asked for. The formula must outlive it.
template <int W>
class FormulaRun {
 public:
  using P = Pack<W>;

  explicit FormulaRun(const Formula& formula) : formula_(&formula) {
    const std::vector<Formula::Operation>& all = formula.operations();
    values_.resize(all.size(), P(0.0));
    adjoints_.resize(all.size() + 2, P(0.0));
    inputs_.resize(at(formula.inputs()));
    for (std::size_t i = 0; i < all.size(); ++i) {
      if (all[i].kind == Formula::Kind::constant) values_[i] = P(all[i].constant);
      if (all[i].kind == Formula::Kind::input) inputs_[at(all[i].a)] = static_cast<int>(i);
    }
    want_all();
  }

  /// Which results the next runs are for, result i by bit i (see Plan); only they may be asked for and seeded.
  void want(std::uint64_t results) {
    const auto known = std::find_if(plans_.begin(), plans_.end(), [&](const auto& p) { return p.first == results; });
    if (known == plans_.end() && (plans_.size() == most_plans || (formula_->results() > 64 && !plans_.empty()))) {
      now_ = 0;  // the whole formula
      return;
    }
    now_ = static_cast<std::size_t>(known - plans_.begin());
    if (known == plans_.end()) plans_.emplace_back(results, make_plan(*formula_, results));
  }
  void want_all() { want(~std::uint64_t{0}); }

  void set(int input, const P& value) { values_[at(inputs_[at(input)])] = value; }
  void forwards() {
    P* const v = values_.data();
    for (const Step& s : plan().forwards) v[s.out] = computed(s, v);
  }
  const P& result(int i) const { return values_[at(formula_->result_at(i))]; }

  /// Before a run backwards: nothing flows back.
  void still() {
    for (const int i : plan().cleared) adjoints_[at(i)] = P(0.0);
  }
  /// How much of a result flows back in one lane; adds up.
  void seed(int result, std::size_t lane, double weight) {
    P& adjoint = adjoints_[at(formula_->result_at(result))];
    set_lane(adjoint, lane, math::lane(adjoint, lane) + weight);
  }
  void backwards() {
    P* const adjoints = adjoints_.data();
    for (const BackStep& b : plan().backwards) flow(b, values_.data(), adjoints);
  }
  /// What has flowed back to an input.
  const P& adjoint(int input) const { return adjoints_[at(inputs_[at(input)])]; }

 private:
  using Kind = Formula::Kind;

  /// So many sets of results are planned for, any other is run whole: what a task holds stays bounded.
  static constexpr std::size_t most_plans = 64;

  static std::size_t at(int i) { return static_cast<std::size_t>(i); }
  const Plan& plan() const { return plans_[now_].second; }

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
      case Kind::reciprocal:
        return P(1.0) / in(0);
      case Kind::negate:
        return -in(0);
      case Kind::plain:
        return in(0);
      case Kind::root:
        return sqrt(in(0));
      case Kind::angle:
        return angle_of(in(0), in(1));
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

  // The two below are the body of a loop of millions of turns; the compiler alone takes them for too large.
  /// Chain rule of one step: w, what has flowed to what it gives, goes on to its operands.
  [[gnu::always_inline]] static void flow(const BackStep& b, const P* v, P* adjoints) {
    const Step& s = b.step;
    const P w = adjoints[s.out];
    const auto in = [&](std::size_t i) -> const P& { return v[s.in[i]]; };
    const auto give = [&](std::size_t i, const P& share) { adjoints[b.to[i]] = adjoints[b.before[i]] + share; };
    const auto give_factors = [&](std::size_t i, const P& of) {
      give(i, of * in(i + 1));
      give(i + 1, of * in(i));
    };
    switch (s.kind) {
      case Kind::add:
        give(0, w);
        give(1, w);
        break;
      case Kind::subtract:
        give(0, w);
        give(1, -w);
        break;
      case Kind::multiply:
        give_factors(0, w);
        break;
      case Kind::multiply_add:
        give_factors(0, w);
        give(2, w);
        break;
      case Kind::multiply_take:
        give_factors(0, w);
        give(2, -w);
        break;
      case Kind::take_product:
        give_factors(0, -w);
        give(2, w);
        break;
      case Kind::sum_of_products:
        give_factors(0, w);
        give_factors(2, w);
        break;
      case Kind::difference:
        give_factors(0, w);
        give_factors(2, -w);
        break;
      case Kind::reciprocal:
        give(0, -(w * v[s.out] * v[s.out]));
        break;
      case Kind::negate:
        give(0, -w);
        break;
      case Kind::root: {
        // At zero the slope is taken as zero: the callers clamp a radicand there, and past it the root does not move.
        const auto rises = v[s.out] > P(0.0);
        give(0, select(rises, w * P(0.5) / select(rises, v[s.out], P(1.0)), P(0.0)));
        break;
      }
      case Kind::angle: {
        const P squared = in(0) * in(0) + in(1) * in(1);
        const auto somewhere = squared > P(0.0);
        const P share = select(somewhere, w / select(somewhere, squared, P(1.0)), P(0.0));
        give(0, share * in(1));
        give(1, -(share * in(0)));
        break;
      }
      case Kind::power:
        give(0, w * P(s.constant) * v[s.out] / in(0));
        break;
      case Kind::logarithm:
        give(0, w / in(0));
        break;
      case Kind::choose:
        give(1, select(in(0) > P(0.5), w, P(0.0)));
        give(2, select(in(0) > P(0.5), P(0.0), w));
        break;
      default:
        break;
    }
  }

  const Formula* formula_;
  std::vector<P> values_, adjoints_;  ///< by operation; two more adjoints, see Plan
  std::vector<int> inputs_;           ///< their operations
  std::vector<std::pair<std::uint64_t, Plan>> plans_;
  std::size_t now_ = 0;
};

}  // namespace trammel::math
