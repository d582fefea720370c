#include "spring/table.hpp"

#include <cmath>

namespace trammel::spring {
namespace {

/// Slope at an end from the secants of the two pieces next to it, the nearer first.
double end_slope(double h0, double h1, double m0, double m1) {
  const double parabola = ((2.0 * h0 + h1) * m0 - h0 * m1) / (h0 + h1);
  if (parabola * m0 <= 0.0) return 0.0;
  if (m0 * m1 <= 0.0 && std::abs(parabola) > 3.0 * std::abs(m0)) return 3.0 * m0;
  return parabola;
}

std::vector<double> slopes_of(const std::vector<double>& h, const std::vector<double>& m) {
  const std::size_t n = m.size();
  if (n == 1) return {m[0], m[0]};
  std::vector<double> d{end_slope(h[0], h[1], m[0], m[1])};
  for (std::size_t i = 1; i < n; ++i) {
    const double w0 = 2.0 * h[i] + h[i - 1], w1 = h[i] + 2.0 * h[i - 1];
    d.push_back(m[i - 1] * m[i] <= 0.0 ? 0.0 : (w0 + w1) / (w0 / m[i - 1] + w1 / m[i]));
  }
  d.push_back(end_slope(h[n - 1], h[n - 2], m[n - 1], m[n - 2]));
  return d;
}

}  // namespace

Table::Table(std::vector<Point> points) : points_(std::move(points)) {
  std::vector<double> h, m;
  for (std::size_t i = 0; i + 1 < points_.size(); ++i) {
    h.push_back(points_[i + 1].first - points_[i].first);
    m.push_back((points_[i + 1].second - points_[i].second) / h.back());
  }
  const std::vector<double> d = slopes_of(h, m);
  for (std::size_t i = 0; i < h.size(); ++i)
    pieces_.push_back({points_[i].first, h[i], d[i], (3.0 * m[i] - 2.0 * d[i] - d[i + 1]) / h[i],
                       (d[i] + d[i + 1] - 2.0 * m[i]) / (h[i] * h[i]), m[i] * h[i]});
  first_ = points_.front().second;
  start_slope_ = d.front();
  end_slope_ = d.back();
}

}  // namespace trammel::spring
