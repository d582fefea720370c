// Derivatives where a plain motion has been: those of its tapes, at the places that matter, several of them side by
// side.
#pragma once

#include <algorithm>
#include <array>
#include <cstring>
#include <span>
#include <utility>
#include <vector>

#include "bike/motion_tapes.hpp"
#include "bike/spread.hpp"
#include "bike/tangents.hpp"
#include "tape/adjoint_executor.hpp"

namespace trammel::bike {

/// Per-task workspace; nothing is allocated after it is made.
template <int W>
class MotionAdjoint {
 public:
  using P = math::Pack<W>;
  using Slopes = tape::AdjointExecutor<W>;

  /// Both must outlive it.
  MotionAdjoint(const Model& model, const MotionTapes& tapes)
      : model_(&model),
        parts_(tapes.parts),
        drawn_(static_cast<std::size_t>(tapes.making_to_follow.coming())),
        numbers_(static_cast<std::size_t>(tapes.making_to_follow.tape().results())),
        making_(tapes.making_to_follow),
        made_(Slopes::of_rest(tapes.making_slopes)),
        place_(tapes.place_slopes),
        stand_(tapes.stand_slopes) {}

  /// Takes the layout that `plain` has marched through. `plain` is used by the other members, which leave its march as
  /// it is.
  void start(const std::vector<Vec2<double>>& points, Spread<W>& plain) {
    plain_ = &plain;
    points_ = points.size();
    along_.resize(2 * points_);
    std::size_t next = 0;
    const auto set = [&](const P& x) { drawn_[next++] = x; };
    for (const Vec2<double>& p : points) {
      set(P(p.x));
      set(P(p.y));
    }
    if (model_->program.tears > 0)
      for (double s : {0.0, model_->range()}) each_tear(plain.move_to(P(s)), set);
    making_.run(drawn_.data(), numbers_.data());
    for (int i = 0; i < parts_; ++i) place_.input(i) = stand_.input(i) = numbers_[static_cast<std::size_t>(i)];
    still();
  }

  /// Forgets what has been gathered.
  void still() { still_ = true; }

  /// Stands at driving coordinates s, which `plain` has found for as many places. The results that flow back are the
  /// curves.
  Slopes& at_places(const P& s, std::span<const Locus> places) {
    int next = stand_at(place_, s);
    std::array<double, W> free{}, factor{}, offset{};
    for (std::size_t lane = 0; lane < W; ++lane) {
      const Locus& place = places[std::min(lane, places.size() - 1)];
      const double at = math::lane(s, lane);
      if (place.driving || at == 0.0 || at == model_->range()) continue;  // it does not move along the stroke
      free[lane] = 1.0;
      factor[lane] = place.factor;
      offset[lane] = place.offset;
    }
    for (const auto& numbers : {free, factor, offset}) place_.input(next++) = math::pack_of<W>(numbers);
    return place_;
  }

  /// Stands at driving coordinates that do not move. The results are those of `MotionTapes::stand_slopes`.
  Slopes& at_stations(const P& s) {
    stand_at(stand_, s);
    return stand_;
  }

  /// Takes what flows back in the first lanes to the parts, adding lane i to lane `rows[i]` of what is gathered; adds
  /// up. Nothing may flow back in the other lanes.
  void gather(Slopes& from, std::span<const std::size_t> rows) {
    from.run();
    bool aligned = true;
    for (std::size_t lane = 0; lane < rows.size(); ++lane) aligned = aligned && rows[lane] == lane;
    const bool first = std::exchange(still_, false);
    if (aligned && first) {
      each_part(from.unreached(), [&](int i) { made_.set(i, P(0.0)); });
      each_part(from.reached(), [&](int i) { made_.set(i, from.flow_pack(i)); });
      return;
    }
    if (aligned) {
      each_part(from.reached(), [&](int i) { made_.add(i, from.flow_pack(i)); });
      return;
    }
    if (first) made_.still();
    each_part(from.reached(), [&](int i) {
      const double* const flow = from.flow(i);
      for (std::size_t lane = 0; lane < rows.size();) {
        const std::size_t row = rows[lane];
        double sum = 0.0;
        for (; lane < rows.size() && rows[lane] == row; ++lane) sum += flow[lane];
        made_.add(i, row, sum);
      }
    });
  }
  /// Takes what has been gathered back to the points as drawn.
  void finish() {
    if (still_) made_.still();
    made_.run(numbers_.data() + parts_);
  }
  /// The gradients of what was gathered in the first lanes, each to its row of `out`; a row has `variables` numbers.
  void rows(std::span<const std::size_t> rows, std::span<const Tangents::Entry> tangents, std::size_t variables,
            std::span<double> out) {
    wide_.assign(variables, P(0.0));
    for (const Tangents::Entry& t : tangents)
      wide_[t.variable] += made_.flow_pack(static_cast<int>(t.coordinate)) * P(t.derivative);
    for (std::size_t v = 0; v < variables; ++v) {
      const double* const of_rows = math::numbers(wide_[v]);
      for (std::size_t lane = 0; lane < rows.size(); ++lane) out[rows[lane] * variables + v] = of_rows[lane];
    }
  }
  /// The gradient of what was gathered in all lanes together.
  void gradient(const Tangents& tangents, std::span<double> out) {
    static_assert(Tangents::fill % W == 0);
    for (std::size_t c = 0; c < along_.size(); ++c) {
      const double* const flow = made_.flow(static_cast<int>(c));
      along_[c] = flow[0];
      for (std::size_t lane = 1; lane < W; ++lane) along_[c] += flow[lane];
    }
    for (std::size_t v = 0; v < out.size(); v += W) {
      P by_x(0.0), by_y(0.0);  // two sums, so that one need not wait for the other
      for (std::size_t p = 0; p < points_; ++p) {
        by_x += P(along_[2 * p]) * math::load<W>(tangents.row(p, 0) + v);
        by_y += P(along_[2 * p + 1]) * math::load<W>(tangents.row(p, 1) + v);
      }
      const P sum = by_x + by_y;
      std::memcpy(&out[v], &sum, std::min<std::size_t>(W, out.size() - v) * sizeof(double));
    }
  }

 private:
  /// The parts among a tape's inputs: they come first.
  template <class Take>
  void each_part(const std::vector<int>& inputs, Take take) const {
    for (const int i : inputs) {
      if (i >= parts_) return;
      take(i);
    }
  }
  template <class Take>
  static void each_tear(const linkage::State<P>& plain, Take take) {
    for (const linkage::Tear<P>& tear : plain.tears)
      for (const P& x : {tear.at.x, tear.at.y, tear.rate, tear.bend}) take(x);
  }

  /// Sets the place and clears the weights; gives the next input.
  int stand_at(Slopes& slopes, const P& s) {
    int next = parts_;
    slopes.input(next++) = s;
    if (model_->program.tears > 0) {
      plain_->move_to(s);
      each_tear(plain_->accelerate(), [&](const P& x) { slopes.input(next++) = x; });
    }
    slopes.still();
    return next;
  }

  const Model* model_;
  int parts_;
  std::vector<P> drawn_, numbers_;  ///< what the making is given and gives
  Spread<W>* plain_ = nullptr;
  std::size_t points_ = 0;
  bool still_ = true;          ///< nothing has been gathered
  std::vector<double> along_;  ///< what has flowed back to each coordinate
  std::vector<P> wide_;        ///< gradients, a row in each lane
  tape::Executor<W> making_;
  Slopes made_, place_, stand_;
};

}  // namespace trammel::bike
