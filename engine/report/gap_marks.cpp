#include "report/gap_marks.hpp"

#include <algorithm>

#include "report/digits.hpp"
#include "report/scene.hpp"
#include "report/wording.hpp"

namespace trammel::report {
namespace {

/// A gap between bodies that is large enough.
constexpr const char* gap_colour = "#7a3e9d";
/// One that is not.
constexpr const char* tight_colour = "#b3261e";

/// A dimension of a small gap: arrows from outside, their tips on the two bodies. Where these overlap, a cross.
void draw_gap(SvgCanvas& canvas, const View& view, const search::ClosePlace& place) {
  const Spot a = view.spot(place.from), b = view.spot(place.to);
  const Pen pen{colour_of(place), 1.4, ""};
  if (place.gap <= 0.0) {
    const Spot middle = (a + b) * 0.5;
    for (const double side : {1.0, -1.0}) {
      const Spot arm{5.0, 5.0 * side};
      canvas.line(middle - arm, middle + arm, pen);
    }
    return;
  }
  constexpr double tail = 16.0, head = 5.0, half = 2.2;
  const Spot along = (b - a) * (1.0 / std::max(1e-9, norm(b - a)));
  canvas.line(a, b, {pen.colour, 0.8, ""});
  for (const auto& [tip, out] : {std::pair(a, -along), std::pair(b, along)}) {
    const Spot foot = tip + out * head, side = math::perp(along) * half;
    canvas.line(foot, tip + out * tail, pen);
    canvas.polygon({tip, foot + side, foot - side}, {pen.colour, 0.6, ""}, pen.colour);
  }
}

}  // namespace

const char* colour_of(const search::ClosePlace& place) {
  return place.met ? gap_colour : tight_colour;
}

std::vector<std::pair<std::string, Spot>> draw_gaps(SvgCanvas& canvas, const View& view,
                                                    const std::vector<search::ClosePlace>& places,
                                                    std::vector<Crossing>& lines) {
  std::vector<std::pair<std::string, Spot>> words;
  for (const search::ClosePlace& place : places) {
    Scene bodies;
    add_bodies(bodies, place.bodies);
    for (const auto& disc : bodies.discs)
      canvas.circle(view.spot(disc.centre), disc.radius * view.scale, {colour_of(place), 0.7, ""});
    for (const auto& stroke : bodies.strokes) {
      const Pen pen{colour_of(place), 0.7, ""};
      stroke.closed ? canvas.polygon(spots(view, stroke.points), pen, "none")
                    : canvas.polyline(spots(view, stroke.points), pen);
    }
  }
  for (const search::ClosePlace& place : places) {
    draw_gap(canvas, view, place);
    const Spot a = view.spot(place.from), b = view.spot(place.to);
    const Spot out = (b - a) * (18.0 / std::max(1e-9, norm(b - a)));
    lines.push_back({a - out, b + out});
    words.emplace_back(shown(place.gap, 1) + " mm", (a + b) * 0.5);
  }
  return words;
}

std::string gaps_in_words(const search::Sheet& sheet) {
  std::string out;
  for (const search::ClosePlace& place : sheet.close_places)
    out += (out.empty() ? "" : "; ") + place.pair + " " + quantity(place.gap, 1, "mm") + " at " +
           quantity(place.travel, 1, "mm") + " of travel" + (place.met ? "" : ", too little");
  if (out.empty()) return out;
  return "Closest" + (sheet.cases.empty() ? "" : " in " + sheet.cases.front().name) +
         ", between arrows (overlap: a cross), the bodies drawn there: " + out + ". ";
}

}  // namespace trammel::report
