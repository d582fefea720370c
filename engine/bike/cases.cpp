#include "bike/cases.hpp"

#include <algorithm>

namespace trammel::bike {
namespace {

const Setting* setting_of(const Layout& layout, const Case& which) {
  return which.setting < 0 ? nullptr : &layout.settings[static_cast<std::size_t>(which.setting)];
}
const Size* size_of(const Layout& layout, const Case& which) {
  return which.size < 0 ? nullptr : &layout.sizes[static_cast<std::size_t>(which.size)];
}

void take_setting(const Setting& setting, Layout& out) {
  if (setting.rear_radius) out.rear_radius = *setting.rear_radius;
  if (!setting.shock || !out.shock) return;
  out.shock->length = setting.shock->length;
  out.shock->stroke = setting.shock->stroke;
  out.mechanism.drive.range = setting.shock->stroke;
}

void take_size(const Size& size, Layout& out) {
  if (size.front) out.front = *size.front;
  if (size.cg) out.cg = *size.cg;
  if (size.riders.empty() || !out.mass) return;
  out.mass->rider = size.riders.front();
  out.set_up.riders.clear();
  if (size.riders.size() > 1) out.set_up.riders = size.riders;
}

/// The numbers of a case, its points as drawn.
Layout with_numbers(const Layout& layout, const Case& which) {
  Layout out = layout;
  out.settings.clear();
  out.sizes.clear();
  if (const Setting* setting = setting_of(layout, which)) take_setting(*setting, out);
  if (const Size* size = size_of(layout, which)) take_size(*size, out);
  return out;
}

}  // namespace

std::vector<Case> cases_of(const Layout& layout) {
  std::vector<Case> out;
  const int settings = static_cast<int>(layout.settings.size()), sizes = static_cast<int>(layout.sizes.size());
  for (int i = 0; i < std::max(settings, 1); ++i)
    for (int j = 0; j < std::max(sizes, 1); ++j) out.push_back({settings > 0 ? i : -1, sizes > 0 ? j : -1});
  return out;
}

std::string name_of(const Layout& layout, const Case& which) {
  const Setting* setting = setting_of(layout, which);
  const Size* size = size_of(layout, which);
  if (setting != nullptr && size != nullptr) return setting->name + "-" + size->name;
  if (setting != nullptr) return setting->name;
  return size != nullptr ? size->name : "";
}

bool holds_in(const Layout& layout, const Case& which, std::string_view name) {
  const Setting* setting = setting_of(layout, which);
  const Size* size = size_of(layout, which);
  return name.empty() || (setting != nullptr && setting->name == name) || (size != nullptr && size->name == name);
}

Layout unsettled(const Layout& layout, const Case& which) {
  Layout out = with_numbers(layout, which);
  std::vector<Point>& points = out.mechanism.points;
  if (const Size* size = size_of(layout, which))
    points[static_cast<std::size_t>(layout.axle.point)].x -= size->chainstay;
  if (const Setting* setting = setting_of(layout, which))
    for (const auto& [point, by] : setting->moves) {
      Point& moved = points[static_cast<std::size_t>(point)];
      moved = moved + by;
    }
  return out;
}

Layout layout_of(const Layout& layout, const Case& which) {
  if (which.setting < 0 && which.size < 0) return layout;
  const Model model = make_model(unsettled(layout, which));
  Layout out = with_numbers(layout, which);
  CasePoints<double>(model, layout, which).apply(out.mechanism.points);
  return out;
}

}  // namespace trammel::bike
