// Points of a drawing in DXF, as CAD programs save it (ASCII; the layers are those that report/dxf.cpp writes).
#include <algorithm>
#include <charconv>
#include <cmath>
#include <limits>
#include <map>
#include <optional>

#include "brief/problems.hpp"
#include "brief/scalar.hpp"
#include "draft/moved_points.hpp"
#include "draft/onward.hpp"
#include "report/dxf.hpp"

namespace trammel::draft {
namespace {

using bike::Point;

/// Closer than this is the same place, mm.
constexpr double same_place = 0.02;
/// A mark is taken for a point's when any other is so many times as far.
constexpr double clearly_nearer = 2.0;
constexpr double farthest = 3000.0;

std::string place(const Point& p) {
  return brief::rounded_text(p.x) + ", " + brief::rounded_text(p.y);
}

struct Entity {
  std::string kind, layer, words;
  Point at;
};

/// The entities of a drawing, and its unit.
class Drawing {
 public:
  explicit Drawing(const std::string& text) : text_(text) {
    int code = 0;
    std::string value, section, variable;
    while (pair(code, value)) {
      if (code == 0) {
        if (value == "SECTION" || value == "ENDSEC") section.clear();
        if (section == "ENTITIES") entities.push_back({value, "", "", {}});
        awaits_ = value == "SECTION";
      } else if (code == 2 && awaits_) {
        section = value;
        awaits_ = false;
      } else if (section == "HEADER") {
        if (code == 9) variable = value;
        if (code == 70 && variable == "$INSUNITS") unit = value;
      } else if (section == "ENTITIES" && !entities.empty()) {
        take(code, value, entities.back());
      }
    }
  }

  std::vector<Entity> entities;
  std::string unit;  ///< number of $INSUNITS; empty where it has none
  std::string flaw;  ///< why the text is no drawing

 private:
  std::string line() {
    const std::size_t end = std::min(text_.find('\n', at_), text_.size());
    std::string out = text_.substr(at_, end - at_);
    at_ = end + 1;
    ++number_;
    while (!out.empty() && (out.back() == '\r' || out.back() == ' ')) out.pop_back();
    return out.substr(std::min(out.find_first_not_of(' '), out.size()));
  }

  bool pair(int& code, std::string& value) {
    if (at_ >= text_.size() || !flaw.empty()) return false;
    const std::string digits = line();
    if (digits.empty() && at_ >= text_.size()) return false;
    const auto read = std::from_chars(digits.data(), digits.data() + digits.size(), code);
    if (read.ec != std::errc() || read.ptr != digits.data() + digits.size()) {
      flaw = ":" + std::to_string(number_) + ": '" + brief::printable(digits) +
             "' is no group code; save the drawing as DXF in text form (ASCII)";
      return false;
    }
    if (at_ >= text_.size()) {
      flaw = ":" + std::to_string(number_) + ": the drawing ends behind the group code " + digits +
             ", without its value; it was cut off, so save it again";
      return false;
    }
    value = line();
    return true;
  }

  void take(int code, const std::string& value, Entity& entity) {
    if (code == 8) entity.layer = value;
    if (code == 1) entity.words = value;
    if (code != 10 && code != 20) return;
    double number = 0.0;
    const char* const end = value.data() + value.size();
    const auto read = std::from_chars(value.data(), end, number);
    if (read.ec != std::errc() || read.ptr != end || !std::isfinite(number)) {
      flaw = ":" + std::to_string(number_) + ": '" + brief::printable(value) +
             "' is no coordinate; allowed: a number with a decimal point, in mm";
      return;
    }
    (code == 10 ? entity.at.x : entity.at.y) = number;
  }

  const std::string& text_;
  std::size_t at_ = 0;
  std::size_t number_ = 0;
  bool awaits_ = false;
};

/// Gives each point of the layout one of the marks.
class Matching {
 public:
  Matching(const Drawing& drawing, const bike::Layout& layout)
      : names_(layout.mechanism.point_names), old_(layout.mechanism.points), given_(old_.size()) {
    Point origin{};
    int origins = 0;
    for (const Entity& e : drawing.entities) {
      if (e.kind == "POINT" && e.layer == report::pivot_layer) marks_.push_back(e.at);
      if (e.kind == "CIRCLE" && e.layer == report::pivot_layer) circles_.push_back(e.at);
      if (e.kind == "POINT" && e.layer == report::name_layer && ++origins > 0) origin = e.at;
      if ((e.kind == "TEXT" || e.kind == "MTEXT") && e.layer == report::name_layer)
        texts_.emplace(e.words, e.at - report::name_offset());
    }
    if (marks_.empty()) marks_ = circles_;
    if (origins == 1 && norm(origin) > same_place) {
      remarks.push_back("the drawing's bottom bracket lies at " + place(origin) + "; its points are taken from there");
      for (auto* list : {&marks_, &circles_})
        for (Point& p : *list) p = p - origin;
      for (auto& [name, at] : texts_) at = at - origin;
    }
    if (origins > 1) problem("several points lie on the layer NAMES, of which only the bottom bracket may be one");
    check();
    if (problems.empty()) match();
    if (problems.empty()) check_circles();
  }

