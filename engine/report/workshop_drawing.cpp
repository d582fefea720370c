#include "report/workshop_drawing.hpp"

#include <algorithm>
#include <array>
#include <utility>

#include "bike/table.hpp"
#include "brief/problems.hpp"
#include "brief/units.hpp"
#include "linkage/mechanism.hpp"
#include "report/centres.hpp"
#include "report/csv.hpp"
#include "report/digits.hpp"
#include "report/ordinates.hpp"
#include "report/scene.hpp"
#include "report/view.hpp"
#include "report/wording.hpp"

namespace trammel::report {

namespace {

using bike::Layout;
using bike::Point;

constexpr double small = 2.5, large = 5.0;  // heights of letters, mm
constexpr double row = 5.0;                 // height of a table's row, mm
constexpr double gap = 5.0;
constexpr double title_width = 150.0, title_height = 48.0;
constexpr double pivot_mark = 3.0, point_mark = 1.5;  // radii on paper, mm
constexpr double beside = 30.0, below = 20.0;         // room for ordinates, mm on paper

struct Column {
  double width = 0.0;  ///< mm
  bool numbers = false;
};

/// A table of words: its columns, and its rows from the top, the head first.
struct Table {
  std::vector<Column> columns;
  std::vector<std::vector<std::string>> rows;
  double width() const {
    double sum = 0.0;
    for (const Column& column : columns) sum += column.width;
    return sum;
  }
  double height() const { return row * static_cast<double>(rows.size()); }
};

/// Height at which words go into a width: that wished for, or less. An average letter is 0.75 of a capital's height
/// wide.
double fitting(const std::string& words, double height, double width) {
  return std::min(height, width / (0.75 * static_cast<double>(std::max<std::size_t>(words.size(), 1))));
}

void draw(DraftingSheet& sheet, const Table& table, Point corner) {
  sheet.box(LineKind::thin, corner, table.width(), table.height());
  double x = corner.x;
  for (std::size_t c = 0; c < table.columns.size(); ++c) {
    const auto [width, numbers] = table.columns[c];
    if (c > 0) sheet.line(LineKind::thin, {x, corner.y}, {x, corner.y + table.height()});
    for (std::size_t r = 0; r < table.rows.size(); ++r) {
      const double y = corner.y + table.height() - row * static_cast<double>(r + 1);
      if (c == 0 && r > 0) sheet.line(LineKind::thin, {corner.x, y + row}, {corner.x + table.width(), y + row});
      const std::string& words = table.rows[r][c];
      sheet.words({numbers ? x + width - 1.0 : x + 1.0, y + 0.25 * row}, words, fitting(words, small, width - 2.0),
                  numbers ? Anchor::end : Anchor::start);
    }
    x += width;
  }
}

std::string plus_minus(Point error) {
  const std::string x = significant(error.x, 3);
  return error.x == error.y ? x : x + ", " + significant(error.y, 3);
}

/// A length of a table, with that in inches behind it in brackets where both are asked for.
std::string length(double mm, bool inches_too) {
  return inches_too ? shown(mm, 2) + " (" + shown(mm / brief::mm_per_inch, 4) + ")" : shown(mm, 2);
}

/// Every point: where its hole goes.
Table holes(const Layout& layout, const DrawingTerms& terms) {
  const brief::Tolerances* tolerances = terms.tolerances;
  const double width = terms.inches_too ? 36.0 : 18.0;
  Table table{{{28.0}, {width, true}, {width, true}, {50.0}}, {{"point", "x", "y", "joins"}}};
  if (tolerances != nullptr) {
    table.columns.insert(table.columns.begin() + 3, Column{20.0, true});
    table.rows.front().insert(table.rows.front().begin() + 3, "± of x, y");
  }
  const auto& mechanism = layout.mechanism;
  for (std::size_t p = 0; p < mechanism.points.size(); ++p) {
    std::vector<std::string> joins = members_at(layout, static_cast<int>(p));
    const auto eye = static_cast<int>(p);
    if (layout.shock && (mechanism.drive.a == eye || mechanism.drive.b == eye)) joins.emplace_back("shock");
    std::vector<std::string> cells{mechanism.point_names[p], length(mechanism.points[p].x, terms.inches_too),
                                   length(mechanism.points[p].y, terms.inches_too), brief::join(joins)};
    if (tolerances != nullptr) cells.insert(cells.begin() + 3, plus_minus(tolerances->points[p]));
    table.rows.push_back(std::move(cells));
  }
  return table;
}

/// Every moving member: its centres' distances; and the shock.
Table lengths(const Layout& layout, bool inches_too) {
  Table table{{{28.0}, {42.0}, {inches_too ? 36.0 : 18.0, true}}, {{"part", "centres", inches_too ? "mm (in)" : "mm"}}};
  for (const CentreDistance& one : centre_distances(layout))
    if (!one.frame) table.rows.push_back({one.member, one.from + " – " + one.to, length(one.distance, inches_too)});
  if (layout.shock) {
    table.rows.push_back({"shock", "eye to eye", length(layout.shock->length, inches_too)});
    table.rows.push_back({"shock", "stroke", length(layout.shock->stroke, inches_too)});
  }
  return table;
}

void draw_title(DraftingSheet& sheet, Point corner, const std::string& scale, const DrawingTitle& title) {
  sheet.box(LineKind::border, corner, title_width, title_height);
  const auto rule = [&](double y) {
    sheet.line(LineKind::thin, corner + Point{0.0, y}, corner + Point{title_width, y});
  };
  const auto cell = [&](double x, double y, const std::string& label, const std::string& words, double width) {
    sheet.words(corner + Point{x + 1.0, y + 6.0}, label, 1.8);
    sheet.words(corner + Point{x + 1.0, y + 1.5}, words, fitting(words, small, width - 2.0));
  };
  for (const double y : {9.0, 18.0, 27.0, 36.0}) rule(y);
  const std::string first = title.number + (title.of.empty() ? "" : ", " + title.of);
  sheet.words(corner + Point{1.0, 39.0}, title.title, fitting(title.title, large, title_width - 2.0));
  cell(0.0, 27.0, "layout", first, 100.0);
  cell(100.0, 27.0, "scale", scale, 25.0);
  cell(125.0, 27.0, "sheet", sheet.paper().name, 25.0);
  cell(0.0, 18.0, "from", title.source, title_width);
  double x = 0.0;
  for (const char* label : {"drawn", "checked", "released"}) {
    cell(x, 9.0, std::string(label) + ", name and date", "", 50.0);
    if (x > 0.0) sheet.line(LineKind::thin, corner + Point{x, 9.0}, corner + Point{x, 18.0});
    x += 50.0;
  }
  sheet.words(corner + Point{1.0, 5.5}, "Kinematics only: strength, fatigue, brakes and tyre room are proved by", 2.0);
  sheet.words(corner + Point{1.0, 1.5}, "ISO 4210, the law where it is sold, and a qualified engineer.", 2.0);
}

void draw_part(DraftingSheet& sheet, const Layout& layout, const bike::Pose& topped_out) {
  const Scene scene = make_scene(layout, topped_out, nullptr);
  for (const Stroke& stroke : scene.strokes) {
    if (stroke.part != Part::link && stroke.part != Part::shock)
      continue;  // no more is known of the frame than its holes
    const auto at = [&](std::size_t i) { return sheet.on_paper(stroke.points[i % stroke.points.size()]); };
    for (std::size_t i = 0; i + (stroke.closed ? 0 : 1) < stroke.points.size(); ++i)
      sheet.line(LineKind::outline, at(i), at(i + 1));
  }
  const auto cross = [&](Point at, double reach) {
    sheet.line(LineKind::centre, at - Point{reach, 0.0}, at + Point{reach, 0.0});
    sheet.line(LineKind::centre, at - Point{0.0, reach}, at + Point{0.0, reach});
  };
  for (const Joint& joint : scene.joints) {
    const Point at = sheet.on_paper(joint.at);
    sheet.circle(LineKind::outline, at, joint.pivot ? pivot_mark : point_mark);
    cross(at, joint.pivot ? 2.0 * pivot_mark : 2.0 * point_mark);
    sheet.words(at + Point{pivot_mark + 1.0, pivot_mark + 1.0}, joint.name, small);
  }
  const Point bottom_bracket = sheet.on_paper({});
  sheet.circle(LineKind::adjacent, bottom_bracket, 2.0 * pivot_mark);
  cross(bottom_bracket, 3.0 * pivot_mark);
  sheet.words(bottom_bracket + Point{-2.0 * pivot_mark - 1.0, 1.0}, "bottom bracket", small, Anchor::end);
}

/// What the sheet holds beside the view.
struct Tables {
  Table holes, lengths;
  double height() const { return std::max({holes.height(), lengths.height(), title_height}); }
};

/// The origin on paper where everything has its room; false where the paper is too small.
bool arranged(const Extent& part, const Tables& tables, const Paper& paper, double reduction, Point& origin) {
  const double width = part.x.size() / reduction, height = part.y.size() / reduction;
  const double low = Paper::edge + tables.height() + gap + below, left = Paper::left + beside;
  const double room_across = paper.width - Paper::edge - beside - left,
               room_up = paper.height - Paper::edge - gap - low;
  const double beneath = tables.holes.width() + tables.lengths.width() + title_width + 2.0 * gap;
  origin = Point{left + 0.5 * (room_across - width), low + 0.5 * (room_up - height)} -
           Point{part.x.lo, part.y.lo} * (1.0 / reduction);
  return width <= room_across && height <= room_up && beneath <= paper.width - Paper::edge - Paper::left;
}

DraftingSheet empty_sheet(const Extent& part, const Tables& tables, double& reduction) {
  constexpr Paper a3{}, a2{"A2", 594.0, 420.0};
  constexpr std::array<std::pair<Paper, double>, 4> choices{{{a3, 2.0}, {a2, 2.0}, {a3, 5.0}, {a2, 5.0}}};
  Point origin;
  for (const auto& [paper, by] : choices) {
    reduction = by;
    if (arranged(part, tables, paper, by, origin)) return {paper, by, origin};
  }
  return {a2, reduction, origin};  // crowded, yet all is on it
}

}  // namespace

DraftingSheet workshop_drawing(const Layout& layout, const bike::Pose& topped_out, const DrawingTerms& terms,
                               const DrawingTitle& title) {
  Extent part;
  part.hold({});
  for (const Point& p : layout.mechanism.points) part.hold(p);
  const Tables tables{holes(layout, terms), lengths(layout, terms.inches_too)};
  double reduction = 0.0;
  DraftingSheet sheet = empty_sheet(part, tables, reduction);
  const Paper& paper = sheet.paper();
  const Point corner{Paper::left, Paper::edge};
  sheet.box(LineKind::border, corner, paper.width - Paper::left - Paper::edge, paper.height - 2.0 * Paper::edge);
  draw(sheet, tables.holes, corner);
  draw(sheet, tables.lengths, corner + Point{tables.holes.width() + gap, 0.0});
  const std::string scale = "1 : " + shown(reduction, 0);
  draw_title(sheet, {paper.width - Paper::edge - title_width, Paper::edge}, scale, title);
  draw_part(sheet, layout, topped_out);
  const double low = sheet.on_paper({part.x.lo, part.y.lo}).y, left = sheet.on_paper({part.x.lo, part.y.lo}).x;
  draw_ordinates(sheet, layout.mechanism.points, {left - 12.0, low - 8.0});
  const Point notes{Paper::left + gap, paper.height - Paper::edge - gap};
  double y = notes.y;
  for (const std::string& note :
       {std::string(
            "Side view from the drive side, topped out. Lengths in mm from the bottom bracket: x forward, y up.") +
            (terms.inches_too ? " In brackets in inches, for reference." : ""),
        terms.tolerances == nullptr ? std::string("Tolerances: none in the brief; the maker's own hold.")
                                    : std::string("Tolerances of points as in the table, each of x and of y.")})
    sheet.words({notes.x, y -= row}, note, small);
  return sheet;
}

std::vector<std::string> workshop_names(const search::Sheet& sheet) {
  if (sheet.cases.empty()) return {"workshop"};
  std::vector<std::string> out;
  for (const search::CaseSheet& one : sheet.cases) out.push_back("workshop-" + one.name);
  return out;
}

std::vector<DraftingSheet> workshop_drawings(const search::StudyReport& study, const search::Sheet& sheet,
                                             const Standing& standing) {
  const DrawingTerms terms{study.brief.tolerances ? &*study.brief.tolerances : nullptr, study.brief.inches_too};
  DrawingTitle title{drawing_name(sheet), standing.title, "",
                     "study " + study.summary.study + ", " + standing.counted + " " + standing.place + ", engine " +
                         study.summary.engine_version};
  std::vector<DraftingSheet> out;
  if (sheet.cases.empty()) out.push_back(workshop_drawing(sheet.layout, sheet.topped_out, terms, title));
  for (const search::CaseSheet& one : sheet.cases) {
    title.of = one.name;
    const bike::Pose topped_out = bike::trace(one.layout, 2, true).poses.front();
    out.push_back(workshop_drawing(one.layout, topped_out, terms, title));
  }
  return out;
}

}  // namespace trammel::report
