#include "search/design.hpp"

#include <cmath>

namespace trammel::search {
namespace {

/// Layouts are put on a grid of so many steps a millimetre: finer than any workshop, and short to print.
constexpr double per_mm = 1000.0;

}  // namespace

Design::Design(const brief::Brief& brief) : brief_(&brief), shocks_(brief.shocks) {
  if (shocks_.empty() && brief.layout.shock)
    shocks_.push_back({brief.layout.shock->length, brief.layout.shock->stroke});
  for (const brief::Vary& vary : brief.vary) {
    const std::string& name = brief.layout.mechanism.point_names[static_cast<std::size_t>(vary.point)];
    Placing placing;
    placing.point = vary.point;
    if (const auto* cartesian = std::get_if<brief::Cartesian>(&vary.place)) {
      placing.first = coordinate(cartesian->x, name + ".x", "mm");
      placing.second = coordinate(cartesian->y, name + ".y", "mm");
    } else {
      const auto& polar = std::get<brief::Polar>(vary.place);
      placing.from = polar.from;
      placing.shock = polar.length_is_shock;
      if (!placing.shock) placing.first = coordinate(polar.length, name + ".length", "mm");
      placing.second = coordinate(polar.angle, name + ".angle", "°");
    }
    placings_.push_back(placing);
  }
}

Design::Coordinate Design::coordinate(const brief::Range& range, const std::string& name, const std::string& unit) {
  if (range.fixed()) return {range.lo, -1};
  variables_.push_back({name, unit, range.lo, range.hi});
  return {0.0, size() - 1};
}

bike::Layout Design::with_choice(int choice) const {
  bike::Layout layout = brief_->layout;
  if (!brief_->idlers.empty())
    layout.drivetrain.idler->teeth =
        brief_->idlers[static_cast<std::size_t>(choice) / std::max<std::size_t>(shocks_.size(), 1)];
  if (!layout.shock) return layout;
  const brief::ShockSize& size = shock_of(choice);
  layout.shock->length = size.length;
  layout.shock->stroke = size.stroke;
  layout.mechanism.drive.range = size.stroke;
  return layout;
}

bike::Layout Design::layout(std::span<const double> x, int choice) const {
  bike::Layout layout = with_choice(choice);
  place(x, choice, layout.mechanism.points);
  for (bike::Point& p : layout.mechanism.points)
    p = {std::round(p.x * per_mm) / per_mm, std::round(p.y * per_mm) / per_mm};
  return layout;
}

double distance(std::span<const double> a, std::span<const double> b) {
  double sum = 0.0;
  for (std::size_t i = 0; i < a.size(); ++i) sum += (a[i] - b[i]) * (a[i] - b[i]);
  return a.empty() ? 0.0 : std::sqrt(sum / static_cast<double>(a.size()));
}

}  // namespace trammel::search
