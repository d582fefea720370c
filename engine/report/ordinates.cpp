#include "report/ordinates.hpp"

#include <algorithm>
#include <map>

#include "report/digits.hpp"

namespace trammel::report {

namespace {

using bike::Point;

constexpr double letters = 2.5, apart = 4.5;  // mm on paper
constexpr double bend = 4.0;                  // from where an extension line leaves its direction to the number, mm
constexpr double clear = 4.0;                 // between a point and its extension line, mm

/// Numbers along one edge. `x`: those of x, below the view.
void draw_edge(DraftingSheet& sheet, const std::vector<Point>& points, Point corner, bool x) {
  // Of points with the same number the extension line starts at the nearest.
  std::map<double, Point> from;  // by the number's place on paper
  std::map<double, std::string> numbers;
  const auto add = [&](Point p) {
    const Point at = sheet.on_paper(p);
    const double along = x ? at.x : at.y, away = x ? at.y : at.x;
    const auto like = std::find_if(numbers.begin(), numbers.end(),
                                   [&](const auto& one) { return one.second == shown(x ? p.x : p.y, 2); });
    if (like == numbers.end()) {
      numbers[along] = shown(x ? p.x : p.y, 2);
      from[along] = at;
    } else if (Point& other = from[like->first]; away < (x ? other.y : other.x)) {
      other = at;
    }
  };
  add({});
  for (const Point& p : points) add(p);
  std::vector<double> wished;
  wished.reserve(from.size());
  for (const auto& [along, at] : from) wished.push_back(along);
  const std::vector<double> places = spread_apart(wished, apart);
  std::size_t i = 0;
  for (const auto& [along, at] : from) {
    const double place = places[i++];
    const Point turn = x ? Point{along, corner.y + bend} : Point{corner.x + bend, along};
    const Point end = x ? Point{place, corner.y} : Point{corner.x, place};
    sheet.line(LineKind::thin, at - (x ? Point{0.0, clear} : Point{clear, 0.0}), turn);
    sheet.line(LineKind::thin, turn, end);
    if (x)
      sheet.words(end + Point{0.5 * letters, -1.0}, numbers[along], letters, Anchor::end, 90.0);
    else
      sheet.words(end + Point{-1.0, -0.5 * letters}, numbers[along], letters, Anchor::end);
  }
}

}  // namespace

std::vector<double> spread_apart(const std::vector<double>& wished, double least) {
  struct Group {
    double first;  ///< place of its first one
    double sum;    ///< of what each wishes the first to be
    std::size_t count;
  };
  std::vector<Group> groups;
  for (const double w : wished) {
    groups.push_back({w, w, 1});
    while (groups.size() > 1) {
      const Group last = groups.back();
      Group& before = groups[groups.size() - 2];
      const double reach = least * static_cast<double>(before.count);
      if (before.first + reach <= last.first) break;
      before.sum += last.sum - reach * static_cast<double>(last.count);
      before.count += last.count;
      before.first = before.sum / static_cast<double>(before.count);
      groups.pop_back();
    }
  }
  std::vector<double> places;
  for (const Group& group : groups)
    for (std::size_t k = 0; k < group.count; ++k) places.push_back(group.first + least * static_cast<double>(k));
  return places;
}

void draw_ordinates(DraftingSheet& sheet, const std::vector<Point>& points, Point corner) {
  draw_edge(sheet, points, corner, true);
  draw_edge(sheet, points, corner, false);
}

}  // namespace trammel::report
