#include "search/influence.hpp"

#include <algorithm>
#include <cmath>

#include "search/score.hpp"

namespace trammel::search {
namespace {

using How = Design::Placing::How;

/// An angle in degrees, turned by whole turns to come nearest to the middle of its range.
double near_range(const Variable& v, double angle) {
  const double middle = 0.5 * (v.lo + v.hi);
  return angle - 360.0 * std::round((angle - middle) / 360.0);
}

/// How far what a choice offers is from what is drawn: shock sizes in mm, teeth.
double unlike(const bike::Layout& offered, const bike::Layout& drawn) {
  double sum = 0.0;
  if (drawn.shock)
    sum +=
        std::abs(offered.shock->length - drawn.shock->length) + std::abs(offered.shock->stroke - drawn.shock->stroke);
  if (drawn.drivetrain.idler) sum += std::abs(offered.drivetrain.idler->teeth - drawn.drivetrain.idler->teeth);
  if (!drawn.drivetrain.gears.empty())
    sum += std::abs(offered.drivetrain.gears.front().chainring - drawn.drivetrain.gears.front().chainring);
  return sum;
}

int nearest_choice(const Setup& setup) {
  int best = 0;
  double least = 0.0;
  for (int choice = 0; choice < setup.design.choices(); ++choice) {
    const double here = unlike(setup.design.with_choice(choice), setup.brief.layout);
    if (choice > 0 && !(here < least)) continue;
    best = choice;
    least = here;
  }
  return best;
}

/// Of a case's target: its value that is nearest to breaking the wish.
std::size_t deciding(const objectives::Demands& demands, const objectives::Outcome<double>& outcome, std::size_t t) {
  std::size_t at = 0;
  for (std::size_t i = 1; i < outcome.values[t].size(); ++i)
    if (objectives::margin(demands.allowed[t][i], outcome.values[t][i]) <
        objectives::margin(demands.allowed[t][at], outcome.values[t][at]))
      at = i;
  return at;
}

void find_reach(const DrawnDesign& drawn, double tolerance, Reach& reach) {
  reach.least = reach.most = reach.value;
  for (std::size_t v = 0; v < reach.effects.size(); ++v) {
    const double to_lo = -reach.effects[v] * drawn.x[v], to_hi = reach.effects[v] * (1.0 - drawn.x[v]);
    reach.least += std::min(to_lo, to_hi);
    reach.most += std::max(to_lo, to_hi);
    reach.moved = reach.moved || std::abs(reach.effects[v]) >= tolerance;
  }
}

/// The points whose variables all leave a target as it is.
std::vector<std::string> idle_points(const Design& design, const Reach& reach, double tolerance) {
  std::vector<std::string> idle, busy;
  for (std::size_t v = 0; v < reach.effects.size(); ++v) {
    const std::string point = point_of(design.variables()[v]);
    std::vector<std::string>& list = std::abs(reach.effects[v]) >= tolerance ? busy : idle;
    if (std::find(list.begin(), list.end(), point) == list.end()) list.push_back(point);
  }
  std::erase_if(idle, [&](const std::string& p) { return std::find(busy.begin(), busy.end(), p) != busy.end(); });
  return idle;
}

}  // namespace

std::string point_of(const Variable& variable) {
  return variable.name.substr(0, variable.name.find('.'));
}

DrawnDesign drawn_design(const Setup& setup) {
  const auto& points = setup.brief.layout.mechanism.points;
  const auto at = [&](int point) { return points[static_cast<std::size_t>(point)]; };
  DrawnDesign out;
  out.x.assign(static_cast<std::size_t>(setup.design.size()), 0.0);
  out.choice = nearest_choice(setup);
  const auto put = [&](const Design::Coordinate& coordinate, double value, bool angle) {
    if (coordinate.variable < 0) return;
    const auto i = static_cast<std::size_t>(coordinate.variable);
    const Variable& v = setup.design.variables()[i];
    out.x[i] = ((angle ? near_range(v, value) : value) - v.lo) / (v.hi - v.lo);
  };
  for (const Design::Placing& placing : setup.design.placings()) {
    if (placing.how == How::mirrored) continue;
    const bike::Point from = placing.from < 0 ? bike::Point{} : at(placing.from);
    const bike::Point arm = at(placing.point) - from;
    const bool polar = placing.how == How::polar;
    put(placing.first, polar ? norm(arm) : arm.x, false);
    put(placing.second, polar ? math::degrees(std::atan2(arm.y, arm.x)) : arm.y, polar);
  }
  std::vector<bike::Point> placed;
  setup.design.place<double>(out.x, out.choice, placed);
  for (std::size_t p = 0; p < placed.size(); ++p) {
    const double off = norm(placed[p] - points[p]);
    if (off <= out.off) continue;
    out.off = off;
    out.off_point = static_cast<int>(p);
  }
  return out;
}

std::optional<Influence> influence_of(const Setup& setup) {
  const auto& targets = setup.brief.targets;
  const auto n = static_cast<std::size_t>(setup.design.size());
  Influence out;
  out.drawn = drawn_design(setup);
  out.targets.resize(targets.size());
  std::vector<double> margins(targets.size(), 2.0);
  bool assembles = true;
  std::vector<objectives::Quantity> quantities;
  std::vector<double> rows;
  Scorer scorer(setup, out.drawn.choice);
  scorer.each_case(out.drawn.x, true, [&](const Scorer::CaseView& view) {
    assembles = assembles && view.outcome.assembles();
    if (!assembles) return;
    quantities.clear();
    for (std::size_t t = 0; t < view.demands.targets.size(); ++t)
      quantities.push_back({objectives::Quantity::Kind::value, t, deciding(view.demands, view.outcome, t)});
    rows.assign(quantities.size() * n, 0.0);
    view.evaluator.slopes(view.tangents, quantities, rows);
    for (std::size_t t = 0; t < quantities.size(); ++t) {
      const std::size_t number = setup.cases[view.number].numbers[t];
      if (targets[number].between) continue;
      const double value = view.outcome.values[t][quantities[t].of];
      const double inside = objectives::margin(view.demands.allowed[t][quantities[t].of], value);
      if (!(inside < margins[number])) continue;
      margins[number] = inside;
      const auto row = rows.begin() + static_cast<std::ptrdiff_t>(t * n);
      out.targets[number] = {value, {row, row + static_cast<std::ptrdiff_t>(n)}};
    }
  });
  if (!assembles) return {};
  for (const objectives::Comparison& one : setup.comparisons) {
    const objectives::Difference d = objectives::difference(one, scorer.values_of(one));
    const double inside = objectives::margin(objectives::allowed_at(targets[one.target], 0.0), d.value);
    if (!(inside < margins[one.target])) continue;
    margins[one.target] = inside;
    std::vector<double> row(n, 0.0);
    scorer.add_slopes(one, d, 1.0, row);
    out.targets[one.target] = {d.value, row};
  }
  for (std::size_t t = 0; t < targets.size(); ++t) {
    find_reach(out.drawn, targets[t].tolerance, out.targets[t]);
    out.idle.push_back(idle_points(setup.design, out.targets[t], targets[t].tolerance));
  }
  return out;
}

}  // namespace trammel::search
