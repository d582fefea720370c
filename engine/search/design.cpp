#include "search/design.hpp"

#include <algorithm>
#include <cmath>
#include <tuple>

namespace trammel::search {
namespace {

/// Layouts are put on a grid of so many steps a millimetre: finer than any workshop, and short to print.
constexpr double per_mm = 1000.0;

std::size_t index(int point) {
  return static_cast<std::size_t>(point);
}

/// How many there are to choose from; without a list, what the layout has.
template <class Thing>
std::size_t at_least_one(const std::vector<Thing>& list) {
  return std::max<std::size_t>(list.size(), 1);
}

}  // namespace

Design::Design(const brief::Brief& brief) : brief_(&brief), shocks_(brief.shocks) {
  if (shocks_.empty() && brief.layout.shock)
    shocks_.push_back({brief.layout.shock->length, brief.layout.shock->stroke});
  for (const brief::Vary& vary : brief.vary) {
    const std::string& name = brief.layout.mechanism.point_names[index(vary.point)];
    Placing placing;
    placing.point = vary.point;
    if (const auto* cartesian = std::get_if<brief::Cartesian>(&vary.place)) {
      placing.from = cartesian->from;
      const auto from = [&](const char* axis) {
        return placing.from < 0 ? "" : " - " + brief.layout.mechanism.point_names[index(placing.from)] + axis;
      };
      placing.first = coordinate(cartesian->x, name + ".x" + from(".x"), "mm");
      placing.second = coordinate(cartesian->y, name + ".y" + from(".y"), "mm");
    } else if (const auto* polar = std::get_if<brief::Polar>(&vary.place)) {
      placing.how = Placing::How::polar;
      placing.from = polar->from;
      placing.shock = polar->length_is_shock;
      if (polar->as_long_as) std::tie(placing.one, placing.another) = *polar->as_long_as;
      if (polar->own_length()) placing.first = coordinate(polar->length, name + ".length", "mm");
      const double off = brief.search.eye_error;
      if (polar->length_is_shock && off > 0.0 && !polar->angle.fixed())
        placing.first = coordinate({-off, off}, name + ".length - shock", "mm");
      placing.second = coordinate(polar->angle, name + ".angle", "°");
    } else if (const auto* body = std::get_if<brief::OnBody>(&vary.place)) {
      placing.how = Placing::How::on_body;
      placing.from = body->a;
      placing.another = body->b;
      placing.first = {body->along, -1};
      placing.second = {body->across, -1};
    } else {
      const auto& mirrored = std::get<brief::Mirrored>(vary.place);
      placing.how = Placing::How::mirrored;
      placing.from = mirrored.of;
      placing.one = mirrored.about;
      placing.another = mirrored.through;
    }
    placings_.push_back(placing);
  }
}

int Design::choices() const {
  return static_cast<int>(at_least_one(shocks_) * at_least_one(brief_->idlers) * at_least_one(brief_->chainrings));
}

Design::Coordinate Design::coordinate(const brief::Range& range, const std::string& name, const std::string& unit) {
  if (range.fixed()) return {range.lo, -1};
  variables_.push_back({name, unit, range.lo, range.hi});
  return {0.0, size() - 1};
}

bike::Layout Design::with_choice(int choice) const {
  bike::Layout layout = brief_->layout;
  // A choice is a number of mixed radix: the shock is its last digit.
  std::size_t rest = static_cast<std::size_t>(choice) / at_least_one(shocks_);
  if (!brief_->idlers.empty()) layout.drivetrain.idler->teeth = brief_->idlers[rest % brief_->idlers.size()];
  rest /= at_least_one(brief_->idlers);
  if (!brief_->chainrings.empty())
    for (bike::Gear& gear : layout.drivetrain.gears) gear.chainring = brief_->chainrings[rest];
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