  std::vector<Point> points() const {
    std::vector<Point> out;
    for (const auto& mark : given_) out.push_back(marks_[*mark]);
    return settled(std::move(out), old_);
  }

  std::vector<std::string> remarks;
  std::vector<std::string> problems;

 private:
  void problem(const std::string& what) { problems.push_back(what); }

  void check() {
    if (marks_.size() != old_.size())
      problem(std::to_string(marks_.size()) + " points lie on the layer " + std::string(report::pivot_layer) +
              ", and the layout has " + std::to_string(old_.size()) + ": " + brief::join(names_));
    for (const Point& p : marks_)
      if (!(std::abs(p.x) <= farthest && std::abs(p.y) <= farthest))
        problem("a point lies at " + place(p) + "; allowed: up to 3000 mm from the bottom bracket");
    for (const auto& [name, p] : texts_)
      if (!(std::abs(p.x) <= farthest && std::abs(p.y) <= farthest))
        problem("the name " + brief::printable(name) + " lies at " + place(p + report::name_offset()) +
                "; allowed: up to 3000 mm from the bottom bracket");
  }

  bool taken(std::size_t mark) const {
    return std::find(given_.begin(), given_.end(), std::optional(mark)) != given_.end();
  }

  /// The one free mark at a place; nothing where there is none or more than one.
  std::optional<std::size_t> only_mark_at(const Point& p) const {
    std::optional<std::size_t> found;
    for (std::size_t m = 0; m < marks_.size(); ++m)
      if (!taken(m) && norm(marks_[m] - p) < same_place) {
        if (found) return std::nullopt;
        found = m;
      }
    return found;
  }

  /// Where a point's name says that it is; where it was, when there is no such name or several.
  Point said_at(std::size_t point) const {
    const auto range = texts_.equal_range(names_[point]);
    return std::distance(range.first, range.second) == 1 ? range.first->second : old_[point];
  }

  void match() {
    for (std::size_t p = 0; p < given_.size(); ++p) given_[p] = only_mark_at(said_at(p));
    for (std::size_t p = 0; p < given_.size(); ++p)
      if (!given_[p]) given_[p] = only_mark_at(old_[p]);
    // The nearest pair first, as long as nothing else comes near it.
    for (;;) {
      std::optional<std::pair<std::size_t, std::size_t>> best;
      double least = std::numeric_limits<double>::infinity();
      for (std::size_t p = 0; p < given_.size(); ++p)
        for (std::size_t m = 0; m < marks_.size() && !given_[p]; ++m)
          if (const double far = norm(marks_[m] - said_at(p)); !taken(m) && far < least) {
            least = far;
            best = {p, m};
          }
      if (!best) return;
      if (!clear(best->first, best->second, least)) {
        problem("which of the moved points is " + names_[best->first] +
                " cannot be told; move its name along with it, or give the coordinates as CSV");
        return;
      }
      given_[best->first] = best->second;
    }
  }

  bool clear(std::size_t point, std::size_t mark, double far) const {
    for (std::size_t p = 0; p < given_.size(); ++p)
      if (p != point && !given_[p] && norm(marks_[mark] - said_at(p)) < clearly_nearer * far) return false;
    for (std::size_t m = 0; m < marks_.size(); ++m)
      if (m != mark && !taken(m) && norm(marks_[m] - said_at(point)) < clearly_nearer * far) return false;
    return true;
  }

  /// A circle that was moved without its point, or left behind by it.
  void check_circles() {
    for (const Point& centre : circles_) {
      const bool at_mark = std::any_of(marks_.begin(), marks_.end(),
                                       [&](const Point& mark) { return norm(mark - centre) < same_place; });
      if (at_mark) continue;
      problem("a circle on the layer " + std::string(report::pivot_layer) + " lies at " + place(centre) +
              ", where no point is; move a pivot's circle and point together, or take the circle out");
    }
  }

  const std::vector<std::string>& names_;
  const std::vector<Point>& old_;
  std::vector<Point> marks_, circles_;
  std::multimap<std::string, Point> texts_;
  std::vector<std::optional<std::size_t>> given_;
};

}  // namespace

MovedPoints moved_from_dxf(const std::string& text, const std::string& file, const bike::Layout& layout) {
  const Drawing drawing(text);
  const std::string at = "--points: " + file;
  if (!drawing.flaw.empty()) throw NoWayOn(at + drawing.flaw + "\n");
  // AC1009 has no units; later forms number them: 0 none, 4 millimetres.
  if (!drawing.unit.empty() && drawing.unit != "0" && drawing.unit != "4")
    throw NoWayOn(at + ": the drawing's unit ($INSUNITS) is number " + brief::printable(drawing.unit) +
                  "; allowed: millimetres (4) or none (0)\n");
  const Matching matching(drawing, layout);
  std::string problems;
  for (const std::string& problem : matching.problems) problems.append(at).append(": ").append(problem).append("\n");
  if (!problems.empty()) throw NoWayOn(problems);
  return {matching.points(), matching.remarks};
}

}  // namespace trammel::draft
