#include "search/front.hpp"

#include <algorithm>
#include <cmath>
#include <limits>
#include <numeric>
#include <optional>

#include "search/sobol.hpp"

namespace trammel::search {
namespace {

using Point = std::vector<double>;

constexpr double infinity = std::numeric_limits<double>::infinity();
/// Most rounds in which an end of the front is sought; each starts from where the one before ended.
constexpr int end_rounds = 12;
/// So many times the scattered starts before a gap in the front is believed.
constexpr int second_look = 4;
/// Less than this of the range of t is no gain; most turns of the two methods.
constexpr double least_gain = 1e-7;
constexpr int most_turns = 6;
/// So many times the evaluations for what goes on from the best end.
constexpr int second_effort = 4;
/// How far along its ray t may go; 1 is the straight line between the neighbours.
constexpr double ray_length = 4.0;
/// Points closer than this share of the resolution are one on the front.
constexpr double one_spot = 0.05;
/// Closer than this in the front's box is the same point.
constexpr double same_point = 1e-6;

/// One refinement's aim: minimise t so that every figure k ≤ from k + t·rate k, t within [t_least, t_most]. A figure
/// without a limit has `from` at infinity.
struct Aim {
  std::vector<double> from, rate;
  double t_least = 0.0, t_most = 1.0;
};

class Finder {
 public:
  Finder(const FrontProblem& problem, const FrontOptions& options)
      : problem_(problem),
        options_(options),
        sobol_(problem.n, options.seed),
        scale_(static_cast<std::size_t>(problem.figures()), 1.0) {
    starts_ = options.start;
    scatter(starts_);
  }

  Front operator()() {
    find_ends();
    if (!ends_.empty()) problem_.figures() == 2 ? halve_gaps() : cast_lattice();
    if (!ends_.empty()) thin();
    Front front = front_of(std::move(found_));
    front.evaluations = evaluations_;
    return front;
  }

 private:
  std::size_t figures() const { return scale_.size(); }
  bool cancelled() const { return options_.cancel && options_.cancel->load(std::memory_order_relaxed); }

  /// Adds starts anywhere in the box, other ones each time.
  void scatter(std::vector<Point>& starts, int times = 1) {
    for (int i = 0; i < times * options_.scattered; ++i) {
      starts.emplace_back(static_cast<std::size_t>(problem_.n));
      sobol_.point(next_scattered_++, starts.back());
    }
  }

  /// Each figure: the greatest of its parts.
  std::optional<Point> figures_at(const Point& x) const {
    Point parts(problem_.figure_of.size()), constraints(static_cast<std::size_t>(problem_.constraints));
    FrontEvaluation out{parts, {}, constraints, {}};
    if (!problem_.evaluate(x, out)) return std::nullopt;
    Point figures(this->figures(), -infinity);
    for (std::size_t i = 0; i < parts.size(); ++i) {
      double& figure = figures[static_cast<std::size_t>(problem_.figure_of[i])];
      figure = std::max(figure, parts[i]);
    }
    return figures;
  }

  /// The aim as a problem on the unit box of (x, t).
  Problem as_problem(const Aim& aim) const {
    const auto n = static_cast<std::size_t>(problem_.n), parts = problem_.figure_of.size();
    const int constraints = static_cast<int>(parts) + problem_.constraints;
    return {problem_.n + 1, constraints, [this, aim, n, parts](std::span<const double> xt, Evaluation& out) {
              const double t = aim.t_least + xt[n] * (aim.t_most - aim.t_least);
              const bool slopes = !out.jacobian.empty();
              const auto demands = static_cast<std::size_t>(problem_.constraints);
              Point values(parts), value_slopes(slopes ? parts * n : 0), jacobian(slopes ? demands * n : 0);
              FrontEvaluation model{values, value_slopes, out.constraints.subspan(parts), jacobian};
              if (!problem_.evaluate(xt.first(n), model)) return false;
              out.value = xt[n];
              if (!out.gradient.empty()) out.gradient[n] = 1.0;
              for (std::size_t i = 0; i < parts; ++i) {
                const auto k = static_cast<std::size_t>(problem_.figure_of[i]);
                out.constraints[i] = -1.0;
                if (aim.from[k] == infinity) continue;
                out.constraints[i] = (values[i] - aim.from[k] - t * aim.rate[k]) / scale_[k];
                if (!slopes) continue;
                for (std::size_t j = 0; j < n; ++j) out.jacobian[i * (n + 1) + j] = value_slopes[i * n + j] / scale_[k];
                out.jacobian[i * (n + 1) + n] = -aim.rate[k] * (aim.t_most - aim.t_least) / scale_[k];
              }
              for (std::size_t c = 0; slopes && c < demands; ++c)
                std::copy_n(&jacobian[c * n], n, &out.jacobian[(parts + c) * (n + 1)]);
              return true;
            }};
  }

