// Runs a formula over packs.
#pragma once

#include <span>
#include <vector>

#include "math/formula.hpp"
#include "math/trigonometry.hpp"

namespace trammel::math {

/// Per-task workspace. The formula must outlive it.
template <int W>
class FormulaRun {
 public:
  using P = Pack<W>;

  explicit FormulaRun(const Formula& formula) : formula_(&formula) {
    const std::vector<Formula::Operation>& all = formula.operations();
    values_.resize(all.size());
    adjoints_.resize(all.size(), P(0.0));
    for (std::size_t i = 0; i < all.size(); ++i)
      if (all[i].kind == Kind::constant) values_[i] = P(all[i].constant);
    inputs_.resize(static_cast<std::size_t>(formula.inputs()));
    for (std::size_t i = 0; i < all.size(); ++i) {
      if (all[i].kind == Kind::input) inputs_[static_cast<std::size_t>(all[i].a)] = static_cast<int>(i);
      if (all[i].kind != Kind::input && all[i].kind != Kind::constant) steps_.push_back(step(i, all[i]));
    }
    for (int i = 0; i < formula.results(); ++i) seeded_.push_back(formula.result_at(i));
    std::vector<bool> reached(all.size(), false);
    for (int i : seeded_) reached[at(i)] = true;
    for (std::size_t i = all.size(); i-- > 0;) plan_back(static_cast<int>(i), all[i], reached);
    for (int i : inputs_)
      if (!reached[at(i)]) seeded_.push_back(i);
  }

  void set(int input, const P& value) { values_[at(inputs_[at(input)])] = value; }
  void forwards() {
    for (const Step& s : steps_) values_[at(s.out)] = computed(s);
  }
  const P& result(int i) const { return values_[at(formula_->result_at(i))]; }

  /// Before a run backwards: nothing flows back.
  void still() {
    for (int i : seeded_) adjoints_[at(i)] = P(0.0);
  }
  /// How much of a result flows back, in one lane or in all; adds up.
  void seed(int result, std::size_t lane, double weight) {
    P& adjoint = adjoints_[at(formula_->result_at(result))];
    set_lane(adjoint, lane, math::lane(adjoint, lane) + weight);
  }
  void seed(int result, const P& weight) {
    P& adjoint = adjoints_[at(formula_->result_at(result))];
    adjoint = adjoint + weight;
  }
  void backwards() {
    for (const Flow& f : flows_) {
      P& to = adjoints_[at(f.to)];
      to = f.first ? flow(f) : to + flow(f);
    }
  }
  /// What has flowed back to an input.
  const P& adjoint(int input) const { return adjoints_[at(inputs_[at(input)])]; }

 private:
  using Kind = Formula::Kind;

  struct Step {
    Kind kind;
    int out, a, b, c;
    double constant;
  };
  /// One way back from an operation to one that it used.
  enum class Way : std::uint8_t {
    plain,
    minus,
    times,
    reciprocal,
    root,
    angle_y,
    angle_x,
    power,
    logarithm,
    where,
    where_not
  };
  struct Flow {
    Way way;
    bool first;  ///< nothing has flowed to it before
    int to, from, x, y;
    double constant;
  };

  static std::size_t at(int i) { return static_cast<std::size_t>(i); }
  static Step step(std::size_t i, const Formula::Operation& o) {
    return {o.kind, static_cast<int>(i), o.a, o.b, o.c, o.constant};
  }

  P computed(const Step& s) const {
    const P& a = values_[at(s.a)];
    const P& b = values_[at(s.b)];
    switch (s.kind) {
      case Kind::add:
        return a + b;
      case Kind::subtract:
        return a - b;
      case Kind::multiply:
        return a * b;
      case Kind::reciprocal:
        return P(1.0) / a;
      case Kind::negate:
        return -a;
      case Kind::root:
        return sqrt(a);
      case Kind::angle:
        return angle_of(a, b);
      case Kind::power:
        return pow(a, s.constant);
      case Kind::logarithm:
        return log(a);
      case Kind::less:
        return select(a < b, P(1.0), P(0.0));
      case Kind::choose:
        return select(a > P(0.5), b, values_[at(s.c)]);
      default:
        return a;
    }
  }

  void plan_back(int i, const Formula::Operation& o, std::vector<bool>& reached) {
    if (!o.moves || !reached[at(i)]) return;
    const auto flows = [&](Way way, int to, int x, int y) {
      if (!formula_->operations()[at(to)].moves) return;
      flows_.push_back({way, !reached[at(to)], to, i, x, y, o.constant});
      reached[at(to)] = true;
    };
    switch (o.kind) {
      case Kind::add:
        flows(Way::plain, o.a, 0, 0);
        flows(Way::plain, o.b, 0, 0);
        break;
      case Kind::subtract:
        flows(Way::plain, o.a, 0, 0);
        flows(Way::minus, o.b, 0, 0);
        break;
      case Kind::multiply:
        flows(Way::times, o.a, o.b, 0);
        flows(Way::times, o.b, o.a, 0);
        break;
      case Kind::reciprocal:
        flows(Way::reciprocal, o.a, i, 0);
        break;
      case Kind::negate:
        flows(Way::minus, o.a, 0, 0);
        break;
      case Kind::root:
        flows(Way::root, o.a, i, 0);
        break;
      case Kind::angle:
        flows(Way::angle_y, o.a, o.a, o.b);
        flows(Way::angle_x, o.b, o.a, o.b);
        break;
      case Kind::power:
        flows(Way::power, o.a, o.a, i);
        break;
      case Kind::logarithm:
        flows(Way::logarithm, o.a, o.a, 0);
        break;
      case Kind::choose:
        flows(Way::where, o.b, o.a, 0);
        flows(Way::where_not, o.c, o.a, 0);
        break;
      default:
        break;
    }
  }

  P flow(const Flow& f) const {
    const P& w = adjoints_[at(f.from)];
    const P& x = values_[at(f.x)];
    switch (f.way) {
      case Way::plain:
        return w;
      case Way::minus:
        return -w;
      case Way::times:
        return w * x;
      case Way::reciprocal:
        return -(w * x * x);
      case Way::root: {
        // At zero the slope is taken as zero: the callers clamp a radicand there, and past it the root does not move.
        const auto rises = x > P(0.0);
        return select(rises, w * P(0.5) / select(rises, x, P(1.0)), P(0.0));
      }
      case Way::angle_y:
      case Way::angle_x: {
        const P& y = values_[at(f.y)];
        const P squared = x * x + y * y;
        const auto somewhere = squared > P(0.0);
        const P share = select(somewhere, w / select(somewhere, squared, P(1.0)), P(0.0));
        return f.way == Way::angle_y ? share * y : -(share * x);
      }
      case Way::power:
        return w * P(f.constant) * values_[at(f.y)] / x;
      case Way::logarithm:
        return w / x;
      case Way::where:
        return select(x > P(0.5), w, P(0.0));
      case Way::where_not:
        return select(x > P(0.5), P(0.0), w);
    }
    return w;
  }

  const Formula* formula_;
  std::vector<P> values_, adjoints_;
  std::vector<int> inputs_, seeded_;
  std::vector<Step> steps_;
  std::vector<Flow> flows_;
};

}  // namespace trammel::math
