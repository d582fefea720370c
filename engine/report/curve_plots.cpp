#include "report/curve_plots.hpp"
#include "report/case_tables.hpp"

#include <algorithm>
#include <array>
#include <cmath>

#include "bike/reading.hpp"
#include "report/digits.hpp"
#include "report/plot.hpp"
#include "report/wording.hpp"

namespace trammel::report {

namespace {

using bike::Curve;
using objectives::Target;
using objectives::Verdict;

/// Curves that every page shows when the layout has them, in this order. Others are shown when a target asks for them.
constexpr std::array always_shown{Curve::leverage,         Curve::anti_squat,  Curve::anti_rise,  Curve::chain_growth,
                                  Curve::kickback,         Curve::wheel_force, Curve::wheel_rate, Curve::shock_force,
                                  Curve::chainstay_growth, Curve::rearward,    Curve::wheelbase,  Curve::bb_height,
                                  Curve::head_angle,       Curve::pitch,       Curve::cg_height};

std::vector<Curve> curves_to_show(const std::vector<Target>& targets) {
  std::vector<Curve> out(always_shown.begin(), always_shown.end());
  for (const auto& target : targets) {
    if (target.origin != objectives::Origin::brief) continue;
    const Curve curve = target.curve.curve;
    const bool known = std::find(out.begin(), out.end(), curve) != out.end();
    if (!target.measure && !known && curve != Curve::travel && !bike::named_by_target(target.curve))
      out.push_back(curve);
  }
  return out;
}

/// Curves of points and pivots that targets ask for, each of which has a plot of its own, also when only a measure of
/// it is asked for: no other plot shows it.
std::vector<bike::CurveKey> named_to_show(const std::vector<Target>& targets) {
  std::vector<bike::CurveKey> out;
  for (const auto& target : targets)
    if (bike::named_by_target(target.curve) && (!target.measure || target.curve.curve != Curve::set_up_bottom_force) &&
        std::find(out.begin(), out.end(), target.curve) == out.end())
      out.push_back(target.curve);
  return out;
}

void hold(Span& span, const bike::Values& v) {
  for (const auto& value : v) {
    if (value && std::isfinite(*value)) span.hold(*value);
  }
}

void hold(Span& span, const search::CurveBand& band) {
  for (const std::vector<double>* rim : {&band.low, &band.high})
    for (double y : *rim) span.hold(y);
}

/// A target of the plotted curve, with how it came out.
struct Asked {
  const Target* target;
  const Verdict* verdict;
};

void hold(Span& span, const Asked& asked) {
  using Kind = objectives::Wish::Kind;
  const auto& w = asked.target->wish;
  const double tolerance = asked.target->tolerance;
  if (w.kind == Kind::band || w.kind == Kind::floor) span.hold(w.lo);
  if (w.kind == Kind::band || w.kind == Kind::ceiling) span.hold(w.hi);
  if (w.kind == Kind::value) {
    span.hold(w.lo - tolerance);
    span.hold(w.lo + tolerance);
  }
  for (const auto& [fraction, y] : w.path) {
    span.hold(y - tolerance);
    span.hold(y + tolerance);
  }
  span.hold(asked.verdict->achieved);
}

void draw(Plot& plot, const Asked& asked, double travel) {
  using Kind = objectives::Wish::Kind;
  const auto& target = *asked.target;
  const auto& w = target.wish;
  const double here = asked.verdict->at_travel;
  const Span x = target.over ? Span{target.over->from * travel, target.over->to * travel} : Span{here, here};
  switch (w.kind) {
    case Kind::band:
    case Kind::value: {
      const Span y = w.kind == Kind::band ? Span{w.lo, w.hi} : Span{w.lo - target.tolerance, w.lo + target.tolerance};
      target.over ? plot.band(x, y) : plot.bar(here, y);
      break;
    }
    case Kind::ceiling:
      plot.limit(x, w.hi, true);
      break;
    case Kind::floor:
      plot.limit(x, w.lo, false);
      break;
    case Kind::follow: {
      auto points = w.path;
      for (auto& point : points) point.first *= travel;
      plot.path(points, target.tolerance);
      break;
    }
    case Kind::under:
    case Kind::over: {
      auto points = w.path;
      for (auto& point : points) point.first *= travel;
      plot.limit(points, w.kind == Kind::under);
      break;
    }
  }
}

/// How a curve spreads over built frames; null where that was not asked for.
const search::CurveBand* band_of(const search::Sheet& sheet, const bike::CurveKey& key) {
  if (!sheet.tolerance) return nullptr;
  for (const search::CurveBand& band : sheet.tolerance->bands)
    if (band.key == key) return &band;
  return nullptr;
}

std::string name_of_plot(Curve curve) {
  std::string out(bike::record(curve).key);
  std::replace(out.begin(), out.end(), '_', '-');
  return out;
}

PlotFrame frame_for(Curve curve) {
  const auto& record = bike::record(curve);
  PlotFrame frame;
  frame.name = name_of_plot(curve);
  frame.title = std::string(record.title);
  frame.x_label = "Wheel travel [mm]";
  frame.over_travel = true;
  frame.y_label = with_unit(frame.title, record.unit);
  frame.y = Span::empty();
  return frame;
}

/// Fewest units a plot's y axis spans: a curve that moves by less than its usual tolerance must not look wild.
void hold_tolerance(Span& span, Curve curve) {
  const double middle = 0.5 * (span.lo + span.hi), half = bike::record(curve).tolerance;
  span.hold(middle - half);
  span.hold(middle + half);
}

/// The gears in which a target holds.
std::string gears_of(const Target& target, const bike::Layout& layout) {
  const std::vector<int> own{target.curve.gear};
  std::string names;
  for (const int gear : target.gears.empty() ? own : target.gears)
    names += (names.empty() ? "" : ", ") + layout.drivetrain.gears[static_cast<std::size_t>(gear)].name();
  return names;
}

/// Fractions of the travel in mm.
std::vector<double> in_mm(std::vector<double> fractions, double travel) {
  for (double& at : fractions) at *= travel;
  return fractions;
}

/// Draws a band over a layout's own travel.
void draw(Plot& plot, const std::vector<double>& fractions, const search::CurveBand& band, double travel, int pen) {
  plot.spread(in_mm(fractions, travel), band.low, band.high, series_pen(pen));
}

/// Curves of one kind in a plot, with what targets ask of them.
Html figure_of(PlotFrame frame, const std::vector<bike::CurveKey>& keys, const search::Sheet& sheet,
               const std::vector<Target>& targets, const search::References& references) {
  const auto& table = sheet.motion.table;
  for (const auto& key : keys) hold(frame.y, values(table, key));
  if (frame.y.is_empty()) return {};
  for (const auto& key : keys)
    if (const search::CurveBand* band = band_of(sheet, key)) hold(frame.y, *band);
  for (const search::CurveBand& band : references.bands)
    if (std::find(keys.begin(), keys.end(), band.key) != keys.end()) hold(frame.y, band);
  std::vector<Asked> asked;
  for (std::size_t i = 0; i < std::min(objectives::own_targets(targets), sheet.assessment.targets.size()); ++i) {
    const objectives::Verdict* verdict = drawn_verdict(sheet, i);
    const bool shown = std::find(keys.begin(), keys.end(), targets[i].curve) != keys.end();
    if (verdict != nullptr && !targets[i].measure && !targets[i].between && shown) {
      asked.push_back({&targets[i], verdict});
      hold(frame.y, asked.back());
    }
  }
  hold_tolerance(frame.y, keys.front().curve);
  const double travel = whole_travel(table);
  frame.x = {0.0, travel};
  // A page shows the other settings and sizes in the same axes.
  for (const search::CaseSheet& one : sheet.cases) {
    frame.x.hold(one.travel);
    for (const auto& key : keys) hold(frame.y, values(one.curves, key));
  }
  for (const auto& key : keys) {
    const bike::Column* column = table.find(key);
    frame.columns.push_back(column == nullptr ? -1 : static_cast<int>(column - table.columns.data()));
  }

  Plot plot(frame);
  plot.upright(sheet.at_sag.travel, "sag");
  Html notes;
  for (const auto& a : asked) draw(plot, a, travel);
  for (std::size_t k = 0; k < keys.size(); ++k) {
    const search::CurveBand* band = band_of(sheet, keys[k]);
    if (band != nullptr) draw(plot, sheet.tolerance->fractions, *band, travel, static_cast<int>(k));
  }
  for (const search::CurveBand& band : references.bands) {
    const auto own = std::find(keys.begin(), keys.end(), band.key);
    if (own == keys.end()) continue;
    plot.others(in_mm(references.fractions, travel), band.low, band.high,
                series_pen(static_cast<int>(own - keys.begin())));
  }
  for (std::size_t k = 0; k < keys.size(); ++k) {
    const int gear = keys[k].gear;
    const std::string name = gear >= 0 ? sheet.layout.drivetrain.gears[static_cast<std::size_t>(gear)].name() : "";
    plot.curve(name, values(table, {Curve::travel}), values(table, keys[k]), series_pen(static_cast<int>(k)));
  }
  std::string note;
  for (const auto& a : asked) {
    plot.verdict(a.verdict->at_travel, a.verdict->achieved, a.verdict->met);
    note += (note.empty() ? "" : "; ") + a.target->name + ": " + wish(*a.target) + " " + place(*a.target);
    if (a.target->curve.gear >= 0 && keys.size() > 1) note += " (" + gears_of(*a.target, sheet.layout) + ")";
  }
  return plot.figure(note.empty() ? note : "Asked for: " + note + ".");
}

/// An instant centre farther out than this is told by its direction, not drawn.
constexpr double ic_window = 2500.0;

bool in_window(const std::optional<Spot>& ic) {
  return ic && std::abs(ic->x) <= ic_window && std::abs(ic->y) <= ic_window;
}

std::string ic_note(const bike::Motion& motion) {
  std::string out;
  const auto& poses = motion.poses;
  for (std::size_t i = 0; i < poses.size(); ++i) {
    if (in_window(poses[i].instant_centre)) continue;
    const std::size_t first = i;
    while (i + 1 < poses.size() && !in_window(poses[i + 1].instant_centre)) ++i;
    const auto direction = [](const bike::Pose& pose) {
      return quantity(math::degrees(std::atan2(pose.ic_direction.y, pose.ic_direction.x)), 1, "°");
    };
    out += out.empty() ? "" : "; ";
    out += first == i ? "at " + shown(poses[i].travel, 0) + " mm of travel towards " + direction(poses[i])
                      : "from " + shown(poses[first].travel, 0) + " to " + shown(poses[i].travel, 0) +
                            " mm of travel towards " + direction(poses[first]) + " to " + direction(poses[i]);
  }
  if (out.empty()) return out;
  return "At infinity or more than " + shown(ic_window / 1000.0, 1) + " m away " + out +
         " (seen from the axle, counter-clockwise from straight ahead).";
}

struct Trail {
  bike::Values x, y;
};

Trail ic_trail(const bike::Motion& motion) {
  Trail out;
  for (const auto& pose : motion.poses) {
    const bool seen = in_window(pose.instant_centre);
    out.x.push_back(seen ? std::optional(pose.instant_centre->x) : std::nullopt);
    out.y.push_back(seen ? std::optional(pose.instant_centre->y) : std::nullopt);
  }
  return out;
}

void mark_stations(Plot& plot, const search::Sheet& sheet, bool ic) {
  const std::array<std::pair<const bike::Pose*, const char*>, 3> stations{
      {{&sheet.topped_out, "topped out"}, {&sheet.at_sag, "sag"}, {&sheet.bottomed, "bottomed"}}};
  for (const auto& [pose, words] : stations) {
    if (!ic) {
      const Spot axle = pose->points[static_cast<std::size_t>(sheet.layout.axle.point)];
      plot.station(axle.x, axle.y, words);
    } else if (in_window(pose->instant_centre)) {
      plot.station(pose->instant_centre->x, pose->instant_centre->y, words);
    }
  }
}

Html trail_figure(PlotFrame frame, const std::vector<search::Sheet>& sheets, const std::vector<Trail>& trails,
                  bool ic) {
  frame.x = frame.y = Span::empty();
  for (const auto& trail : trails) {
    hold(frame.x, trail.x);
    hold(frame.y, trail.y);
  }
  std::string note;
  for (std::size_t i = 0; ic && i < sheets.size(); ++i) {
    const std::string far = ic_note(sheets[i].motion);
    if (far.empty()) continue;
    note += (note.empty() ? "" : " ") + (sheets.size() > 1 ? letter_name(i, sheets[i]) + ": " : "") + far;
  }
  if (frame.x.is_empty()) {
    return element("figure", {{"class", "plot"}}, element("h3", frame.title) + element("p", note));
  }
  if (ic) {  // with the bottom bracket in view, so that the path has a place on the bike
    frame.x.hold(0.0);
    frame.y.hold(0.0);
  }
  frame.equal_scale = true;
  Plot plot(frame);
  if (ic) plot.station(0.0, 0.0, "bottom bracket");
  for (std::size_t i = 0; i < sheets.size(); ++i) {
    plot.curve(sheets.size() > 1 ? letter_name(i, sheets[i]) : "", trails[i].x, trails[i].y,
               series_pen(static_cast<int>(i)));
  }
  if (sheets.size() == 1) mark_stations(plot, sheets.front(), ic);
  return plot.figure(note);
}

}  // namespace

std::string letter_name(std::size_t index, const search::Sheet& sheet) {
  const std::string letter =
      index < 26 ? std::string(1, static_cast<char>('A' + static_cast<int>(index))) : std::to_string(index + 1);
  const std::string& name = sheet.id.empty() ? sheet.layout.title : sheet.id;
  return name.empty() ? letter : letter + " " + name;
}

std::vector<bike::CurveKey> shown_curves(const search::Sheet& sheet, const std::vector<Target>& targets) {
  std::vector<bike::CurveKey> out;
  for (const Curve curve : curves_to_show(targets))
    for (const bike::CurveKey& key : keys_of(sheet.motion.table, curve)) out.push_back(key);
  for (const bike::CurveKey& key : named_to_show(targets)) out.push_back(key);
  return out;
}

Html curve_figures(const search::Sheet& sheet, const std::vector<Target>& targets,
                   const search::References& references) {
  Html out;
  for (const Curve curve : curves_to_show(targets))
    out += figure_of(frame_for(curve), keys_of(sheet.motion.table, curve), sheet, targets, references);
  for (const bike::CurveKey& key : named_to_show(targets)) {
    PlotFrame frame = frame_for(key.curve);
    for (const int part : {key.a, key.b, key.load})
      if (part >= 0) frame.name += "-" + std::to_string(part);
    if (key.spacers >= 0) frame.name += "-" + std::to_string(key.spacers) + "-spacers";
    if (key.of_rider()) frame.name += "-" + significant(key.rider, 6) + "-kg";
    frame.title = curve_title(key, sheet.layout);
    out += figure_of(std::move(frame), {key}, sheet, targets, references);
  }
  return out;
}

Html some_curve_figures(const search::Sheet& sheet, const std::vector<Target>& targets, std::span<const Curve> curves) {
  Html out;
  for (const Curve curve : curves)
    out += figure_of(frame_for(curve), keys_of(sheet.motion.table, curve), sheet, targets, {});
  return out;
}

Html path_figures(const std::vector<search::Sheet>& sheets) {
  std::vector<Trail> axle, ic;
  for (const auto& sheet : sheets) {
    axle.push_back({values(sheet.motion.table, {Curve::axle_x}), values(sheet.motion.table, {Curve::axle_y})});
    ic.push_back(ic_trail(sheet.motion));
  }
  const PlotFrame axle_frame{
      "axle-path", "Path of the rear axle", "x, forward of the bottom bracket [mm]", "y [mm]", {}, {}};
  const PlotFrame ic_frame{
      "ic-path", "Path of the instant centre", "x, forward of the bottom bracket [mm]", "y [mm]", {}, {}};
  return trail_figure(axle_frame, sheets, axle, false) + trail_figure(ic_frame, sheets, ic, true);
}

Html overlaid_figures(const std::vector<search::Sheet>& sheets) {
  // Gears are matched by name: two layouts may list theirs in another order.
  struct Line {
    std::size_t sheet;
    bike::CurveKey key;
  };
  Html out;
  for (const Curve curve : always_shown) {
    std::vector<std::pair<std::string, std::vector<Line>>> plots;  // by gear name, "" for curves without a gear
    for (std::size_t i = 0; i < sheets.size(); ++i) {
      for (const auto& key : keys_of(sheets[i].motion.table, curve)) {
        const auto& gears = sheets[i].layout.drivetrain.gears;
        const std::string gear = key.gear >= 0 ? gears[static_cast<std::size_t>(key.gear)].name() : "";
        auto found = std::find_if(plots.begin(), plots.end(), [&](const auto& p) { return p.first == gear; });
        if (found == plots.end()) found = plots.insert(plots.end(), {gear, {}});
        found->second.push_back({i, key});
      }
    }
    for (const auto& [gear, lines] : plots) {
      PlotFrame frame = frame_for(curve);
      if (!gear.empty()) {
        frame.name += "-" + gear;
        frame.title += " " + gear;
      }
      frame.x = {0.0, 0.0};
      for (const auto& line : lines) {
        hold(frame.y, values(sheets[line.sheet].motion.table, line.key));
        if (const auto* band = band_of(sheets[line.sheet], line.key)) hold(frame.y, *band);
        frame.x.hold(whole_travel(sheets[line.sheet].motion.table));
      }
      if (frame.y.is_empty()) continue;
      hold_tolerance(frame.y, curve);
      Plot plot(frame);
      for (const auto& line : lines)
        if (const auto* band = band_of(sheets[line.sheet], line.key))
          draw(plot, sheets[line.sheet].tolerance->fractions, *band, whole_travel(sheets[line.sheet].motion.table),
               static_cast<int>(line.sheet));
      for (const auto& line : lines) {
        const auto& table = sheets[line.sheet].motion.table;
        plot.curve(letter_name(line.sheet, sheets[line.sheet]), values(table, {Curve::travel}), values(table, line.key),
                   series_pen(static_cast<int>(line.sheet)));
        const double sag = sheets[line.sheet].at_sag.travel;
        if (const auto y = value_at(table, line.key, sag)) plot.station(sag, *y, "");
      }
      out += plot.figure("Rings mark each layout's sag.");
    }
  }
  return out;
}

}  // namespace trammel::report
