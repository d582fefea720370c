#include "objectives/rules/rule.hpp"

#include <algorithm>
#include <cmath>

#include "objectives/outcome.hpp"

namespace trammel::objectives {

double ErrorReserve::of_distance() const {
  double greatest = 0.0;
  for (const linkage::Point& p : points) greatest = std::max({greatest, p.x, p.y});
  return deviations * std::sqrt(2.0) * greatest;
}

void draw_in(Interval& side, double by) {
  by = std::min(by, most_reserve * 0.5 * (side.hi - side.lo));
  side.lo += by;
  side.hi -= by;
}

const std::string& point_name(const linkage::Mechanism& mechanism, int point) {
  return mechanism.point_names[static_cast<std::size_t>(point)];
}

std::string pair_name(const linkage::Mechanism& mechanism, int a, int b) {
  return point_name(mechanism, a) + "–" + point_name(mechanism, b);
}

RuleVerdict& RuleJudge::add(Found found) {
  RuleVerdict verdict;
  verdict.name = found.name.empty() ? std::string(record_->name) : std::move(found.name);
  verdict.unit = record_->unit;
  verdict.achieved = found.achieved;
  verdict.demanded = found.demanded;
  verdict.where = std::move(found.where);
  verdict.at_travel = outcome_.march_travel[static_cast<std::size_t>(found.station)];
  verdict.met = found.inside >= 0.0;
  verdict.margin = std::min(1.0, found.inside / (found.depth > 0.0 ? found.depth : record_->depth));
  verdict.rule = rule_;
  verdict.item = found.item;
  verdict.origin = found.origin;
  out_.push_back(std::move(verdict));
  return out_.back();
}

}  // namespace trammel::objectives