  /// The least t, in [0, 1], at which the figures of a start are allowed.
  double first_t(const Aim& aim, const Point& x) const {
    const auto figures = figures_at(x);
    if (!figures) return 1.0;
    double t = aim.t_least;
    for (std::size_t k = 0; k < figures->size(); ++k)
      if (aim.from[k] < infinity && aim.rate[k] > 0.0) t = std::max(t, ((*figures)[k] - aim.from[k]) / aim.rate[k]);
    return std::clamp((t - aim.t_least) / (aim.t_most - aim.t_least), 0.0, 1.0);
  }

  /// The best feasible end of refinements from all starts.
  std::optional<FrontPoint> refine(const Aim& aim, const std::vector<Point>& starts) {
    const Problem problem = as_problem(aim);
    std::optional<Incumbent> best;
    const auto run = [&](const std::string& algorithm, int evaluations, Point start) {
      Options options{.algorithm = algorithm, .evaluations = evaluations, .start = std::move(start)};
      options.cancel = options_.cancel;
      Optimum end = optimise_to_rest(problem, options);
      evaluations_ += end.evaluations;
      const bool better = end.best && end.best->feasible && (!best || end.best->value < best->value - least_gain);
      if (better) best = std::move(end.best);
      return better;
    };
    for (Point start : starts) {
      start.push_back(first_t(aim, start));
      run(options_.algorithm, options_.evaluations, std::move(start));
    }
    // Each method takes over where the other comes to rest, until both do.
    for (int turn = 0; best && !options_.second.empty() && turn < most_turns; ++turn)
      if (!run(turn % 2 == 0 ? options_.second : options_.algorithm, second_effort * options_.evaluations, best->x))
        break;
    if (!best || cancelled()) return std::nullopt;
    best->x.pop_back();
    auto figures = figures_at(best->x);
    if (!figures) return std::nullopt;
    return FrontPoint{std::move(best->x), std::move(*figures)};
  }

  /// How much the figures differ over the starts: the first idea of their scale.
  void measure_scale() {
    Point lo(figures(), infinity), hi(figures(), -infinity);
    for (const Point& x : starts_) {
      const auto at = figures_at(x);
      for (std::size_t k = 0; at && k < figures(); ++k) {
        lo[k] = std::min(lo[k], (*at)[k]);
        hi[k] = std::max(hi[k], (*at)[k]);
      }
    }
    for (std::size_t k = 0; k < figures(); ++k) scale_[k] = hi[k] > lo[k] ? hi[k] - lo[k] : 1.0;
  }

  /// The least of one figure, the others held to `limits`: sought again from where it ended, twice as far down, until
  /// nothing more is gained.
  std::optional<FrontPoint> least_of(std::size_t k, const Point& limits, std::optional<FrontPoint> best) {
    std::vector<Point> starts = starts_;
    if (best) starts = {best->x};
    double reach = 2.0;
    for (int round = 0; round < end_rounds && !starts.empty(); ++round, reach *= 2.0) {
      const auto first = figures_at(starts.front());
      if (!first) return best;
      Aim aim{limits, Point(figures(), 0.0), -reach, reach};
      aim.from[k] = (*first)[k];
      aim.rate[k] = scale_[k];
      auto end = refine(aim, starts);
      if (!end || (best && end->figures[k] >= best->figures[k] - same_point * scale_[k])) return best;
      best = std::move(end);
      starts = {best->x};
    }
    return best;
  }

