#include "objectives/rules/boxes.hpp"

#include <algorithm>

#include "objectives/in_words.hpp"
#include "objectives/outcome.hpp"

namespace trammel::objectives::rules {
namespace {

std::optional<Interval>& side_of(Packaging& packaging, std::size_t item) {
  Box& box = packaging.boxes[item / 2];
  return item % 2 == 0 ? box.x : box.y;
}

/// Hands every side that has limits to take(item, box, axis, interval, position of x or y).
template <class Take>
void each_side(const Packaging& packaging, Take take) {
  for (std::size_t i = 0; i < packaging.boxes.size(); ++i) {
    const Box& box = packaging.boxes[i];
    if (box.x) take(2 * i, box.point, 'x', *box.x);
    if (box.y) take(2 * i + 1, box.point, 'y', *box.y);
  }
}

}  // namespace

void Boxes::judge(const Demands& demands, const Outcome<double>& outcome, std::size_t, std::size_t, RuleJudge& out) {
  each_side(demands.packaging, [&](std::size_t item, int point, char axis, const Interval& i) {
    const math::Vec2<double>& at = outcome.points[static_cast<std::size_t>(point)];
    const double x = axis == 'x' ? at.x : at.y;
    // The demand printed is the end that is nearer to being broken.
    const bool low = x - i.lo < i.hi - x;
    out.add({.item = item,
             .achieved = x,
             .demanded = low ? i.lo : i.hi,
             .where = point_name(demands.model.layout.mechanism, point) + "." + axis,
             .inside = std::min(x - i.lo, i.hi - x),
             .name = low ? "box: at least" : "box: at most",
             .depth = std::min(record.depth, 0.5 * (i.hi - i.lo))});
  });
}

std::vector<RuleDemand> Boxes::demands(const Packaging& packaging, const linkage::Mechanism& mechanism) {
  std::vector<RuleDemand> out;
  each_side(packaging, [&](std::size_t item, int point, char axis, const Interval& i) {
    out.push_back({.item = item,
                   .name = "box of " + point_name(mechanism, point) + ", " + axis,
                   .limits = in_words(i, record.unit)});
  });
  return out;
}

void Boxes::drop(Packaging& packaging, std::size_t item) {
  side_of(packaging, item).reset();
}

void Boxes::draw_in(Packaging& packaging, const ErrorReserve& reserve) {
  for (Box& box : packaging.boxes) {
    if (box.x) objectives::draw_in(*box.x, reserve.of_x(box.point));
    if (box.y) objectives::draw_in(*box.y, reserve.of_y(box.point));
  }
}

void Boxes::prove(const Packaging& packaging, const linkage::Mechanism& mechanism, const PointRanges& ranges,
                  std::vector<std::string>& out) {
  each_side(packaging, [&](std::size_t, int point, char axis, const Interval& box) {
    const Interval range = axis == 'x' ? ranges.x(point) : ranges.y(point);
    if (!(range.hi < box.lo || box.hi < range.lo)) return;
    out.push_back("The box of " + point_name(mechanism, point) + " cannot be entered: its " + axis + " is " +
                  in_words(range, "mm") + " within the ranges, and " + in_words(box, "mm") + " is demanded.");
  });
}

}  // namespace trammel::objectives::rules
