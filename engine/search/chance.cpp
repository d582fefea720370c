#include "search/chance.hpp"

#include <algorithm>
#include <cmath>

#include "math/trigonometry.hpp"

namespace trammel::search {

double logarithm(double x) {
  constexpr double ln2 = 0x1.62e42fefa39efp-1;
  int exponent = 0;
  double m = std::frexp(x, &exponent);  // ½ ≤ m < 1, exactly
  if (m < 0.70710678118654752) {
    m *= 2.0;
    --exponent;
  }
  // ln m = 2·artanh t with t = (m − 1)/(m + 1), |t| < 0.172; the first term left out is under 1e-17.
  const double t = (m - 1.0) / (m + 1.0), u = t * t;
  double sum = 0.0;
  for (int k = 10; k >= 0; --k) sum = sum * u + 1.0 / (2 * k + 1);
  return 2.0 * t * sum + exponent * ln2;
}

double normal(const Stream& stream, std::uint32_t index) {
  const double radius = std::sqrt(-2.0 * logarithm(1.0 - stream.uniform(2 * index)));  // of a number in (0, 1]
  return radius * math::cos(2.0 * math::pi * stream.uniform(2 * index + 1));
}

double normal_quantile(double p) {
  double lo = -40.0, hi = 40.0;
  while (hi - lo > 1e-13) {
    const double middle = 0.5 * (lo + hi);
    if (middle == lo || middle == hi) break;
    (0.5 * std::erfc(-middle / std::sqrt(2.0)) < p ? lo : hi) = middle;
  }
  return 0.5 * (lo + hi);
}

Share share_of_sample(std::int64_t kept, std::int64_t of) {
  Share out{kept, of, 0.0, 1.0};
  if (of == 0) return out;
  constexpr double z = 1.959963984540054, z2 = z * z;  // of 97.5 %
  const auto n = static_cast<double>(of);
  const double p = static_cast<double>(kept) / n;
  const double middle = (p + z2 / (2.0 * n)) / (1.0 + z2 / n);
  const double half = z / (1.0 + z2 / n) * std::sqrt(p * (1.0 - p) / n + z2 / (4.0 * n * n));
  // Of none and of all the ends are 0 and 1; rounding must not say otherwise.
  out.lo = kept == 0 ? 0.0 : middle - half;
  out.hi = kept == of ? 1.0 : middle + half;
  return out;
}

double quantile(const std::vector<double>& rising, double q) {
  const double at = q * static_cast<double>(rising.size() - 1);
  const auto below = static_cast<std::size_t>(at);
  const std::size_t above = std::min(below + 1, rising.size() - 1);
  return rising[below] + (at - static_cast<double>(below)) * (rising[above] - rising[below]);
}

}  // namespace trammel::search
