#include "bike/motion_formulas.hpp"

#include <algorithm>

#include "math/formula_adjoint.hpp"

namespace trammel::bike {
namespace {

using math::Formula;
using T = math::Symbol;

/// Notes the motion of one model into a formula.
class Note {
 public:
  Note(const Model& model, const Room& room, Formula& formula) : model_(model), room_(room), formula_(formula) {
    state_.resize(model.program);
    parts_.ref.runs.resize(model.circles.size());
    parts_.geometry.points.resize(model.layout.mechanism.points.size());
    parts_.geometry.constants.resize(static_cast<std::size_t>(model.program.constants) + model.program.groups.size());
    parts_.geometry.inverse_bases2.resize(model.program.bases.size());
    parts_.ref.cg_height = T(model.layout.cg.height);
    parts_.carried.resize(room.carried());
  }

  void making() {
    std::vector<Vec2<T>> points(parts_.geometry.points.size());
    for (Vec2<T>& p : points) p = vector(true);
    linkage::measure(model_.program, points, parts_.geometry, state_);
    room_.measure(points, parts_.carried);
    assemble(T(0.0), seed(T(0.0)));
    top_out(model_, state_, parts_.ref);
    assemble(T(model_.range()), seed(T(model_.range())));
    parts_.whole = travel();
    parts_.forks = fork_rate(model_.layout.front, parts_.whole);
    parts_.each(model_, [&](T& x) { formula_.result(x); });
  }

  void rise() {
    move_to_input();
    formula_.result(travel());
    formula_.result(state_.velocity[axle()].y);
  }

  void stand(const std::vector<std::pair<int, int>>& pairs) {
    rise();
    watched(pairs);
  }

  void place(const std::vector<CurveKey>& curves) {
    move_to_input();
    const Wanted wanted = wanted_of(curves);
    if (wanted.forces) linkage::accelerations(model_.program, parts_.geometry, state_);
    formula_.result(travel());
    curves_here(curves, wanted);
  }

  void shifted_place(const std::vector<CurveKey>& curves) {
    const linkage::Seed<T> from = move_to_input();
    const T s = from.s;
    linkage::accelerations(model_.program, parts_.geometry, state_);
    const T free = formula_.input(false), factor = formula_.input(false), offset = formula_.input(false);
    const T rise = value(state_.velocity[axle()].y);
    const T rate = select(abs(rise) < T(1e-6), T(0.0), free / rise);
    const T ds = (parts_.whole * factor + offset - travel()) * rate;
    const Wanted wanted = wanted_of(curves);
    const bool loaded =
        std::any_of(curves.begin(), curves.end(), [](const CurveKey& key) { return key.curve == Curve::pivot_force; });
    if (wanted.forces || loaded) {
      // Accelerations, and forces in pivots, have to move along the stroke, too.
      move_to(s + ds, from);
      if (wanted.forces) linkage::accelerations(model_.program, parts_.geometry, state_);
    } else {
      const auto along = [&](Vec2<T>& x, const Vec2<T>& rate_of) {
        x += Vec2<T>{value(rate_of.x), value(rate_of.y)} * ds;
      };
      for (std::size_t p = 0; p < state_.position.size(); ++p) {
        along(state_.position[p], state_.velocity[p]);
        along(state_.velocity[p], state_.acceleration[p]);
      }
      state_.s = s + ds;
    }
    curves_here(curves, wanted);
  }

  void stand_and_room(const std::vector<std::pair<int, int>>& pairs) {
    move_to_input();
    watched(pairs);
    formula_.result(state_.velocity[axle()].y);
    std::vector<Vec2<T>> corners;
    room_.outline(state_.position, parts_.carried, corners);
    for (std::size_t k = 0; k < room_.measures(); ++k) formula_.result(room_.measured(k, state_.position, corners));
  }

 private:
  std::size_t axle() const { return static_cast<std::size_t>(model_.layout.axle.point); }
  T travel() const { return state_.position[axle()].y - parts_.ref.axle.y; }

