#include "bike/reading.hpp"

#include <algorithm>

namespace trammel::bike {

Values values(const CurveTable& table, CurveKey key) {
  const Column* column = table.find(key);
  return column ? column->values : Values{};
}

double whole_travel(const CurveTable& table) {
  const Values travel = values(table, {Curve::travel});
  return travel.empty() ? 0.0 : travel.back().value_or(0.0);
}

std::optional<double> value_at(const CurveTable& table, CurveKey key, double travel) {
  const Values z = values(table, {Curve::travel}), y = values(table, key);
  const std::size_t count = z.size();
  if (y.empty() || y.size() != count || count < 2) return std::nullopt;
  if (std::any_of(z.begin(), z.end(), [](const auto& v) { return !v; })) return std::nullopt;
  const double slack = 1e-9 * (1.0 + *z.back());
  if (travel < *z.front() - slack || travel > *z.back() + slack) return std::nullopt;

  const auto above = std::upper_bound(z.begin(), z.end(), travel, [](double t, const auto& v) { return t < *v; });
  const std::size_t width = std::min<std::size_t>(4, count);
  const auto after = static_cast<std::size_t>(above - z.begin());
  const std::size_t first = std::min(after > 2 ? after - 2 : 0, count - width);
  double sum = 0.0;  // Lagrange's form
  for (std::size_t i = first; i < first + width; ++i) {
    if (!y[i]) return std::nullopt;
    double share = *y[i];
    for (std::size_t j = first; j < first + width; ++j) {
      if (j != i) share *= (travel - *z[j]) / (*z[i] - *z[j]);
    }
    sum += share;
  }
  return sum;
}

std::vector<CurveKey> keys_of(const CurveTable& table, Curve curve) {
  std::vector<CurveKey> out;
  for (const auto& column : table.columns) {
    if (column.key.curve == curve) out.push_back(column.key);
  }
  return out;
}

}  // namespace trammel::bike
