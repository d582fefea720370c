#include "search/feasible_path.hpp"

#include <algorithm>
#include <cmath>
#include <limits>

#include "linkage/branches.hpp"
#include "search/optimiser.hpp"

namespace trammel::search {
namespace {

/// All that is asked, each for what it is.
constexpr objectives::Emphasis as_asked{1.0, 0.0};
/// A figure up to this may be a limit only touched, or the little more that a search asks for: the verdict decides.
constexpr double doubtful = 1e-3;
/// A path is looked at in so many places first.
constexpr int coarse = 8;
/// Places looked at in one go where the first one that is not feasible is wanted.
constexpr int stretch = 16;
/// A waypoint is sought with no more evaluations than this, first near the limits, then with more margin.
constexpr int waypoint_evaluations = 60;
constexpr double waypoint_insets[] = {0.1, 0.4};
/// Moving along the line between the ends costs a waypoint so much, a figure over the square of the unit box's side.
constexpr double stay_beside = 100.0;
/// What is just feasible seldom sees both ends: farther out, as multiples of how far that is.
constexpr double how_far_aside[] = {1.0, 1.4, 2.0, 3.0};

}  // namespace

std::vector<objectives::Demands> musts_of(const Setup& setup, int choice) {
  std::vector<objectives::Demands> out;
  out.reserve(setup.cases.size());
  constexpr double any = std::numeric_limits<double>::infinity();
  for (std::size_t k = 0; k < setup.cases.size(); ++k) {
    const objectives::Demands& all = setup.demands[static_cast<std::size_t>(choice) * setup.cases.size() + k];
    out.emplace_back(all, all.packaging);
    for (std::size_t t = 0; t < all.targets.size(); ++t)
      if (!setup.brief.targets[setup.cases[k].numbers[t]].must)
        std::fill(out[k].allowed[t].begin(), out[k].allowed[t].end(), objectives::Allowed{-any, any, 1.0});
  }
  return out;
}

FeasiblePath::FeasiblePath(const Setup& setup, int choice)
    : setup_(setup), choice_(choice), demands_(musts_of(setup, choice)), scorer_(setup, choice, demands_) {
  for (const objectives::Demands& one : demands_) room_ = room_ || one.room.measures() > 0;
}

std::vector<bool> FeasiblePath::branches_at(std::span<const double> x) {
  setup_.design.place<double>(x, choice_, points_);
  return linkage::branches(demands_.front().model.program, points_);
}

bool FeasiblePath::place_is_feasible(std::span<const double> x, const objectives::Screened& screened) {
  if (screened.stage != objectives::Stage::through || screened.figure > doubtful) return false;
  const double figure = room_ ? scorer_.figure(x, as_asked, {}) : screened.figure;
  return figure == 0.0 || (figure <= doubtful && feasible(x));
}

std::vector<double> FeasiblePath::place(std::span<const double> from, std::span<const double> to, int k) {
  std::vector<double> x(from.begin(), from.end());
  const double share = static_cast<double>(k) / steps;
  for (std::size_t i = 0; i < x.size(); ++i) x[i] += (to[i] - from[i]) * share;
  return x;
}

int FeasiblePath::good(std::span<const double> from, std::span<const double> to, int first, int last, int by) {
  const std::size_t n = from.size();
  const std::vector<bool> branches = branches_at(from);
  places_.clear();
  int count = 0;
  for (int k = first; k <= last; k += by) {
    const double share = static_cast<double>(k) / steps;
    for (std::size_t i = 0; i < n; ++i) places_.push_back(from[i] + (to[i] - from[i]) * share);
    if (branches_at(std::span(places_).last(n)) != branches) {
      places_.resize(places_.size() - n);
      break;
    }
    ++count;
  }
  if (count == 0) return 0;
  const std::span<const objectives::Screened> screened = scorer_.screen_all(places_, as_asked, doubtful);
  for (int k = 0; k < count; ++k) {
    const auto at = static_cast<std::size_t>(k);
    if (!place_is_feasible(std::span(places_).subspan(at * n, n), screened[at])) return k;
  }
  return count;
}

bool FeasiblePath::straight(std::span<const double> from, std::span<const double> to) {
  const auto all = [&](int first, int last, int by) {
    return good(from, to, first, last, by) == (last - first) / by + 1;
  };
  return all(steps / coarse, steps - steps / coarse, steps / coarse) && all(1, steps - 1, 1) &&
         feasible(place(from, to, steps / 2));
}

double FeasiblePath::reach(std::span<const double> from, std::span<const double> to) {
  for (int done = 0; done < steps; done += stretch) {
    const int found = good(from, to, done + 1, done + stretch, 1);
    if (found < stretch) return judged_reach(from, to, done + found);
  }
  return judged_reach(from, to, steps);
}

/// Back from place number k to one that the verdict holds for.
double FeasiblePath::judged_reach(std::span<const double> from, std::span<const double> to, int k) {
  while (k > 0 && !feasible(place(from, to, k))) k -= 1 + k / 8;
  return static_cast<double>(std::max(k, 0)) / steps;
}

/// The nearest design to `start` that keeps the musts with so much margin, as a refinement finds it beside a line of
/// the unit direction `along`, not along it: from there it would only come back to one of the ends.
std::vector<double> FeasiblePath::aside(const std::vector<double>& start, const std::vector<double>& along,
                                        double inset) {
  Problem problem;
  problem.n = static_cast<int>(start.size());
  problem.evaluate = [&](std::span<const double> x, Evaluation& out) {
    double off = 0.0;
    for (std::size_t i = 0; i < x.size(); ++i) off += along[i] * (x[i] - start[i]);
    out.value = scorer_.figure(x, {1.0, inset}, out.gradient) + stay_beside * off * off;
    for (std::size_t i = 0; i < out.gradient.size(); ++i) out.gradient[i] += 2.0 * stay_beside * off * along[i];
    return true;
  };
  const Optimum optimum = optimise(problem, {.evaluations = waypoint_evaluations, .start = start});
  return optimum.best ? optimum.best->x : start;
}

std::optional<std::vector<double>> FeasiblePath::waypoint(std::span<const double> from, std::span<const double> to) {
  const double share = 0.5 * (reach(from, to) + 1.0 - reach(to, from));
  std::vector<double> start(from.begin(), from.end()), along(from.size());
  double length = 0.0;
  for (std::size_t i = 0; i < start.size(); ++i) {
    along[i] = to[i] - from[i];
    start[i] += along[i] * share;
    length += along[i] * along[i];
  }
  for (double& a : along) a /= std::max(std::sqrt(length), 1e-12);
  for (const double inset : waypoint_insets) {
    const std::vector<double> touching = aside(start, along, inset);
    for (const double far : how_far_aside) {
      std::vector<double> x = start;
      for (std::size_t i = 0; i < x.size(); ++i) x[i] = std::clamp(x[i] + far * (touching[i] - x[i]), 0.0, 1.0);
      if (feasible(x) && straight(from, x) && straight(to, x)) return x;
    }
  }
  return std::nullopt;
}

}  // namespace trammel::search
