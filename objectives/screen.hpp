// Screening in stages: the cheapest questions first, and no further once a layout is out.
#pragma once

#include <cmath>
#include <span>
#include <vector>

#include "objectives/assessor.hpp"

namespace trammel::objectives {

/// How far a layout got.
enum class Stage {
  packaging,      ///< out by its points as drawn
  end_of_stroke,  ///< out by its topped-out and bottomed positions
  stroke,         ///< out by the rules along the stroke
  curves,         ///< out by its curves, before all of them were computed
  room,           ///< out by the room between bodies
  through,        ///< its figure is complete
};

struct Screened {
  /// Complete when `stage` is `through`, the room between bodies taken at the stations of the march; else a lower bound
  /// that is over the limit.
  double figure = 0.0;
  Stage stage = Stage::through;
  bool assembles = true;  ///< at the positions that were looked at; if not, the figure is over `unassembled`
  int joint = -1;         ///< where it does not
};

/// Added to the figure of a layout that does not assemble: above every figure of one that does.
inline constexpr double unassembled = 1e6;

/// The points of many layouts, in groups of eight with their numbers side by side.
class Block {
 public:
  static constexpr int lanes = 8;

  /// Room for `layouts` of `points` points each.
  void resize(std::size_t layouts, std::size_t points) {
    layouts_ = layouts;
    points_ = points;
    numbers_.resize((layouts + lanes - 1) / lanes * lanes * points * 2);
  }
  std::size_t layouts() const { return layouts_; }
  std::size_t points() const { return points_; }
  /// Coordinate 0 (x) or 1 (y) of a point of a layout, mm.
  double& at(std::size_t layout, std::size_t point, std::size_t coordinate) {
    return numbers_[((layout / lanes * points_ + point) * 2 + coordinate) * lanes + layout % lanes];
  }
  double at(std::size_t layout, std::size_t point, std::size_t coordinate) const {
    return const_cast<Block*>(this)->at(layout, point, coordinate);  // NOLINT: no other way to write the index once
  }

 private:
  std::size_t layouts_ = 0, points_ = 0;
  std::vector<double> numbers_;
};

/// Per-task workspace; T is `double` or a pack, moved as an Assessor can.
///
/// The figure is a sum of terms that are never negative, so a layout is out as soon as a part of the sum is over the
/// limit: what remains is exactly what a full computation would have kept. Curves of a layout that does not assemble do
/// not count. Between the stages the layouts that are left close up, so that lanes are filled; a lane's result does
/// not depend on its neighbours.
template <class T, class Motion = KernelMotion<T>>
class Screening {
 public:
  /// `demands` must outlive it.
  explicit Screening(const Demands& demands) : demands_(&demands), assessor_(demands) {
    points_.resize(demands.model.layout.mechanism.points.size());
    const std::size_t places = demands.places.stations.size();
    for (std::size_t k = 0; k < places; ++k) (at_an_end(k) ? ends_ : inner_).push_back(k);
    for (std::size_t t = 0; t < demands.targets.size(); ++t)
      if (demands.targets[t].measure) (only_ends(t) ? end_measures_ : inner_measures_).push_back(t);
  }

  /// Screens a block; `out` has an element for each of its layouts.
  void screen(const Block& block, const Emphasis& emphasis, double limit, std::span<Screened> out) {
    emphasis_ = emphasis;
    limit_ = limit;
    left_.resize(block.layouts());
    for (std::size_t i = 0; i < left_.size(); ++i) left_[i] = i;
    pass(block, out, Stage::packaging);
    pass(block, out, Stage::end_of_stroke);
    pass(block, out, Stage::through);
  }

 private:
  /// A figure, complete or in part, and whether the layout assembles so far.
  struct Standing {
    T figure;
    math::Truth<T> assembles;
  };

  /// Takes the layouts that are left through the stages up to `last`; those of an earlier pass they get through again.
  void pass(const Block& block, std::span<Screened> out, Stage last) {
    still_.clear();
    for (std::size_t first = 0; first < left_.size(); first += math::lanes<T>) {
      group_ = std::span(left_).subspan(first, std::min(math::lanes<T>, left_.size() - first));
      load(block);
      in_.fill(true);
      drawn_ = drawn_figure(*demands_, points_);
      if (last == Stage::packaging) {
        judge({drawn_ * T(emphasis_.must), math::Truth<T>(true)}, Stage::packaging, out);
      } else {
        assessor_.begin(points_);
        to_the_ends();
        if (last == Stage::end_of_stroke)
          judge(standing(), Stage::end_of_stroke, out);
        else
          through(out);
      }
      for (std::size_t i = 0; i < group_.size(); ++i)
        if (in_[i]) still_.push_back(group_[i]);
    }
    left_.swap(still_);
  }

  /// From the ends through the stroke to the complete figure.
  void through(std::span<Screened> out) {
    judge(stroke(), Stage::stroke, out);
    if (!any_in()) return;
    Standing whole = rest();
    judge(whole, Stage::curves, out);
    if (demands_->room.measures() > 0 && any_in()) {
      assessor_.watch_room();
      whole.figure = whole.figure + room_figure(*demands_, assessor_.outcome().fit) * T(emphasis_.must);
      judge(whole, Stage::room, out);
    }
    for (std::size_t i = 0; i < group_.size(); ++i)
      if (in_[i]) out[group_[i]] = {math::lane(whole.figure, i), Stage::through, true, -1};
  }