  Wanted wanted_of(const std::vector<CurveKey>& curves) const {
    Wanted wanted = Wanted::nothing(model_.circles.size());
    for (const CurveKey& key : curves) wanted.add(key);
    return wanted;
  }
  void curves_here(const std::vector<CurveKey>& curves, const Wanted& wanted) {
    StationValues<T> values;
    values.resize(model_.circles.size());
    station(model_, parts_.ref, parts_.geometry, state_, parts_.forks, wanted, values);
    for (const CurveKey& key : curves) formula_.result(values.at(key));
  }
  void watched(const std::vector<std::pair<int, int>>& pairs) {
    for (const T& margin : state_.margin) formula_.result(margin);
    for (const auto& [a, b] : pairs)
      formula_.result(
          squared_norm(state_.position[static_cast<std::size_t>(b)] - state_.position[static_cast<std::size_t>(a)]));
  }

  Vec2<T> vector(bool moves) {
    const T x = formula_.input(moves);
    return {x, formula_.input(moves)};
  }
  void take_parts() {
    parts_.each(model_, [&](T& x) { x = formula_.input(true); });
  }
  linkage::Seed<T> seed(const T& s) {
    linkage::Seed<T> out{s, std::vector<linkage::Tear<T>>(static_cast<std::size_t>(model_.program.tears))};
    for (linkage::Tear<T>& tear : out.tears) {
      tear.at = vector(false);
      tear.rate = formula_.input(false);
      tear.bend = formula_.input(false);
    }
    return out;
  }
  void assemble(const T& s, const linkage::Seed<T>& from) {
    linkage::assemble(model_.program, parts_.geometry, s, &from, state_);
  }
  /// To a place among the inputs, after the parts; what it starts from.
  linkage::Seed<T> move_to_input() {
    take_parts();
    const T s = formula_.input(false);
    linkage::Seed<T> from = seed(s);
    move_to(s, from);
    return from;
  }
  void move_to(const T& s, const linkage::Seed<T>& from) {
    assemble(s, from);
    linkage::velocities(model_.program, parts_.geometry, state_);
  }

  const Model& model_;
  const Room& room_;
  Formula& formula_;
  Parts<T> parts_;
  linkage::State<T> state_;
};

template <class Notes>
Formula unfinished(const Model& model, const Room& room, Notes notes) {
  Formula formula;
  Note note(model, room, formula);
  notes(note);
  return formula;
}
template <class Notes>
Formula finished(const Model& model, const Room& room, Notes notes) {
  Formula formula = unfinished(model, room, notes);
  formula.finish();
  return formula;
}

}  // namespace

/// All that runs before derivatives are taken of it.
struct MotionFormulas::Noted {
  Noted(const Model& model, const std::vector<CurveKey>& curves, const std::vector<std::pair<int, int>>& pairs,
        const Room& room)
      : making(unfinished(model, room, [](Note& note) { note.making(); })), parts(making.results()) {
    const auto going = [&](auto notes) { return math::work_ahead(finished(model, room, notes), parts, making); };
    rise = going([](Note& note) { note.rise(); });
    stand = going([&](Note& note) { note.stand(pairs); });
    place = going([&](Note& note) { note.place(curves); });
    making.finish();
  }

  Formula making;
  int parts;
  math::Rest rise, stand, place;
};

MotionFormulas::MotionFormulas(const Model& model, const std::vector<CurveKey>& curves,
                               const std::vector<std::pair<int, int>>& pairs, const Room& room)
    : MotionFormulas(model, curves, pairs, room, Noted(model, curves, pairs, room)) {}

MotionFormulas::MotionFormulas(const Model& model, const std::vector<CurveKey>& curves,
                               const std::vector<std::pair<int, int>>& pairs, const Room& room, const Noted& noted)
    : parts(noted.parts),
      making(noted.making),
      rise(noted.rise),
      stand(noted.stand),
      place(noted.place),
      making_slopes(adjoint(finished(model, room, [](Note& note) { note.making(); }))),
      place_slopes(adjoint(finished(model, room, [&](Note& note) { note.shifted_place(curves); }))),
      stand_slopes(adjoint(finished(model, room, [&](Note& note) { note.stand_and_room(pairs); }))) {}

}  // namespace trammel::bike
