#include "search/front_set.hpp"

#include <algorithm>
#include <cmath>
#include <limits>

namespace trammel::search {
namespace {

using Figures = std::vector<double>;

bool outdoes(const Figures& a, const Figures& b) {
  return std::equal(a.begin(), a.end(), b.begin(), [](double p, double q) { return p <= q; });
}

double volume(std::vector<Figures> points, const Figures& reference) {
  const std::size_t last = reference.size() - 1;
  std::sort(points.begin(), points.end(), [&](const Figures& a, const Figures& b) { return a[last] < b[last]; });
  if (last == 0) return points.empty() ? 0.0 : std::max(0.0, reference[0] - points.front()[0]);
  const Figures below(reference.begin(), reference.end() - 1);
  double sum = 0.0;
  std::vector<Figures> cross_section;
  for (std::size_t i = 0; i < points.size(); ++i) {
    cross_section.emplace_back(points[i].begin(), points[i].end() - 1);
    const double top = i + 1 < points.size() ? std::min(points[i + 1][last], reference[last]) : reference[last];
    if (top > points[i][last]) sum += (top - points[i][last]) * volume(cross_section, below);
  }
  return sum;
}

double apart(const Figures& a, const Figures& b, const Front& front) {
  double sum = 0.0;
  for (std::size_t k = 0; k < a.size(); ++k) {
    const double range = front.worst[k] - front.ideal[k];
    if (range > 0.0) sum += (a[k] - b[k]) * (a[k] - b[k]) / (range * range);
  }
  return std::sqrt(sum);
}

Spread spread_of(const Front& front) {
  const auto& points = front.points;
  std::vector<double> gaps;
  for (std::size_t i = 0; i < points.size() && points.size() > 1; ++i) {
    if (points[i].figures.size() == 2) {
      if (i > 0) gaps.push_back(apart(points[i - 1].figures, points[i].figures, front));
      continue;
    }
    double nearest = std::numeric_limits<double>::infinity();
    for (std::size_t j = 0; j < points.size(); ++j)
      if (j != i) nearest = std::min(nearest, apart(points[i].figures, points[j].figures, front));
    gaps.push_back(nearest);
  }
  Spread spread;
  if (gaps.empty()) return spread;
  for (const double gap : gaps) spread.mean += gap / static_cast<double>(gaps.size());
  for (const double gap : gaps) spread.deviation += (gap - spread.mean) * (gap - spread.mean);
  spread.deviation = std::sqrt(spread.deviation / static_cast<double>(gaps.size()));
  const auto [least, most] = std::minmax_element(gaps.begin(), gaps.end());
  spread.least = *least;
  spread.most = *most;
  return spread;
}

}  // namespace

std::vector<FrontPoint> undominated(std::vector<FrontPoint> points) {
  std::stable_sort(points.begin(), points.end(),
                   [](const FrontPoint& a, const FrontPoint& b) { return a.figures < b.figures; });
  // Whoever outdoes a point comes before it in this order.
  std::vector<FrontPoint> kept;
  for (FrontPoint& point : points) {
    const bool outdone =
        std::any_of(kept.begin(), kept.end(), [&](const FrontPoint& k) { return outdoes(k.figures, point.figures); });
    if (!outdone) kept.push_back(std::move(point));
  }
  return kept;
}

namespace {

double apart(const Figures& a, const Figures& b, const Figures& scale) {
  double sum = 0.0;
  for (std::size_t k = 0; k < a.size(); ++k) sum += (a[k] - b[k]) * (a[k] - b[k]) / (scale[k] * scale[k]);
  return std::sqrt(sum);
}

/// The points that are best in some figure, by number.
std::vector<std::size_t> ends_of(const std::vector<FrontPoint>& points) {
  std::vector<std::size_t> ends;
  for (std::size_t k = 0; k < points.front().figures.size(); ++k) {
    const auto best = std::min_element(points.begin(), points.end(), [k](const FrontPoint& a, const FrontPoint& b) {
      return a.figures[k] < b.figures[k];
    });
    ends.push_back(static_cast<std::size_t>(best - points.begin()));
  }
  return ends;
}

}  // namespace

std::vector<FrontPoint> thinned(std::vector<FrontPoint> points, const std::vector<double>& scale, double least,
                                double most) {
  if (points.size() < 3) return points;
  std::vector<std::size_t> kept = ends_of(points);
  const auto near = [&](std::size_t i, std::size_t j) { return apart(points[i].figures, points[j].figures, scale); };
  const bool line = scale.size() == 2;  // points then have neighbours in order
  for (std::size_t i = 0; i < points.size(); ++i) {
    const bool close = std::any_of(kept.begin(), kept.end(), [&](std::size_t k) { return near(i, k) < least; });
    // Between the last one kept and the next one there is, i closes a gap that would be too wide without it.
    std::size_t last = 0;
    for (const std::size_t k : kept)
      if (k < i) last = std::max(last, k);
    const bool needed = line && i > 0 && i + 1 < points.size() && near(last, i + 1) > most && near(last, i) <= most &&
                        near(i, i + 1) <= most;
    if (!close || needed) kept.push_back(i);
  }
  std::sort(kept.begin(), kept.end());
  kept.erase(std::unique(kept.begin(), kept.end()), kept.end());
  std::vector<FrontPoint> out;
  out.reserve(kept.size());
  for (const std::size_t i : kept) out.push_back(std::move(points[i]));
  return out;
}

double hypervolume(const std::vector<FrontPoint>& points, const std::vector<double>& reference) {
  std::vector<Figures> inside;
  for (const FrontPoint& point : points)
    if (outdoes(point.figures, reference)) inside.push_back(point.figures);
  return volume(std::move(inside), reference);
}

Front front_of(std::vector<FrontPoint> points) {
  Front front;
  front.points = undominated(std::move(points));
  if (front.points.empty()) return front;
  front.ideal = front.worst = front.points.front().figures;
  for (const FrontPoint& point : front.points) {
    for (std::size_t k = 0; k < point.figures.size(); ++k) {
      front.ideal[k] = std::min(front.ideal[k], point.figures[k]);
      front.worst[k] = std::max(front.worst[k], point.figures[k]);
    }
  }
  double box = 1.0;
  for (std::size_t k = 0; k < front.ideal.size(); ++k) box *= front.worst[k] - front.ideal[k];
  front.hypervolume = box > 0.0 ? hypervolume(front.points, front.worst) / box : 0.0;
  front.spread = spread_of(front);
  return front;
}

}  // namespace trammel::search