  /// The ends of the front: every figure at its least, then the next without giving any of it away, in every order.
  void find_ends() {
    measure_scale();
    std::vector<std::optional<FrontPoint>> least;
    for (std::size_t k = 0; k < figures(); ++k) least.push_back(least_of(k, Point(figures(), infinity), std::nullopt));
    // What is best for one figure may lead on to a better end for another.
    for (std::size_t k = 0; k < figures(); ++k)
      for (std::size_t other = 0; other < figures(); ++other)
        if (other != k && least[other]) {
          auto end = least_of(k, Point(figures(), infinity), least[other]);
          if (end && (!least[k] || end->figures[k] < least[k]->figures[k])) least[k] = std::move(end);
        }
    std::vector<std::size_t> order(figures());
    std::iota(order.begin(), order.end(), 0);
    do {
      auto end = least[order[0]];
      Point limits(figures(), infinity);
      for (std::size_t i = 1; i < order.size() && end; ++i) {
        limits[order[i - 1]] = end->figures[order[i - 1]] + same_point * scale_[order[i - 1]];
        end = least_of(order[i], limits, end);
      }
      if (!end) continue;
      ends_.push_back(*end);
      found_.push_back(*end);
    } while (std::next_permutation(order.begin(), order.end()));
    if (ends_.empty()) return;
    ideal_ = range_ = ends_.front().figures;
    for (const FrontPoint& end : ends_) {
      for (std::size_t k = 0; k < figures(); ++k) {
        ideal_[k] = std::min(ideal_[k], end.figures[k]);
        range_[k] = std::max(range_[k], end.figures[k]);
      }
    }
    for (std::size_t k = 0; k < figures(); ++k) {
      range_[k] -= ideal_[k];
      if (range_[k] > 0.0) scale_[k] = range_[k];
    }
  }

  /// A figure's place in the front's box, 0 at the ideal corner, 1 at the worst.
  Point in_box(const FrontPoint& p) const {
    Point place(figures());
    for (std::size_t k = 0; k < figures(); ++k)
      place[k] = range_[k] > 0.0 ? (p.figures[k] - ideal_[k]) / range_[k] : 0.0;
    return place;
  }

  std::optional<FrontPoint> cast(const Point& direction, std::vector<Point> starts, int effort = 1) {
    Aim aim{ideal_, Point(figures())};
    for (std::size_t k = 0; k < figures(); ++k) aim.rate[k] = direction[k] * range_[k];
    aim.t_most = ray_length;
    starts.insert(starts.end(), options_.start.begin(), options_.start.end());
    scatter(starts, effort);
    auto point = refine(aim, starts);
    if (point) found_.push_back(*point);
    return point;
  }

  // Two figures. A ray's place is the share of the first figure in its direction, 0 … 1.
  static double ray_through(const Point& place) {
    const double sum = place[0] + place[1];
    return sum > 0.0 ? std::clamp(place[0] / sum, 0.0, 1.0) : 0.5;
  }

  /// Two neighbours and the rays between which nothing has been looked for.
  struct Gap {
    FrontPoint left, right;
    double from, to;
  };

