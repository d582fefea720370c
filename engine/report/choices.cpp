#include "report/choices.hpp"

#include <algorithm>
#include <cmath>
#include <optional>

#include "report/digits.hpp"

namespace trammel::report {

namespace {

struct List {
  std::string name;
  bool (*several)(const brief::Brief&);
  std::optional<std::string> (*of)(const bike::Layout&);
};

const List lists[] = {
    {"shock", [](const brief::Brief& b) { return b.shocks.size() > 1; },
     [](const bike::Layout& l) {
       return l.shock ? std::optional(exact(l.shock->length) + " × " + exact(l.shock->stroke)) : std::nullopt;
     }},
    {"idler", [](const brief::Brief& b) { return b.idlers.size() > 1; },
     [](const bike::Layout& l) {
       return l.drivetrain.idler ? std::optional(std::to_string(l.drivetrain.idler->teeth)) : std::nullopt;
     }},
    {"chainring", [](const brief::Brief& b) { return b.chainrings.size() > 1; },
     [](const bike::Layout& l) {
       return l.drivetrain.gears.empty() ? std::nullopt
                                         : std::optional(std::to_string(l.drivetrain.gears.front().chainring));
     }},
};

std::vector<const List*> lists_of(const brief::Brief& brief) {
  const auto all = brief::linkages_of(brief);
  std::vector<const List*> out;
  for (const List& list : lists)
    if (std::any_of(all.begin(), all.end(), list.several)) out.push_back(&list);
  return out;
}

}  // namespace

std::vector<std::string> offered(const brief::Brief& brief) {
  std::vector<std::string> out;
  for (const List* list : lists_of(brief)) out.push_back(list->name);
  return out;
}

std::vector<std::string> chosen(const brief::Brief& brief, const bike::Layout& layout) {
  std::vector<std::string> out;
  for (const List* list : lists_of(brief)) out.push_back(list->of(layout).value_or(""));
  return out;
}

std::vector<std::string> chosen(const brief::Brief& brief, const search::Sheet& sheet) {
  // A setting may have a shock of its own.
  return chosen(brief, sheet.whole());
}

namespace {

/// Whether a shock eye that was to lie on the brief's grid does.
bool on_grid(const brief::Brief& brief, const search::Sheet& sheet, int point) {
  if (brief.search.eye_error <= 0.0) return true;
  const bike::Point& at = sheet.whole().mechanism.points[static_cast<std::size_t>(point)];
  const auto off = [&](double x) { return std::abs(std::remainder(x, brief.search.grid)); };
  constexpr double rounding = 1e-3;  // that of the layouts reported
  return off(at.x) < rounding && off(at.y) < rounding;
}

}  // namespace

std::vector<std::string> ties(const brief::Brief& brief, const search::Sheet& sheet) {
  const auto all = brief::linkages_of(brief);
  const auto own =
      std::find_if(all.begin(), all.end(), [&](const brief::Brief& one) { return one.linkage_title == sheet.linkage; });
  const auto& names = sheet.layout.mechanism.point_names;
  std::vector<std::string> out(names.size());
  if (own == all.end()) return out;
  const auto name = [&](int point) { return names[static_cast<std::size_t>(point)]; };
  for (const brief::Vary& vary : own->vary) {
    std::string& words = out[static_cast<std::size_t>(vary.point)];
    if (const auto* cartesian = std::get_if<brief::Cartesian>(&vary.place)) {
      if (cartesian->from >= 0) words = "goes with " + name(cartesian->from);
    } else if (const auto* polar = std::get_if<brief::Polar>(&vary.place)) {
      if (polar->as_long_as)
        words = "as far from " + name(polar->from) + " as " + name(polar->as_long_as->first) + " from " +
                name(polar->as_long_as->second);
      if (polar->length_is_shock && !on_grid(*own, sheet, vary.point))
        words = "off the grid: no step that it can go to is within " + significant(own->search.eye_error, 3) +
                " mm of the shock's length";
    } else if (const auto* body = std::get_if<brief::OnBody>(&vary.place)) {
      words = "one body with " + name(body->a) + " and " + name(body->b);
    } else {
      const auto& mirrored = std::get<brief::Mirrored>(vary.place);
      words = "mirrors " + name(mirrored.of) +
              (mirrored.through < 0 ? " about " + name(mirrored.about)
                                    : " across " + name(mirrored.about) + " – " + name(mirrored.through));
    }
  }
  return out;
}

}  // namespace trammel::report
