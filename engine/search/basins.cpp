#include "search/basins.hpp"

#include <algorithm>

#include "search/design.hpp"

namespace trammel::search {

std::size_t Basins::add(std::int64_t choice, std::span<const double> x) {
  ++refinements_;
  auto home = std::find_if(founders_.begin(), founders_.end(),
                           [&](const Founder& f) { return f.choice == choice && distance(f.x, x) < radius_; });
  if (home == founders_.end()) home = founders_.insert(home, {choice, {x.begin(), x.end()}, 0});
  ++home->ends;
  if (home->ends == 1) ++once_;
  if (home->ends == 2) --once_;
  return static_cast<std::size_t>(home - founders_.begin());
}

double Basins::unseen() const {
  return refinements_ == 0 ? 1.0 : static_cast<double>(once_) / static_cast<double>(refinements_);
}

bool Basins::settled() const {
  const double share = founders_.empty() ? 0.1 * settled_share : settled_share;
  return static_cast<double>(once_ + 1) <= share * static_cast<double>(refinements_);
}

namespace {
/// One number for a linkage and its choice.
std::int64_t kind_of_choice(const store::LayoutRow& row) {
  return (row.linkage << 32) | row.choice;
}
}  // namespace

void add_unit(const store::UnitRow& unit, Basins& basins) {
  std::int64_t fruitful = 0;
  for (const store::LayoutRow& row : unit.layouts) {
    if (row.musts_met != row.musts) continue;
    basins.add(kind_of_choice(row), row.design);
    ++fruitful;
  }
  basins.add_fruitless(unit.refined - fruitful);
}

}  // namespace trammel::search