  void halve_gaps() {
    const auto by_first = [](const FrontPoint& a, const FrontPoint& b) { return a.figures < b.figures; };
    const auto [left, right] = std::minmax_element(ends_.begin(), ends_.end(), by_first);
    std::vector<Gap> gaps{{*left, *right, 0.0, 1.0}};
    while (!gaps.empty() && !cancelled()) {
      const Gap gap = gaps.back();
      gaps.pop_back();
      const Point a = in_box(gap.left), b = in_box(gap.right);
      const double width = std::hypot(b[0] - a[0], b[1] - a[1]);
      if (width <= options_.resolution || gap.to - gap.from < options_.resolution / 8.0) continue;
      const Point middle{0.5 * (a[0] + b[0]), 0.5 * (a[1] + b[1])};
      double ray = ray_through(middle);
      if (ray <= gap.from || ray >= gap.to) ray = 0.5 * (gap.from + gap.to);
      // Scaled so that t = 1 lies on the straight line between the neighbours.
      const double length = std::max(0.05, middle[0] + middle[1]);
      Point between(gap.left.x.size());
      for (std::size_t i = 0; i < between.size(); ++i) between[i] = 0.5 * (gap.left.x[i] + gap.right.x[i]);
      // A ray that ends on a neighbour has passed through a gap, or the refinement has missed what lies between.
      std::optional<FrontPoint> point;
      Point p;
      for (const int effort : {1, options_.scattered > 0 ? second_look : 0}) {
        if (effort == 0) break;
        point = cast({ray * length, (1.0 - ray) * length}, {between, gap.left.x, gap.right.x}, effort);
        if (!point) break;
        p = in_box(*point);
        if (p[0] > a[0] + same_point && p[0] < b[0] - same_point) break;
      }
      if (!point) continue;
      const double there = ray_through(p);
      if (p[0] >= b[0] - same_point) {
        gaps.push_back({gap.left, gap.right, gap.from, ray});
      } else if (p[0] <= a[0] + same_point) {
        gaps.push_back({gap.left, gap.right, ray, gap.to});
      } else {
        gaps.push_back({*point, gap.right, std::max(ray, there), gap.to});
        gaps.push_back({gap.left, *point, gap.from, std::min(ray, there)});
      }
    }
  }

  /// Of points that lie on one spot, for the resolution asked for, the first is enough.
  void thin() {
    std::vector<FrontPoint> kept;
    for (FrontPoint& point : undominated(std::move(found_))) {
      const Point p = in_box(point);
      const bool apart = std::none_of(kept.begin(), kept.end(), [&](const FrontPoint& k) {
        const Point q = in_box(k);
        double most = 0.0;
        for (std::size_t i = 0; i < p.size(); ++i) most = std::max(most, std::abs(p[i] - q[i]));
        return most < one_spot * options_.resolution;
      });
      if (apart) kept.push_back(std::move(point));
    }
    found_ = std::move(kept);
  }

  // Three figures.
  void cast_lattice() {
    const int steps = std::max(2, static_cast<int>(std::lround(1.0 / options_.resolution)));
    for (int i = 0; i <= steps; ++i) {
      for (int j = 0; i + j <= steps && !cancelled(); ++j) {
        const double h = 1.0 / steps;
        const Point direction{i * h, j * h, (steps - i - j) * h};
        cast(direction, nearest(direction));
      }
    }
  }

  /// The found points whose directions are nearest.
  std::vector<Point> nearest(const Point& direction) const {
    std::vector<std::pair<double, std::size_t>> by_distance;
    for (std::size_t f = 0; f < found_.size(); ++f) {
      const Point p = in_box(found_[f]);
      const double sum = p[0] + p[1] + p[2];
      double d = 0.0;
      for (std::size_t k = 0; k < 3; ++k) d += std::abs((sum > 0.0 ? p[k] / sum : 1.0) - direction[k]);
      by_distance.emplace_back(d, f);
    }
    std::sort(by_distance.begin(), by_distance.end());
    std::vector<Point> starts;
    for (std::size_t i = 0; i < std::min<std::size_t>(2, by_distance.size()); ++i)
      starts.push_back(found_[by_distance[i].second].x);
    return starts;
  }

  const FrontProblem& problem_;
  const FrontOptions& options_;
  const Sobol sobol_;
  std::uint64_t next_scattered_ = 1;
  Point scale_;  ///< of each figure, for the optimiser
  Point ideal_, range_;
  std::vector<Point> starts_;  ///< for the ends
  std::vector<FrontPoint> ends_, found_;
  int evaluations_ = 0;
};

}  // namespace

int FrontProblem::figures() const {
  return figure_of.empty() ? 0 : *std::max_element(figure_of.begin(), figure_of.end()) + 1;
}

Front find_front(const FrontProblem& problem, const FrontOptions& options) {
  return Finder(problem, options)();
}

}  // namespace trammel::search
