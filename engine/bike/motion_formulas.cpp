#include "bike/motion_formulas.hpp"

#include <algorithm>

namespace trammel::bike {
namespace {

using math::Formula;
using T = math::Symbol;

std::vector<std::size_t> used_points(const Model& m, const std::vector<CurveKey>& curves) {
  std::vector<std::size_t> used{static_cast<std::size_t>(m.layout.axle.point)};
  const auto use = [&](int p) {
    if (p >= 0 && std::find(used.begin(), used.end(), static_cast<std::size_t>(p)) == used.end())
      used.push_back(static_cast<std::size_t>(p));
  };
  Wanted wanted = Wanted::nothing(m.circles.size());
  for (const CurveKey& key : curves) wanted.add(key);
  if (wanted.shock_line && m.has_shock()) {
    use(m.layout.mechanism.drive.a);
    use(m.layout.mechanism.drive.b);
  }
  for (const CurveKey& key : curves) {
    use(key.a);
    use(key.b);
  }
  for (int p : m.clear_of) use(p);
  if (m.layout.drivetrain.idler) use(m.layout.drivetrain.idler->point);
  for (int member : {m.layout.axle.member, m.layout.brake_member}) {
    use(m.program.bases[static_cast<std::size_t>(member)].a);
    use(m.program.bases[static_cast<std::size_t>(member)].b);
  }
  return used;
}

/// Notes the motion of one model into a formula.
class Note {
 public:
  Note(const Model& model, const Room& room, Formula& formula) : model_(model), room_(room), formula_(formula) {
    state_.resize(model.program);
    parts_.ref.runs.resize(model.circles.size());
    parts_.geometry.points.resize(model.layout.mechanism.points.size());
    parts_.geometry.constants.resize(static_cast<std::size_t>(model.program.constants) + model.program.groups.size());
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
    parts_.each(model_, [&](T& x) { formula_.result(x); });
  }

  void place(const std::vector<CurveKey>& curves, const std::vector<std::size_t>& used) {
    take_parts();
    const T s = formula_.input(false);
    const linkage::Seed<T> from = seed(s);
    move_to(s, from);
    const T rate = formula_.input(false), factor = formula_.input(false), offset = formula_.input(false);
    const T ds = (parts_.whole * factor + offset - travel()) * rate;
    Wanted wanted = Wanted::nothing(model_.circles.size());
    for (const CurveKey& key : curves) wanted.add(key);
    const bool loaded =
        std::any_of(curves.begin(), curves.end(), [](const CurveKey& key) { return key.curve == Curve::pivot_force; });
    if (wanted.forces || loaded) {
      // Accelerations, and forces in pivots, ask for more than the points that are looked at.
      move_to(s + ds, from);
      if (wanted.forces) linkage::accelerations(model_.program, parts_.geometry, state_);
      for (std::size_t i = 0; i < 4 * used.size(); ++i) formula_.input(false);
    } else {
      for (std::size_t p : used) {
        state_.position[p] += vector(false) * ds;
        state_.velocity[p] += vector(false) * ds;
      }
      state_.s = s + ds;
    }
    StationValues<T> values;
    values.resize(model_.circles.size());
    station(model_, parts_.ref, parts_.geometry, state_, parts_.whole, wanted, values);
    for (const CurveKey& key : curves) formula_.result(values.at(key));
  }

  void stand(const std::vector<std::pair<int, int>>& pairs) {
    take_parts();
    const T s = formula_.input(false);
    move_to(s, seed(s));
    for (const T& margin : state_.margin) formula_.result(margin);
    for (const auto& [a, b] : pairs)
      formula_.result(
          squared_norm(state_.position[static_cast<std::size_t>(b)] - state_.position[static_cast<std::size_t>(a)]));
    formula_.result(state_.velocity[axle()].y);
    std::vector<Vec2<T>> corners;
    room_.outline(state_.position, parts_.carried, corners);
    for (std::size_t k = 0; k < room_.measures(); ++k) formula_.result(room_.measured(k, state_.position, corners));
  }

 private:
  std::size_t axle() const { return static_cast<std::size_t>(model_.layout.axle.point); }
  T travel() const { return state_.position[axle()].y - parts_.ref.axle.y; }

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

}  // namespace

MotionFormulas::MotionFormulas(const Model& model, const std::vector<CurveKey>& curves,
                               const std::vector<std::pair<int, int>>& pairs, const Room& room)
    : points(model.layout.mechanism.points.size()),
      tears(static_cast<std::size_t>(model.program.tears)),
      used(used_points(model, curves)) {
  Note(model, room, making).making();
  Note(model, room, place).place(curves, used);
  Note(model, room, stand).stand(pairs);
  for (Formula* formula : {&making, &place, &stand}) formula->finish();
}

}  // namespace trammel::bike
