#include "report/wording.hpp"

#include <algorithm>
#include <cmath>

#include "report/digits.hpp"

namespace trammel::report {

namespace {

std::string station(const objectives::Station& s) {
  using Kind = objectives::Station::Kind;
  switch (s.kind) {
    case Kind::topped_out:
      return "topped out";
    case Kind::sag:
      return "sag";
    case Kind::bottomed:
      return "bottomed";
    case Kind::travel:
      return significant(s.amount, 6) + " mm";
    case Kind::fraction:
      return significant(100.0 * s.amount, 6) + " % of travel";
  }
  return {};
}

/// A number of the brief, as its author wrote it.
std::string given(double x, std::string_view unit) {
  std::string out = significant(x, 9);
  if (unit == "°") return out + "°";
  return unit.empty() ? out : out + " " + std::string(unit);
}

/// "20", or "15 to 25" of a range.
std::string both_ends(const std::pair<double, double>& range) {
  const std::string low = significant(range.first, 6), high = significant(range.second, 6);
  return range.first == range.second ? low : low + " to " + high;
}

/// ", rider of 95 kg, 2 spacers".
std::string rider_words(const bike::CurveKey& key) {
  std::string out;
  if (key.of_rider()) out += ", rider of " + significant(key.rider, 6) + " kg";
  if (key.spacers >= 0) out += ", " + std::to_string(key.spacers) + (key.spacers == 1 ? " spacer" : " spacers");
  return out;
}

}  // namespace

std::string drawing_name(const search::Sheet& sheet) {
  const std::string& title = sheet.layout.title;
  return title.ends_with(sheet.id) ? title : title + " " + sheet.id;
}

std::string curve_title(bike::CurveKey key, const bike::Layout& layout) {
  std::string out(bike::record(key.curve).title);
  if (key.gear >= 0) out += " " + layout.drivetrain.gears[static_cast<std::size_t>(key.gear)].name();
  const auto name = [&](int point) { return layout.mechanism.point_names[static_cast<std::size_t>(point)]; };
  if (key.b >= 0) return out + " " + name(key.a) + "–" + name(key.b);
  if (key.load >= 0)
    return out + " in " + name(key.a) + ", " + layout.loads.cases[static_cast<std::size_t>(key.load)].name;
  if (key.a >= 0) return name(key.a) + " " + out;
  return out + rider_words(key);
}

std::string subject(const objectives::Target& target, const bike::Layout& layout) {
  std::string curve = curve_title(target.curve, layout);
  for (std::size_t i = 1; i < target.gears.size(); ++i)
    curve += ", " + layout.drivetrain.gears[static_cast<std::size_t>(target.gears[i])].name();
  if (target.measure) {
    const objectives::MeasureRecord& r = record(*target.measure);
    const bool usual = r.curve && *r.curve == target.curve.curve;
    bike::CurveKey of = target.curve;
    if (r.reduction == objectives::Reduction::spacers) of.spacers = -1;  // it is they that are counted
    curve = std::string(r.title) + (usual ? "" : " of " + curve) + (r.own_curve ? rider_words(of) : "");
  }
  if (!target.between) return curve;
  const objectives::Between& b = *target.between;
  if (!b.first.empty()) return curve + ", " + b.second + " − " + b.first;
  return curve + ", spread over " + (b.of == objectives::Between::Of::settings ? "settings" : "sizes");
}

std::string with_unit(const std::string& name, std::string_view unit) {
  return unit.empty() ? name : name + " [" + std::string(unit) + "]";
}

std::string quantity(double value, int decimals, std::string_view unit) {
  std::string out = shown(value, decimals);
  if (unit == "°") return out + "°";
  return unit.empty() ? out : out + " " + std::string(unit);
}

std::string place(const objectives::Target& target) {
  const auto where = target.measure ? record(*target.measure).where : objectives::Where::any;
  if (where == objectives::Where::between || where == objectives::Where::fixed)
    return station(target.at) + " to " + station(target.to);
  if (where == objectives::Where::whole) return "of " + given(target.crosses, bike::record(target.curve.curve).unit);
  if (target.over) {
    if (target.over->from <= 0.0 && target.over->to >= 1.0) return "over the whole travel";
    return "over " + significant(100.0 * target.over->from, 6) + "–" + significant(100.0 * target.over->to, 6) +
           " % of travel";
  }
  const auto kind = target.at.kind;
  const bool end = kind == objectives::Station::Kind::topped_out || kind == objectives::Station::Kind::bottomed;
  return (end ? "" : "at ") + station(target.at);
}

std::string wish(const objectives::Target& target) {
  using Kind = objectives::Wish::Kind;
  const std::string unit = unit_of(target);
  const auto& w = target.wish;
  const bool told = target.relative.has_value();
  // A number that was worked out is shown to a tenth of a tolerance, one of the brief as its author wrote it.
  const auto number = [&](double x, const std::string& of) {
    return told ? quantity(x, decimals_for(target.tolerance), of) : given(x, of);
  };
  const std::string path = told ? told_by(target) : "path of " + std::to_string(w.path.size()) + " points";
  const std::string origin = told ? " (" + told_by(target) + ")" : "";
  switch (w.kind) {
    case Kind::band:
      return number(w.lo, "") + " to " + number(w.hi, unit) + origin;
    case Kind::ceiling:
      return "at most " + number(w.hi, unit) + origin;
    case Kind::floor:
      return "at least " + number(w.lo, unit) + origin;
    case Kind::value:
      return number(w.lo, "") + " ± " + given(target.tolerance, unit) + origin;
    case Kind::follow:
      return path + " ± " + given(target.tolerance, unit);
    case Kind::under:
      return "at most " + path;
    case Kind::over:
      return "at least " + path;
  }
  return {};
}

std::string told_by(const objectives::Target& target) {
  const objectives::Relative& r = *target.relative;
  const std::string in = r.in.empty() ? "" : " in " + r.in;
  std::string thing;
  if (target.wish.along_path())
    thing = "the curve of " + (r.of.empty() ? "the layout as drawn" : r.of) + in;
  else
    thing = (r.of.empty() ? "the drawn layout's " : r.of + "'s ") +
            quantity(r.found.front().second, decimals_for(target.tolerance), unit_of(target)) + in;
  const auto& [least, most] = r.plus;
  const bool scaled = r.times != std::pair(1.0, 1.0), moved = r.plus != std::pair(0.0, 0.0);
  const std::string times = scaled ? both_ends(r.times) + " times " : "";
  if (!moved) return times + thing;
  const std::string by = least < 0.0 && most > 0.0
                             ? significant(-least, 6) + " less to " + significant(most, 6) + " more"
                         : least < 0.0 ? both_ends({0.0 - most, 0.0 - least}) + " less"
                                       : both_ends(r.plus) + " more";
  return by + " than " + times + thing;
}

std::string outcome(const objectives::Target& target, const objectives::Verdict& verdict) {
  const int decimals = decimals_for(target.tolerance);
  const std::string where = verdict.in.empty() ? "" : " in " + verdict.in;
  std::string out = quantity(verdict.achieved, decimals, unit_of(target)) + where;
  if (verdict.met) return out;
  // An excess smaller than the usual digits would read as 0.
  const double excess = verdict.violation;
  const bool tiny = excess < 0.5 * std::pow(10.0, -decimals);
  return out + " (out by " + (tiny ? significant(excess, 2) : shown(excess, decimals)) + ")";
}

std::vector<std::string> conventions(const bike::Layout& layout) {
  std::vector<std::string> out{
      "Planar side view, rigid bodies. Frame axes: origin at the bottom bracket, x forward, y up, drawn topped out; "
      "angles counter-clockwise positive, bike facing right. Lengths in mm.",
      "Wheel travel is the rise of the rear axle along the frame's y axis. Leverage ratio is the exact derivative of "
      "wheel travel by shock travel; motion ratio is its inverse."};
  const auto& front = layout.front;
  switch (front.follows) {
    case bike::ForkFollows::matched:
      out.push_back("The fork follows: matched – it has used the same fraction of its " + significant(front.travel, 6) +
                    " mm travel as the rear wheel.");
      break;
    case bike::ForkFollows::extended:
      out.push_back("The fork follows: extended – it stays topped out.");
      break;
    case bike::ForkFollows::at_sag:
      out.push_back("The fork follows: at sag – it stays at " + significant(100.0 * front.sag, 6) + " % of its " +
                    significant(front.travel, 6) + " mm travel.");
      break;
  }
  out.push_back(layout.cg.follows == bike::CgFollows::frame
                    ? "The centre of gravity follows: frame – it is fixed to the frame, its height over the ground "
                      "changes as the rear compresses."
                    : "The centre of gravity follows: ground – its height over the ground stays what it is topped "
                      "out.");
  out.push_back("Sag is " + significant(100.0 * layout.sag.fraction, 6) + " % of " +
                (layout.sag.of == bike::SagOf::wheel ? "wheel travel." : "shock stroke."));
  out.push_back(
      "Chain growth and pedal kickback: wheel and crank are both held to the frame; growth is what the driving run "
      "then needs, kickback the backward crank turn that it causes. Sprockets by their pitch circles, 12.7 mm pitch.");
  if (!layout.drivetrain.gears.empty() && layout.drivetrain.gears.front().any_ring)
    out.push_back("The chainring was chosen with the layout; a gear is named by its cog alone, such as " +
                  layout.drivetrain.gears.front().name() + ".");
  if (layout.drivetrain.idler) {
    out.push_back("The chain runs " + std::string(layout.drivetrain.idler->over ? "over" : "under") + " an idler of " +
                  std::to_string(layout.drivetrain.idler->teeth) + " teeth.");
  }
  if (layout.drivetrain.roller)
    out.push_back("The slack run goes " + std::string(layout.drivetrain.roller->over ? "over" : "under") +
                  " a roller of " + std::to_string(layout.drivetrain.roller->teeth) + " teeth.");
  out.push_back(
      "Anti-squat and anti-rise are 100 % when load transfer is balanced exactly, with wheelbase and height of the "
      "centre of gravity taken at each position. Anti-squat is for drive with the crank held; for anti-rise only "
      "rear-wheel braking is considered.");
  out.push_back("Rotating inertia and unsprung mass are neglected.");
  return out;
}

Html conventions_block(const bike::Layout& layout) {
  Html items;
  for (const auto& sentence : conventions(layout)) items += element("li", sentence);
  return element("section", {{"class", "notes"}}, element("h2", "Conventions in force") + element("ul", items));
}

Html cautions_block() {
  static constexpr std::string_view cautions =
      "These are kinematics and statics only. Nothing here says that a part is strong enough: strength, fatigue, tyre "
      "clearance and brake tests of complete bikes follow ISO 4210 and the law where the bike is sold, under a "
      "qualified engineer, and prototypes are proved before anyone rides them.";
  return element("section", {{"class", "notes caution"}}, element("h2", "Cautions") + element("p", cautions));
}

}  // namespace trammel::report
