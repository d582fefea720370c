// Derivatives where a plain motion has been: the formulas of the motion, run forwards and backwards at the places that
// matter, several of them side by side.
#pragma once

#include "bike/motion_formulas.hpp"
#include "bike/spread.hpp"
#include "math/formula_run.hpp"

namespace trammel::bike {

/// How the points of a layout move with n design variables: n rows, one a variable, of d(point)/d(variable).
using Tangents = std::vector<std::vector<Vec2<double>>>;

/// Per-task workspace; nothing is allocated after the first layout.
template <int W>
class Follow {
 public:
  using P = math::Pack<W>;

  /// Both must outlive it.
  Follow(const Model& model, const MotionFormulas& formulas)
      : model_(&model),
        formulas_(&formulas),
        making_(formulas.making),
        place_(formulas.place),
        stand_(formulas.stand),
        parts_(formulas.making.results()) {}

  /// Takes the layout that `plain` has marched through. `plain` is used by the other members, which leave its march as
  /// it is.
  void start(const std::vector<Vec2<double>>& points, Spread<W>& plain) {
    plain_ = &plain;
    int next = 0;
    for (const Vec2<double>& p : points) {
      making_.set(next++, P(p.x));
      making_.set(next++, P(p.y));
    }
    if (formulas_->tears > 0)
      for (double s : {0.0, model_->range()}) next = set_tears(making_, next, plain.move_to(P(s)));
    making_.forwards();
    for (int i = 0; i < parts_; ++i) {
      place_.set(i, making_.result(i));
      stand_.set(i, making_.result(i));
    }
    still();
  }

  /// Forgets what has been gathered.
  void still() { making_.still(); }

  /// Stands at driving coordinates s, which `plain` has found for as many places. The results of the run that it gives
  /// are the curves; those whose bits are set in `curves` may be seeded.
  math::FormulaRun<W>& at_places(const P& s, std::span<const Locus> places, std::uint64_t curves) {
    place_.want(curves);
    plain_->move_to(s);
    const linkage::State<P>& plain = plain_->accelerate();
    int next = set_tears(place_, set(place_, parts_, s), plain);
    next = set_shift(next, s, places, plain.velocity[static_cast<std::size_t>(model_->layout.axle.point)].y);
    for (std::size_t p : formulas_->used) {
      next = set(place_, next, plain.velocity[p].x);
      next = set(place_, next, plain.velocity[p].y);
      next = set(place_, next, plain.acceleration[p].x);
      next = set(place_, next, plain.acceleration[p].y);
    }
    place_.forwards();
    place_.still();
    return place_;
  }

  /// Stands at driving coordinates that do not move. The results are those of `MotionFormulas::stand`; `watched` are
  /// those that may be seeded.
  math::FormulaRun<W>& at_stations(const P& s, std::uint64_t watched) {
    stand_.want(watched);
    const linkage::State<P>& plain = plain_->move_to(s);
    set_tears(stand_, set(stand_, parts_, s), plain);
    stand_.forwards();
    stand_.still();
    return stand_;
  }

  /// Takes what has been seeded into the first lanes of a run's results back to the parts, adding lane i of the run to
  /// lane `rows[i]` of what is gathered; adds up over runs.
  void gather(math::FormulaRun<W>& run, std::span<const std::size_t> rows) {
    run.backwards();
    for (int i = 0; i < parts_; ++i) {
      const P& adjoint = run.adjoint(i);
      for (std::size_t lane = 0; lane < rows.size();) {
        const std::size_t row = rows[lane];
        double sum = 0.0;
        for (; lane < rows.size() && rows[lane] == row; ++lane) sum += math::lane(adjoint, lane);
        making_.seed(i, row, sum);
      }
    }
  }
  /// Takes what has been gathered back to the points as drawn.
  void finish() { making_.backwards(); }
  /// Adds the gradient of what was gathered in a lane.
  void add_gradient(std::size_t lane, const Tangents& tangents, std::span<double> gradient) const {
    for (std::size_t p = 0; p < formulas_->points; ++p) {
      const double x = math::lane(making_.adjoint(static_cast<int>(2 * p)), lane);
      const double y = math::lane(making_.adjoint(static_cast<int>(2 * p + 1)), lane);
      for (std::size_t v = 0; v < gradient.size(); ++v) gradient[v] += x * tangents[v][p].x + y * tangents[v][p].y;
    }
  }

 private:
  static int set(math::FormulaRun<W>& run, int input, const P& x) {
    run.set(input, x);
    return input + 1;
  }
  static int set_tears(math::FormulaRun<W>& run, int next, const linkage::State<P>& plain) {
    for (const linkage::Tear<P>& tear : plain.tears)
      for (const P& x : {tear.at.x, tear.at.y, tear.rate, tear.bend}) next = set(run, next, x);
    return next;
  }

  /// How the places move along the stroke. One at a driving coordinate, or at an end of the range, does not; nor one
  /// where the wheel stands still.
  int set_shift(int next, const P& s, std::span<const Locus> places, const P& slope) {
    P rate(0.0), factor(0.0), offset(0.0);
    for (std::size_t lane = 0; lane < W; ++lane) {
      const Locus& place = places[std::min(lane, places.size() - 1)];
      const double at = math::lane(s, lane), rise = math::lane(slope, lane);
      if (place.driving || at == 0.0 || at == model_->range() || math::abs(rise) < 1e-6) continue;
      math::set_lane(rate, lane, 1.0 / rise);
      math::set_lane(factor, lane, place.factor);
      math::set_lane(offset, lane, place.offset);
    }
    return set(place_, set(place_, set(place_, next, rate), factor), offset);
  }

  const Model* model_;
  const MotionFormulas* formulas_;
  Spread<W>* plain_ = nullptr;
  math::FormulaRun<W> making_, place_, stand_;
  int parts_;
};

}  // namespace trammel::bike
