#include "report/field_picture.hpp"

#include <algorithm>

#include "report/digits.hpp"
#include "report/frame_sketch.hpp"
#include "report/labels.hpp"
#include "report/scene_drawing.hpp"

namespace trammel::report {

namespace {

using bike::Point;
using search::Mark;
using search::Sheet;

constexpr double width = 860.0, margin = 16.0;
constexpr double seen_apart = 0.5;  ///< mm: a point that moves less in all marks is one place
constexpr Look faint_look{"", "#9aa5b1", "", 0.8};
// As in the charts of the field.
constexpr const char* meets_colour = "#0072b2";
constexpr const char* fails_colour = "#b0578d";

/// Where one point lies in the marks.
struct Cloud {
  std::string name;
  std::vector<Point> meets, fails, shortlisted;
};

std::vector<Cloud> clouds_of(const search::StudyReport& study, const Sheet& sheet) {
  const auto& names = sheet.layout.mechanism.point_names;
  std::vector<Cloud> out;
  for (std::size_t p = 0; p < names.size(); ++p) {
    Cloud cloud{names[p], {}, {}, {}};
    double apart = 0.0;
    for (const Mark& mark : study.marks) {
      if (mark.linkage != sheet.linkage || mark.points.size() != names.size()) continue;
      (mark.rank_in_shortlist > 0 ? cloud.shortlisted
       : mark.feasible            ? cloud.meets
                                  : cloud.fails)
          .push_back(mark.points[p]);
      apart = std::max(apart, norm(mark.points[p] - sheet.layout.mechanism.points[p]));
    }
    if (apart > seen_apart) out.push_back(std::move(cloud));
  }
  return out;
}

/// The range of a point that is varied along both axes.
struct Range {
  Point low, high;
};
std::vector<Range> ranges_of(const Sheet& sheet) {
  std::vector<Range> out;
  for (const search::VariedValue& x : sheet.varied) {
    if (!x.name.ends_with(".x")) continue;
    const std::string other = x.name.substr(0, x.name.size() - 1) + "y";
    for (const search::VariedValue& y : sheet.varied)
      if (y.name == other) out.push_back({{x.lo, y.lo}, {x.hi, y.hi}});
  }
  return out;
}

View view_of(const Sheet& sheet, const std::vector<Cloud>& clouds, const std::vector<Range>& ranges) {
  Extent extent;
  extent.hold({}, 30.0);
  for (const Point& p : sheet.topped_out.points) extent.hold(p, 20.0);
  for (const Range& range : ranges) {
    extent.hold(range.low, 6.0);
    extent.hold(range.high, 6.0);
  }
  for (const Cloud& cloud : clouds)
    for (const auto* places : {&cloud.meets, &cloud.fails, &cloud.shortlisted})
      for (const Point& p : *places) extent.hold(p, 6.0);
  return fitted(extent, width, margin);
}

void draw_clouds(SvgCanvas& canvas, const View& view, const std::vector<Cloud>& clouds) {
  for (const Cloud& cloud : clouds) canvas.crosses(spots(view, cloud.fails), 2.2, {fails_colour, 0.9});
  for (const Cloud& cloud : clouds) canvas.dots(spots(view, cloud.meets), 4.2, meets_colour);
  for (const Cloud& cloud : clouds)
    for (const Point& p : cloud.shortlisted) canvas.circle(view.spot(p), 4.0, {"#1d2733", 1.6}, "#ffffff");
}

Html legend(const std::vector<Cloud>& clouds) {
  const auto any = [&](auto places) {
    return std::any_of(clouds.begin(), clouds.end(), [&](const Cloud& cloud) { return !(cloud.*places).empty(); });
  };
  Html out;
  const auto entry = [&](const SvgCanvas& swatch, const char* words) {
    out += element("span", {{"class", "key"}}, swatch.inside_page("") + text(words));
  };
  SvgCanvas meets(14.0, 12.0), fails(14.0, 12.0), listed(14.0, 12.0), range(34.0, 12.0);
  meets.dots({{7.0, 6.0}}, 4.2, meets_colour);
  fails.crosses({{7.0, 6.0}}, 2.2, {fails_colour, 0.9});
  listed.circle({7.0, 6.0}, 4.0, {"#1d2733", 1.6}, "#ffffff");
  range.rect({1.0, 1.5}, 32.0, 9.0, {"#4a5560", 1.0, "5 3"}, "none");
  if (any(&Cloud::shortlisted)) entry(listed, "shortlist");
  if (any(&Cloud::meets)) entry(meets, "meets every requirement");
  if (any(&Cloud::fails)) entry(fails, "does not");
  entry(range, "the brief's range");
  return element("div", {{"class", "legend"}}, out);
}

Html picture(const search::StudyReport& study, const Sheet& sheet) {
  const std::vector<Cloud> clouds = clouds_of(study, sheet);
  if (clouds.empty()) return {};
  const std::vector<Range> ranges = ranges_of(sheet);
  const View view = view_of(sheet, clouds, ranges);
  SvgCanvas canvas(view.width(), view.height());
  Scene scene = make_scene(sheet.layout, sheet.topped_out, nullptr);
  sketch_frame(scene, sheet.layout, sheet.topped_out);
  std::erase_if(scene.strokes, [](const Stroke& s) { return s.part == Part::ground; });
  std::erase_if(scene.discs, [](const Disc& d) { return d.part != Part::tube; });
  const std::string name = "field-" + std::to_string(sheet.rank);
  canvas.begin_clip(name, {0.0, 0.0}, canvas.width(), canvas.height());
  draw_scene(canvas, view, scene, faint_look, 1.0, true);
  draw_bottom_bracket(canvas, view.spot({}), 1.0);
  for (const Range& range : ranges) {
    const Spot corner = view.spot({range.low.x, range.high.y}), far = view.spot({range.high.x, range.low.y});
    canvas.rect(corner, far.x - corner.x, far.y - corner.y, {"#4a5560", 1.0, "5 3"}, "none");
  }
  draw_clouds(canvas, view, clouds);
  canvas.end_clip();
  std::vector<std::pair<std::string, Spot>> names;
  for (const Cloud& cloud : clouds) {
    const auto& all = sheet.layout.mechanism.point_names;
    const auto p = static_cast<std::size_t>(std::find(all.begin(), all.end(), cloud.name) - all.begin());
    names.emplace_back(cloud.name, view.spot(sheet.topped_out.points[p]));
  }
  for (const Label& label : place_labels(names, {}, 14.0, canvas.width(), canvas.height()))
    canvas.write({label.corner.x + 0.5 * label.width, label.corner.y + 0.82 * label.height}, label.words,
                 {14.0, Anchor::middle, "#1d2733", true, true});
  const std::string title = sheet.linkage.empty() ? "Kept layouts in the brief's ranges" : sheet.linkage;
  return element(
      "figure", {{"class", "drawing"}},
      element("h3", title) + canvas.inside_page(title) +
          element("figcaption",
                  legend(clouds) +
                      element("p", "Topped out, of the layouts in the charts below; behind them layout " + sheet.id +
                                       ". A range without a layout that meets every requirement "
                                       "may be moved, one with them at its edge may be worth "
                                       "widening.")));
}

}  // namespace

Html field_pictures(const search::StudyReport& study) {
  Html out;
  std::vector<std::string> done;
  for (const Sheet& sheet : study.shortlist) {
    if (std::find(done.begin(), done.end(), sheet.linkage) != done.end()) continue;
    done.push_back(sheet.linkage);
    out += picture(study, sheet);
  }
  return out.empty() ? out : element("div", {{"class", "fields"}}, out);
}

}  // namespace trammel::report
