#include "bike/motion_tapes.hpp"

#include <algorithm>

#include "tape/adjoint.hpp"

namespace trammel::bike {
namespace {

using math::Tape;
using T = math::Symbol;

/// Notes the motion of one model into a tape.
class Note {
 public:
  Note(const Model& model, const Room& room, Tape& tape) : model_(model), room_(room), tape_(tape) {
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
    parts_.each(model_, [&](T& x) { tape_.result(x); });
  }

  void rise() {
    move_to_input();
    tape_.result(travel());
    tape_.result(state_.velocity[axle()].y);
  }

  void stand(const std::vector<Separation>& apart) {
    rise();
    watched(apart);
  }

  /// A place's motion, as far as it is read.
  void move(const std::vector<CurveKey>& curves, const std::vector<bool>& read) {
    move_to_input();
    if (wanted_of(curves).forces) linkage::accelerations(model_.program, parts_.geometry, state_);
    std::size_t next = 0;
    each_moving([&](T& x) {
      if (read[next++]) tape_.result(x);
    });
  }
  /// What is asked for at a place, from its motion: of that only what is `read`, or all of it.
  void look(const std::vector<CurveKey>& curves, const std::vector<bool>& read) {
    take_parts();
    for (const int p : frame().points)
      state_.position[static_cast<std::size_t>(p)] = parts_.geometry.points[static_cast<std::size_t>(p)];
    std::size_t next = 0;
    each_moving([&](T& x) { x = read.empty() || read[next++] ? tape_.input(false) : T(0.0); });
    tape_.result(travel());
    curves_here(curves, wanted_of(curves));
  }

  void shifted_place(const std::vector<CurveKey>& curves) {
    const linkage::Seed<T> from = move_to_input();
    const T s = from.s;
    linkage::accelerations(model_.program, parts_.geometry, state_);
    const T free = tape_.input(false), factor = tape_.input(false), offset = tape_.input(false);
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

  void stand_and_room(const std::vector<Separation>& apart) {
    move_to_input();
    watched(apart);
    tape_.result(state_.velocity[axle()].y);
    std::vector<Vec2<T>> corners;
    room_.outline(state_.position, parts_.carried, corners);
    for (std::size_t k = 0; k < room_.measures(); ++k) tape_.result(room_.measured(k, state_.position, corners));
  }

 private:
  const linkage::Member& frame() const {
    return model_.program.mechanism.members[static_cast<std::size_t>(model_.program.mechanism.frame)];
  }
  /// Calls take(x) for every number that a position with its derivatives is made of, always in the same order.
  template <class Take>
  void each_moving(Take take) {
    const std::vector<int>& still = frame().points;
    for (std::size_t p = 0; p < state_.position.size(); ++p) {
      if (std::find(still.begin(), still.end(), static_cast<int>(p)) != still.end()) continue;
      for (Vec2<T>* v : {&state_.position[p], &state_.velocity[p], &state_.acceleration[p]}) {
        take(v->x);
        take(v->y);
      }
    }
    for (T& x : state_.scratch) take(x);
    take(state_.s);
  }
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
    for (const CurveKey& key : curves) tape_.result(values.at(key));
  }
  void watched(const std::vector<Separation>& apart) {
    for (const T& margin : state_.margin) tape_.result(margin);
    for (std::size_t i = 0; i < model_.spans.size(); ++i) tape_.result(span_margin(model_, i, state_.position));
    for (const Separation& s : apart) tape_.result(squared(s, state_.position));
  }

  Vec2<T> vector(bool moves) {
    const T x = tape_.input(moves);
    return {x, tape_.input(moves)};
  }
  void take_parts() {
    parts_.each(model_, [&](T& x) { x = tape_.input(true); });
  }
  linkage::Seed<T> seed(const T& s) {
    linkage::Seed<T> out{s, std::vector<linkage::Tear<T>>(static_cast<std::size_t>(model_.program.tears))};
    for (linkage::Tear<T>& tear : out.tears) {
      tear.at = vector(false);
      tear.rate = tape_.input(false);
      tear.bend = tape_.input(false);
    }
    return out;
  }
  void assemble(const T& s, const linkage::Seed<T>& from) {
    linkage::assemble(model_.program, parts_.geometry, s, &from, state_);
  }
  /// To a place among the inputs, after the parts; what it starts from.
  linkage::Seed<T> move_to_input() {
    take_parts();
    const T s = tape_.input(false);
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
  Tape& tape_;
  Parts<T> parts_;
  linkage::State<T> state_;
};

template <class Notes>
Tape unfinished(const Model& model, const Room& room, Notes notes) {
  Tape tape;
  Note note(model, room, tape);
  notes(note);
  return tape;
}
Tape finished(Tape tape) {
  tape.finish();
  return tape;
}
template <class Notes>
Tape finished(const Model& model, const Room& room, Notes notes) {
  return finished(unfinished(model, room, notes));
}

}  // namespace

/// All that runs before derivatives are taken of it.
struct MotionTapes::Noted {
  Noted(const Model& model, const std::vector<CurveKey>& curves, const std::vector<Separation>& apart, const Room& room)
      : making(unfinished(model, room, [](Note& note) { note.making(); })),
        making_to_follow(making),
        parts(making.results()) {
    const Tape slopes = tape::adjoint(finished(making));
    making_slopes =
        tape::partially_evaluate(slopes, making.input_operations(), making_to_follow, tape::KnownInputs::last);
    making_to_follow.finish();

    const std::vector<int> all(making.result_operations());
    const auto going = [&](auto notes) { return tape::partially_evaluate(finished(model, room, notes), all, making); };
    rise = going([](Note& note) { note.rise(); });
    stand = going([&](Note& note) { note.stand(apart); });
    const std::vector<bool> looked = finished(model, room, [&](Note& note) { note.look(curves, {}); }).inputs_read();
    const std::vector<bool> read(looked.begin() + parts, looked.end());
    move = going([&](Note& note) { note.move(curves, read); });
    look = going([&](Note& note) { note.look(curves, read); });
    making.finish();
  }

  Tape making, making_to_follow;
  int parts;
  tape::Residual rise, stand, move, look, making_slopes;
};

MotionTapes::MotionTapes(const Model& model, const std::vector<CurveKey>& curves, const std::vector<Separation>& apart,
                         const Room& room)
    : MotionTapes(model, curves, apart, room, Noted(model, curves, apart, room)) {}

MotionTapes::MotionTapes(const Model& model, const std::vector<CurveKey>& curves, const std::vector<Separation>& apart,
                         const Room& room, const Noted& noted)
    : parts(noted.parts),
      making(noted.making),
      rise(noted.rise),
      stand(noted.stand),
      move(noted.move),
      look(noted.look),
      making_to_follow(noted.making_to_follow, noted.making_to_follow.inputs()),
      making_slopes(noted.making_slopes.tape, static_cast<int>(noted.making_slopes.takes.size())),
      place_slopes(tape::adjoint(finished(model, room, [&](Note& note) { note.shifted_place(curves); }))),
      stand_slopes(tape::adjoint(finished(model, room, [&](Note& note) { note.stand_and_room(apart); }))) {}

}  // namespace trammel::bike
