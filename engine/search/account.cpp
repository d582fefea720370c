#include "search/account.hpp"

#include <algorithm>
#include <utility>

namespace trammel::search {
namespace {

using objectives::Target;
using objectives::Wish;

/// How good a verdict is, in tolerances; more is better.
double merit(const Target& target, const objectives::Verdict& verdict) {
  const Wish& wish = target.wish;
  if (wish.kind == Wish::Kind::ceiling) return -verdict.achieved / target.tolerance;
  if (wish.kind == Wish::Kind::floor) return verdict.achieved / target.tolerance;
  if (wish.kind == Wish::Kind::under) return (verdict.wished - verdict.achieved) / target.tolerance;
  if (wish.kind == Wish::Kind::over) return (verdict.achieved - verdict.wished) / target.tolerance;
  const bool band = wish.kind == Wish::Kind::band && wish.hi > wish.lo;
  const double depth = band ? 0.5 * (wish.hi - wish.lo) : target.tolerance;
  return verdict.margin * depth / target.tolerance;
}

/// By how much `mine` is over the best of the others.
template <class Of>
double lead(std::size_t count, std::size_t which, Of of) {
  double least = 1e300;
  for (std::size_t i = 0; i < count; ++i)
    if (i != which) least = std::min(least, of(which) - of(i));
  return least;
}

/// How many of the others are ahead by what a rider could tell; none when as many as half, or when none is behind.
template <class Of>
std::optional<std::size_t> few_ahead(std::size_t count, std::size_t which, Of of) {
  std::size_t ahead = 0, behind = 0;
  for (std::size_t i = 0; i < count; ++i) {
    if (of(i) - of(which) >= least_lead) ++ahead;
    if (of(which) - of(i) >= least_lead) ++behind;
  }
  if (behind == 0 || 2 * ahead >= count - 1) return std::nullopt;
  return ahead;
}

/// Targets of the greatest leads first, ties in the brief's order.
std::vector<std::size_t> foremost(std::vector<std::pair<double, std::size_t>> leads, std::size_t most) {
  std::stable_sort(leads.begin(), leads.end(), [](const auto& a, const auto& b) { return a.first > b.first; });
  std::vector<std::size_t> out;
  for (const auto& [by, target] : leads)
    if (out.size() < most) out.push_back(target);
  return out;
}

}  // namespace

Account account_of(const std::vector<Target>& targets, const std::vector<const objectives::Assessment*>& all,
                   std::size_t which) {
  Account out;
  out.alone = all.size() < 2;
  const objectives::Assessment& own = *all[which];
  std::vector<std::pair<double, std::size_t>> ahead, behind;
  for (std::size_t t = 0; t < targets.size(); ++t) {
    if (targets[t].origin != objectives::Origin::brief) {
      if (!own.targets[t].met) out.missed.push_back(t);
      continue;
    }
    if (!out.narrowest || own.targets[t].margin < own.targets[*out.narrowest].margin) out.narrowest = t;
    if (!own.targets[t].met) out.missed.push_back(t);
    if (out.alone) continue;
    const auto of = [&](std::size_t i) { return merit(targets[t], all[i]->targets[t]); };
    const double over = lead(all.size(), which, of);
    const double under = lead(all.size(), which, [&](std::size_t i) { return -of(i); });
    if (over >= least_lead && own.targets[t].met) ahead.emplace_back(over, t);
    if (under >= least_lead && own.targets[t].met) behind.emplace_back(under, t);
    const std::optional<std::size_t> few = few_ahead(all.size(), which, of);
    if (own.targets[t].met && few && (!out.near_best || *few < out.near_best->second)) out.near_best = {t, *few};
  }
  out.best = foremost(std::move(ahead), most_best);
  out.worst = foremost(std::move(behind), most_worst);
  if (!out.best.empty()) out.near_best.reset();
  const auto margin = [&](std::size_t i) { return all[i]->margin; };
  out.widest_margin = !out.alone && lead(all.size(), which, margin) > 0.0;
  out.narrowest_margin = !out.alone && lead(all.size(), which, [&](std::size_t i) { return -margin(i); }) > 0.0;
  return out;
}

}  // namespace trammel::search
