#include "objectives/target.hpp"

#include <algorithm>

namespace trammel::objectives {

std::size_t own_targets(const std::vector<Target>& targets) {
  const auto first =
      std::find_if(targets.begin(), targets.end(), [](const Target& t) { return t.origin != Origin::brief; });
  return static_cast<std::size_t>(first - targets.begin());
}

std::vector<bike::CurveKey> curves_of(const Target& target) {
  std::vector<bike::CurveKey> out;
  switch (target.measure ? record(*target.measure).reduction : Reduction::none) {
    case Reduction::path:
      return {{bike::Curve::axle_x}, {bike::Curve::axle_y}};
    case Reduction::bottom_margin:
      return {target.curve, {bike::Curve::leverage}};
    case Reduction::spacers:
      // With none of them, with one, and so on to as many as its curve names.
      for (int spacers = 0; spacers <= std::max(1, target.curve.spacers); ++spacers) {
        out.push_back(target.curve);
        out.back().spacers = spacers;
      }
      out.push_back({bike::Curve::leverage});
      return out;
    default:
      break;
  }
  if (target.gears.empty()) return {target.curve};
  for (const int gear : target.gears) out.push_back({target.curve.curve, gear});
  return out;
}

std::string unit_of(const Target& target) {
  std::string own(bike::record(target.curve.curve).unit);
  if (!target.measure) return own;
  switch (record(*target.measure).unit) {
    case MeasureUnit::curve:
      return own;
    case MeasureUnit::per_mm:
      // A slope in mm per mm is a ratio.
      return own == "mm" ? "" : own.empty() ? "1/mm" : own + "/mm";
    case MeasureUnit::per_mm2:
      return own == "mm" || own.empty() ? (own.empty() ? "1/mm²" : "1/mm") : own + "/mm²";
    case MeasureUnit::mm:
      return "mm";
    case MeasureUnit::none:
      break;
  }
  return "";
}

bool has_place(const Target& target) {
  if (target.between) return false;
  if (!target.measure) return true;
  switch (record(*target.measure).reduction) {
    case Reduction::least:
    case Reduction::greatest:
    case Reduction::path:
      return true;
    default:
      return false;
  }
}

bool same_quantity(const Target& a, const Target& b) {
  return a.between == b.between && a.measure == b.measure && a.curve == b.curve && a.gears == b.gears &&
         a.crosses == b.crosses && a.path == b.path;
}

}  // namespace trammel::objectives
