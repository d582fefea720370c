#include "objectives/wish.hpp"

#include <algorithm>

namespace trammel::objectives {

double path_value(const Wish& wish, double fraction) {
  const auto& path = wish.path;
  if (fraction <= path.front().first) return path.front().second;
  for (std::size_t i = 1; i < path.size(); ++i) {
    const auto& [x0, y0] = path[i - 1];
    const auto& [x1, y1] = path[i];
    if (fraction <= x1) return y0 + (y1 - y0) * (fraction - x0) / (x1 - x0);
  }
  return path.back().second;
}

Allowed allowed_at(const Target& target, double fraction) {
  const Wish& wish = target.wish;
  Allowed allowed;
  allowed.depth = target.tolerance;
  switch (wish.kind) {
    case Wish::Kind::band:
      allowed.lo = wish.lo;
      allowed.hi = wish.hi;
      if (wish.hi > wish.lo && target.origin == Origin::brief) allowed.depth = 0.5 * (wish.hi - wish.lo);
      break;
    case Wish::Kind::ceiling:
      allowed.hi = wish.hi;
      break;
    case Wish::Kind::floor:
      allowed.lo = wish.lo;
      break;
    case Wish::Kind::value:
      allowed.lo = wish.lo - target.tolerance;
      allowed.hi = wish.lo + target.tolerance;
      break;
    case Wish::Kind::follow: {
      const double middle = path_value(wish, fraction);
      allowed.lo = middle - target.tolerance;
      allowed.hi = middle + target.tolerance;
      break;
    }
    case Wish::Kind::under:
      allowed.hi = path_value(wish, fraction);
      break;
    case Wish::Kind::over:
      allowed.lo = path_value(wish, fraction);
      break;
  }
  return allowed;
}

double margin(const Allowed& allowed, double y) {
  return std::min(1.0, std::min(y - allowed.lo, allowed.hi - y) / allowed.depth);
}

}  // namespace trammel::objectives
