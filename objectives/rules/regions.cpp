#include "objectives/rules/regions.hpp"

#include <algorithm>
#include <cmath>
#include <limits>

#include "objectives/in_words.hpp"
#include "objectives/outcome.hpp"

namespace trammel::objectives::rules {

void Regions::judge(const Demands& demands, const Outcome<double>& outcome, std::size_t, std::size_t, RuleJudge& out) {
  const std::size_t gaps = demands.room.gaps().size();
  for (std::size_t k = gaps; k < outcome.fit.room.size(); ++k) {
    const int point = demands.packaging.keep_in[k - gaps].point;
    judge_room(demands, outcome, k, k - gaps, point_name(demands.model.layout.mechanism, point), Origin::brief, out);
  }
}

std::vector<RuleDemand> Regions::demands(const Packaging& packaging, const linkage::Mechanism& mechanism) {
  std::vector<RuleDemand> out;
  for (std::size_t i = 0; i < packaging.keep_in.size(); ++i)
    out.push_back(
        {.item = i,
         .name = "region of " + point_name(mechanism, packaging.keep_in[i].point),
         .limits =
             in_words({packaging.keep_in[i].least, std::numeric_limits<double>::infinity()}, record.unit) + " inside"});
  return out;
}

void Regions::drop(Packaging& packaging, std::size_t item) {
  packaging.keep_in.erase(packaging.keep_in.begin() + static_cast<std::ptrdiff_t>(item));
}

void Regions::draw_in(Packaging& packaging, const ErrorReserve& reserve) {
  for (KeepIn& rule : packaging.keep_in) rule.least += std::max(reserve.of_x(rule.point), reserve.of_y(rule.point));
}

void Regions::prove(const Packaging& packaging, const linkage::Mechanism& mechanism, const PointRanges& ranges,
                    std::vector<std::string>& out) {
  for (const KeepIn& rule : packaging.keep_in) {
    Interval x{1e300, -1e300}, y = x;
    for (const linkage::Point& corner : rule.corners) {
      x = {std::min(x.lo, corner.x), std::max(x.hi, corner.x)};
      y = {std::min(y.lo, corner.y), std::max(y.hi, corner.y)};
    }
    const Interval at_x = ranges.x(rule.point), at_y = ranges.y(rule.point);
    const auto outside = [](const Interval& at, const Interval& region) {
      return at.hi < region.lo || region.hi < at.lo;
    };
    if (!outside(at_x, x) && !outside(at_y, y)) continue;
    out.push_back("The region of " + point_name(mechanism, rule.point) +
                  " cannot be entered: topped out the point lies outside of it at every value of its ranges.");
  }
}

}  // namespace trammel::objectives::rules
