// Cases: a layout in one of its settings and sizes, as a layout of its own.
//
// A setting moves points of the layout as drawn, with the shapes of all members that carry them. Where that changes the
// distance of the shock's eyes, or the shock is another one, the linkage then settles topped out until the shock has
// its length: members keep their shapes, and the other points move.
#pragma once

#include <string>
#include <string_view>
#include <vector>

#include "bike/model.hpp"

namespace trammel::bike {

/// Numbers of a setting and a size in a layout's lists; −1 where it has none.
struct Case {
  int setting = -1;
  int size = -1;
};

/// Every setting in every size, setting by setting. One, the layout as drawn, when there are neither.
std::vector<Case> cases_of(const Layout& layout);

/// "low", "M", "low-M"; empty for the layout as drawn.
std::string name_of(const Layout& layout, const Case& which);

/// Whether what is asked for in `name` (a setting, a size; empty = all) is asked for in this case.
bool holds_in(const Layout& layout, const Case& which, std::string_view name);

/// The layout with the numbers of a case and no further settings and sizes; its moved points are moved, but the linkage
/// has not settled. What a model is compiled from.
Layout unsettled(const Layout& layout, const Case& which);

/// The case as a layout that stands by itself. Throws linkage::CompileFailure.
Layout layout_of(const Layout& layout, const Case& which);

/// Takes the points of a layout as drawn to those of a case, topped out. Per-task workspace.
template <class T>
class CasePoints {
 public:
  /// `model` is compiled from `unsettled(layout, which)` and must outlive it.
  CasePoints(const Model& model, const Layout& layout, const Case& which) : model_(&model) {
    const auto move = [&](int point, const Point& by) { moves_.push_back({static_cast<std::size_t>(point), by}); };
    if (which.size >= 0) {
      const double longer = layout.sizes[static_cast<std::size_t>(which.size)].chainstay;
      if (longer != 0.0) move(layout.axle.point, {-longer, 0.0});
    }
    if (which.setting < 0) return;
    const Setting& setting = layout.settings[static_cast<std::size_t>(which.setting)];
    const linkage::Drive& drive = layout.mechanism.drive;
    settles_ = layout.shock && setting.shock;
    for (const auto& [point, by] : setting.moves) {
      move(point, by);
      settles_ = settles_ || (layout.shock && (point == drive.a || point == drive.b));
    }
    if (settles_) state_.resize(model.program);
  }

  /// Whether the points of the case are those as drawn.
  bool none() const { return moves_.empty() && !settles_; }
  /// Whether they differ by more than fixed amounts.
  bool settles() const { return settles_; }

  /// In place. A linkage that cannot settle stays finite, its shock not of its length.
  void apply(std::vector<math::Vec2<T>>& points) {
    for (const auto& [point, by] : moves_) points[point] = points[point] + math::constant<T>(by);
    if (settles_) settle(points);
  }

 private:
  /// Blocks of a linkage are closed from position to position, so they get there in steps.
  static constexpr int steps = 4;

  void settle(std::vector<math::Vec2<T>>& points) {
    const linkage::Program& program = model_->program;
    const linkage::Drive& drive = program.mechanism.drive;
    const T between = norm(points[static_cast<std::size_t>(drive.b)] - points[static_cast<std::size_t>(drive.a)]);
    const T whole = (between - T(model_->layout.shock->length)) * T(drive.extends ? -1.0 : 1.0);
    linkage::measure(program, points, geometry_, state_);
    if (program.tears == 0) {
      linkage::assemble<T>(program, geometry_, whole, nullptr, state_);
    } else {
      for (int i = 0; i <= steps; ++i) {
        linkage::assemble<T>(program, geometry_, whole * T(static_cast<double>(i) / steps), i == 0 ? nullptr : &seed_,
                             state_);
        linkage::velocities(program, geometry_, state_);
        linkage::accelerations(program, geometry_, state_);
        seed_.s = state_.s;
        seed_.tears = state_.tears;
      }
    }
    points = state_.position;
  }

  const Model* model_;
  std::vector<std::pair<std::size_t, Point>> moves_;
  bool settles_ = false;
  linkage::Geometry<T> geometry_;
  linkage::State<T> state_;
  linkage::Seed<T> seed_;
};

}  // namespace trammel::bike
