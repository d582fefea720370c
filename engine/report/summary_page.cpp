// One sheet of A4 on a layout, for whoever is to ride it: a drawing, what it does in words, the curves that matter.
#include <array>
#include <cmath>

#include "bike/reading.hpp"
#include "brief/notes.hpp"
#include "report/curve_plots.hpp"
#include "report/digits.hpp"
#include "report/drawing.hpp"
#include "report/notes.hpp"
#include "report/pages.hpp"
#include "report/parts.hpp"
#include "report/scene.hpp"
#include "report/wording.hpp"

namespace trammel::report {

namespace {

using bike::Curve;
using search::Sheet;

std::optional<double> at(const Sheet& sheet, bike::CurveKey key, double travel) {
  return bike::value_at(sheet.motion.table, key, travel);
}

/// The greatest value through the stroke; absent without the curve.
std::optional<double> greatest(const Sheet& sheet, bike::CurveKey key) {
  std::optional<double> out;
  for (const std::optional<double>& y : bike::values(sheet.motion.table, key))
    if (y && (!out || *y > *out)) out = y;
  return out;
}

/// "102.9 % in 32x51, 126.1 % in 32x12"; nothing without the curve. `of` gives the value in a gear.
template <class Of>
std::string in_gears(const Sheet& sheet, Curve curve, int decimals, Of of) {
  std::string out;
  for (const bike::CurveKey& key : bike::keys_of(sheet.motion.table, curve)) {
    const std::optional<double> y = of(key);
    if (!y) continue;
    out += out.empty() ? "" : ", ";
    out += quantity(*y, decimals, bike::record(curve).unit);
    if (key.gear >= 0) out += " in " + sheet.layout.drivetrain.gears[static_cast<std::size_t>(key.gear)].name();
  }
  return out;
}

/// What the layout does, a line a matter: its name, and a sentence.
std::vector<std::pair<const char*, std::string>> matters(const Sheet& sheet) {
  std::vector<std::pair<const char*, std::string>> out;
  const auto say = [&](const char* name, const std::string& words) {
    if (!words.empty()) out.emplace_back(name, words);
  };
  const double travel = sheet.bottomed.travel, sag = sheet.at_sag.travel;
  std::string moves = quantity(travel, 0, "mm") + " at the rear wheel, " + quantity(sag, 0, "mm") + " of it at sag.";
  if (const auto& shock = sheet.layout.shock)
    moves += " Shock " + shown(shock->length, 1) + " × " + shown(shock->stroke, 1) + " mm, mean leverage " +
             shown(travel / shock->stroke, 2) + ".";
  say("Travel", moves);
  const bike::CurveKey leverage{Curve::leverage};
  const auto first = at(sheet, leverage, 0.0), last = at(sheet, leverage, travel);
  if (first && last && *first > 0.0) {
    const double more = *first / *last - 1.0;  // the wheel's force is the shock's over the leverage
    say("Spring", "Leverage goes from " + shown(*first, 2) + " to " + shown(*last, 2) +
                      ": the same shock force carries " + quantity(100.0 * std::abs(more), 0, "%") +
                      (more >= 0.0 ? " more" : " less") + " at the wheel at the end of the stroke than at its start.");
  }
  const std::string squat =
      in_gears(sheet, Curve::anti_squat, 0, [&](bike::CurveKey key) { return at(sheet, key, sag); });
  if (!squat.empty())
    say("Pedalling", "Anti-squat at sag " + squat +
                         ". At 100 % driving neither squats nor lifts the rear; above it lifts, below it squats.");
  if (const auto rise = at(sheet, {Curve::anti_rise}, sag))
    say("Braking",
        "Anti-rise at sag " + quantity(*rise, 0, "%") +
            ". At 100 % the rear brake keeps the rear where it is; below it the rear rises as load goes forward.");
  const std::string kickback =
      in_gears(sheet, Curve::kickback, 0, [&](bike::CurveKey key) { return greatest(sheet, key); });
  const std::string growth =
      in_gears(sheet, Curve::chain_growth, 0, [&](bike::CurveKey key) { return greatest(sheet, key); });
  if (!kickback.empty())
    say("Feet and chain", "Pedal kickback at most " + kickback + "; the chain run grows by at most " + growth + ".");
  if (const auto rear = greatest(sheet, {Curve::rearward}))
    say("Axle path", "At most " + quantity(*rear, 1, "mm") + " rearward of where it starts, and " +
                         quantity(at(sheet, {Curve::rearward}, travel).value_or(0.0), 1, "mm") +
                         " at the end (negative = forward).");
  return out;
}

}  // namespace

std::string summary_page(const search::StudyReport& study, const Sheet& sheet, const Standing& standing) {
  const bike::Gear* gear = drawn_gear(sheet.layout, study.brief.targets);
  Html body =
      element("nav", link_to("index.html", "The whole layout") + link_to(standing.up + "/index.html", "All layouts"));
  body += title_block(study.brief.layout.title, standing.title,
                      {{standing.counted, text(standing.place)},
                       {"Requirements", met_mark(sheet.assessment.feasible())},
                       {"Required margin", text(shown(sheet.assessment.must_margin, 2))},
                       {"Engine", text(study.summary.engine_version)}});
  Html rows;
  if (const std::string notes = notes_in_short(brief::notes_of(study.brief).layout); !notes.empty())
    rows += element("tr", head_cell(text("Notes")) + cell(notes));
  for (const auto& [name, words] : matters(sheet)) rows += element("tr", head_cell(text(name)) + cell(words));
  // For who hears the page: without it the drawings' headings would hang a level too low.
  Html main = element("h2", {{"class", "unseen"}}, text("In short"));
  main += element("div", {{"class", "drawings"}},
                  bike_figure(sheet, gear) + element("table", {{"class", "matters"}}, element("tbody", rows)));
  constexpr std::array curves{Curve::leverage,     Curve::anti_squat, Curve::anti_rise,
                              Curve::chain_growth, Curve::kickback,   Curve::rearward};
  main += element("div", {{"class", "plots"}}, some_curve_figures(sheet, study.brief.targets, curves));
  main += cautions_block();
  body += element("main", {{"class", "one-sheet"}}, main);
  return page(standing.title + " in short – " + study.brief.layout.title, body);
}

}  // namespace trammel::report