  /// The group's layouts into the lanes; the last one fills those left over.
  void load(const Block& block) {
    for (std::size_t p = 0; p < points_.size(); ++p)
      for (std::size_t i = 0; i < math::lanes<T>; ++i) {
        const std::size_t layout = group_[std::min(i, group_.size() - 1)];
        math::set_lane(points_[p].x, i, block.at(layout, p, 0));
        math::set_lane(points_[p].y, i, block.at(layout, p, 1));
      }
  }

  /// Puts layouts out that do not assemble, are over the limit, or have no figure (two points of a member on one spot
  /// can leave its curves without a number).
  void judge(const Standing& standing, Stage stage, std::span<Screened> out) {
    for (std::size_t i = 0; i < group_.size(); ++i) {
      if (!in_[i]) continue;
      const double figure = math::lane(standing.figure, i);
      const bool sound = std::isfinite(figure), assembles = sound && math::lane(standing.assembles, i);
      in_[i] = assembles && !(figure > limit_);
      if (in_[i]) continue;
      const int joint = assembles ? -1 : static_cast<int>(math::lane(worst_joint(assessor_.outcome().fit), i));
      out[group_[i]] = {sound ? figure : 2.0 * unassembled, stage, assembles, joint};
    }
  }
  bool any_in() const {
    bool any = false;
    for (std::size_t i = 0; i < group_.size(); ++i) any = any || in_[i];
    return any;
  }

  T rules() const { return (drawn_ + stroke_figure(*demands_, assessor_.outcome().fit)) * T(emphasis_.must); }
  /// Without blocks the last position needs none before it: most layouts end here.
  bool jumps() const { return demands_->model.program.tears == 0; }

  void to_the_ends() {
    curves_ = T(0.0);
    assessor_.stop_at(0);
    if (!jumps()) return;
    assessor_.stop_at(assessor_.stations() - 1);
    add_ends();
  }

  Standing stroke() {
    const std::size_t last = assessor_.stations() - (jumps() ? 1 : 0);
    for (std::size_t i = 1; i < last; ++i) assessor_.stop_at(i);
    if (!jumps()) add_ends();
    return standing();
  }

  /// A lane that is over the limit stays as it was then.
  Standing rest() {
    const T base = rules();
    math::Truth<T> over = base + curves_ > T(limit_);
    const auto add = [&](auto term) {
      const T before = curves_;
      term();
      curves_ = math::select(over, before, curves_);
      over = over | (base + curves_ > T(limit_));
    };
    for (std::size_t k : inner_) {
      add([&] { add_place(k); });
      if (all_out(over)) return standing();
    }
    for (std::size_t t : inner_measures_) add([&] { add_measure(t); });
    return standing();
  }
  bool all_out(const math::Truth<T>& over) const {
    bool all = true;
    for (std::size_t i = 0; i < group_.size(); ++i) all = all && (!in_[i] || math::lane(over, i));
    return all;
  }

  Standing standing() const {
    const auto assembles = assessor_.outcome().assembles();
    return {rules() + math::select(assembles, curves_, T(unassembled)), assembles};
  }

  void add_ends() {
    for (std::size_t k : ends_) add_place(k);
    for (std::size_t t : end_measures_) add_measure(t);
  }
  void add_place(std::size_t k) {
    assessor_.compute_place(k);
    for (const Look& look : demands_->places.looks[k])
      if (!demands_->targets[look.target].measure)
        curves_ = curves_ + share(*demands_, assessor_.outcome(), look.target, look.index, emphasis_);
  }
  void add_measure(std::size_t t) {
    assessor_.finish_measure(t);
    for (std::size_t r = 0; r < assessor_.outcome().values[t].size(); ++r)
      curves_ = curves_ + share(*demands_, assessor_.outcome(), t, r, emphasis_);
  }

  bool at_an_end(std::size_t place) const {
    const Station::Kind kind = demands_->places.stations[place].kind;
    return kind == Station::Kind::topped_out || kind == Station::Kind::bottomed;
  }
  bool only_ends(std::size_t t) const {
    const std::vector<std::size_t>& at = demands_->places.targets[t].at;
    return std::all_of(at.begin(), at.end(), [&](std::size_t k) { return at_an_end(k); });
  }

  const Demands* demands_;
  Assessor<T, Motion> assessor_;
  std::vector<math::Vec2<T>> points_;
  std::vector<std::size_t> ends_, inner_, end_measures_, inner_measures_;  ///< places; targets on measures
  Emphasis emphasis_;
  double limit_ = 0.0;
  T drawn_{}, curves_{};  ///< parts of the figure: of the points as drawn, of targets
  std::vector<std::size_t> left_, still_;
  std::span<const std::size_t> group_;  ///< the layouts in the lanes
  std::array<bool, Block::lanes> in_{};
};

}  // namespace trammel::objectives
