#include "search/front.hpp"

#include <algorithm>
#include <cmath>
#include <numeric>
#include <optional>

#include "search/front_aim.hpp"
#include "search/sobol.hpp"

namespace trammel::search {
namespace {

constexpr double infinity = FrontAim::no_limit;
/// Most rounds in which an end of the front is sought; each starts from where the one before ended.
constexpr int end_rounds = 12;
/// So many times the scattered starts before a gap in the front is believed.
constexpr int second_look = 4;
/// How far along its ray t may go; 1 is the straight line between the neighbours.
constexpr double ray_length = 4.0;
/// Points closer than this share of the resolution are one on the front.
constexpr double one_spot = 0.25;
/// Closer than this in the front's box is the same point.
constexpr double same_point = 1e-6;

class Finder {
 public:
  Finder(const FrontProblem& problem, const FrontOptions& options)
      : problem_(problem), options_(options), sobol_(problem.n, options.seed), aimed_(problem, options) {
    starts_ = options.start;
    scatter(starts_);
  }

  Front operator()() {
    find_ends();
    if (!ends_.empty()) problem_.figures() == 2 ? halve_gaps() : cast_lattice();
    if (!ends_.empty()) thin();
    Front front = front_of(std::move(found_));
    front.evaluations = aimed_.evaluations();
    return front;
  }

 private:
  std::size_t figures() const { return static_cast<std::size_t>(problem_.figures()); }
  std::vector<double>& scale() { return aimed_.scale(); }
  bool cancelled() const { return search::cancelled(options_); }

  /// Adds starts anywhere in the box, other ones each time.
  void scatter(std::vector<Point>& starts, int times = 1) {
    for (int i = 0; i < times * options_.scattered; ++i) {
      starts.emplace_back(static_cast<std::size_t>(problem_.n));
      sobol_.point(next_scattered_++, starts.back());
    }
  }

  /// How much the figures differ over the starts: the first idea of their scale.
  void measure_scale() {
    Point lo(figures(), infinity), hi(figures(), -infinity);
    for (const Point& x : starts_) {
      const auto at = aimed_.figures_at(x);
      for (std::size_t k = 0; at && k < figures(); ++k) {
        lo[k] = std::min(lo[k], (*at)[k]);
        hi[k] = std::max(hi[k], (*at)[k]);
      }
    }
    for (std::size_t k = 0; k < figures(); ++k) scale()[k] = hi[k] > lo[k] ? hi[k] - lo[k] : 1.0;
  }

  /// The least of one figure, the others held to `limits`: sought from `best` and `also`, or from anywhere without
  /// them, then again from where it ended, twice as far down, until nothing more is gained.
  std::optional<FrontPoint> least_of(std::size_t k, const Point& limits, std::optional<FrontPoint> best,
                                     const std::vector<Point>& also = {}) {
    std::vector<Point> starts = starts_;
    if (best) {
      starts = {best->x};
      starts.insert(starts.end(), also.begin(), also.end());
    }
    double reach = 2.0;
    for (int round = 0; round < end_rounds && !starts.empty(); ++round, reach *= 2.0) {
      const auto first = aimed_.figures_at(starts.front());
      if (!first) return best;
      FrontAim aim{limits, Point(figures(), 0.0), -reach, reach};
      aim.from[k] = (*first)[k];
      aim.rate[k] = scale()[k];
      auto end = aimed_.refine(aim, starts);
      if (!end || (best && end->figures[k] >= best->figures[k] - same_point * scale()[k])) return best;
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
        limits[order[i - 1]] = end->figures[order[i - 1]] + same_point * scale()[order[i - 1]];
        // Where many points share the least of one figure, the one found may be the worst for the next, and no slope
        // leads away from it; the starts and the other figures' own least points lie elsewhere.
        std::vector<Point> also = starts_;
        for (std::size_t j = i; j < order.size(); ++j)
          if (least[order[j]]) also.push_back(least[order[j]]->x);
        end = least_of(order[i], limits, end, also);
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
      if (range_[k] > 0.0) scale()[k] = range_[k];
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
    FrontAim aim{ideal_, Point(figures())};
    for (std::size_t k = 0; k < figures(); ++k) aim.rate[k] = direction[k] * range_[k];
    aim.t_most = ray_length;
    starts.insert(starts.end(), options_.start.begin(), options_.start.end());
    scatter(starts, effort);
    auto point = aimed_.refine(aim, starts);
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
    Point scale = range_;
    for (double& range : scale)
      if (!(range > 0.0)) range = 1.0;
    found_ = thinned(undominated(std::move(found_)), scale, one_spot * options_.resolution, options_.resolution);
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
  AimedSearch aimed_;
  Point ideal_, range_;
  std::vector<Point> starts_;  ///< for the ends
  std::vector<FrontPoint> ends_, found_;
};

}  // namespace

int FrontProblem::figures() const {
  return figure_of.empty() ? 0 : *std::max_element(figure_of.begin(), figure_of.end()) + 1;
}

Front find_front(const FrontProblem& problem, const FrontOptions& options) {
  return Finder(problem, options)();
}

}  // namespace trammel::search
