#include "draft/moved_points.hpp"

#include <algorithm>
#include <charconv>
#include <cmath>
#include <optional>
#include <set>

#include "brief/problems.hpp"
#include "draft/onward.hpp"
#include "io/files.hpp"

namespace trammel::draft {
namespace {

/// Larger files are no drawing of a linkage.
constexpr std::size_t most_bytes = std::size_t{64} << 20;
/// As a brief allows, mm.
constexpr double farthest = 3000.0;

std::string content_of(const std::filesystem::path& file) {
  try {
    return io::read_regular(file, most_bytes);
  } catch (const io::FileFailure& failure) {
    throw NoWayOn("--points: " + file.string() + " cannot be read, as it " + failure.what());
  }
}

std::string_view bare(std::string_view cell) {
  const auto skip = [](char c) { return c == ' ' || c == '"' || c == '\r'; };
  while (!cell.empty() && skip(cell.front())) cell.remove_prefix(1);
  while (!cell.empty() && skip(cell.back())) cell.remove_suffix(1);
  return cell;
}

std::vector<std::string> cells_of(std::string_view line, char separator) {
  std::vector<std::string> cells;
  for (std::size_t at = 0; at <= line.size();) {
    const std::size_t end = std::min(line.find(separator, at), line.size());
    cells.emplace_back(bare(line.substr(at, end - at)));
    at = end + 1;
  }
  return cells;
}

std::optional<double> number_of(std::string text, bool decimal_comma) {
  if (decimal_comma) std::replace(text.begin(), text.end(), ',', '.');
  double value = 0.0;
  const char* end = text.data() + text.size();
  const auto read = std::from_chars(text.data(), end, value);
  if (read.ec != std::errc() || read.ptr != end || !std::isfinite(value)) return std::nullopt;
  return value;
}

/// Where a column stands in a header; npos when none of its names does.
std::size_t column(const std::vector<std::string>& header, std::initializer_list<const char*> names) {
  for (const char* name : names)
    if (const auto found = std::find(header.begin(), header.end(), name); found != header.end())
      return static_cast<std::size_t>(found - header.begin());
  return std::string::npos;
}

class Table {
 public:
  Table(const std::string& text, const std::string& file, const bike::Layout& layout)
      : file_(file), names_(layout.mechanism.point_names), out_{layout.mechanism.points, {}} {
    std::size_t number = 0;
    for (std::size_t from = text.starts_with("\xEF\xBB\xBF") ? 3 : 0; from < text.size();) {
      const std::size_t end = std::min(text.find('\n', from), text.size());
      const std::string_view line = std::string_view(text).substr(from, end - from);
      from = end + 1;
      ++number;
      if (bare(line).empty()) continue;
      if (x_ != std::string::npos)
        row(line, number);
      else if (!header(line))
        break;
    }
    if (x_ == std::string::npos && problems_.empty()) problems_ = "--points: " + file_ + " is empty\n";
    if (problems_.empty() && seen_.empty()) problems_ = "--points: " + file_ + " names no point\n";
    if (!problems_.empty()) throw NoWayOn(problems_);
    std::vector<std::string> left;
    for (std::size_t p = 0; p < names_.size(); ++p)
      if (!seen_.contains(p)) left.push_back(names_[p]);
    if (!left.empty()) out_.remarks.push_back(brief::join(left) + " not in " + file_ + ": left where they were");
  }

  MovedPoints moved() { return std::move(out_); }

 private:
  void problem(std::size_t line, const std::string& what) {
    problems_ += "--points: " + file_ + ":" + std::to_string(line) + ": " + what + "\n";
  }

  bool header(std::string_view line) {
    for (const char separator : {';', '\t', ','})
      if (line.find(separator) != line.npos) {
        separator_ = separator;
        break;
      }
    const std::vector<std::string> cells = cells_of(line, separator_);
    name_ = column(cells, {"point", "name"});
    const std::size_t x = column(cells, {"x_topped_out_mm", "x_mm", "x"});
    y_ = column(cells, {"y_topped_out_mm", "y_mm", "y"});
    if (name_ == std::string::npos || x == std::string::npos || y_ == std::string::npos) {
      problem(1,
              "the first line must name the columns point, x_topped_out_mm and y_topped_out_mm, as pivots.csv does; "
              "it has " +
                  brief::printable(brief::join(cells)));
      return false;
    }
    x_ = x;
    return true;
  }

  void row(std::string_view line, std::size_t number) {
    const std::vector<std::string> cells = cells_of(line, separator_);
    if (cells.size() <= std::max({name_, x_, y_})) return problem(number, "too few columns");
    const auto found = std::find(names_.begin(), names_.end(), cells[name_]);
    if (found == names_.end())
      return problem(number, "'" + brief::printable(cells[name_]) + "' is no point of the linkage; it has " +
                                 brief::join(names_) + brief::suggestion(cells[name_], names_));
    const auto point = static_cast<std::size_t>(found - names_.begin());
    if (!seen_.insert(point).second) return problem(number, *found + " is there twice");
    const auto x = number_of(cells[x_], separator_ != ','), y = number_of(cells[y_], separator_ != ',');
    if (!x || !y || std::max(std::abs(*x), std::abs(*y)) > farthest)
      return problem(number, *found + " is at '" + brief::printable(cells[x_]) + "', '" + brief::printable(cells[y_]) +
                                 "'; allowed: two numbers from -3000 to 3000, in mm");
    out_.points[point] = {*x, *y};
  }

  std::string file_;
  const std::vector<std::string>& names_;
  MovedPoints out_;
  std::string problems_;
  std::set<std::size_t> seen_;
  char separator_ = ',';
  std::size_t name_ = std::string::npos, x_ = std::string::npos, y_ = std::string::npos;
};

}  // namespace

std::vector<bike::Point> settled(std::vector<bike::Point> moved, const std::vector<bike::Point>& before) {
  // Layouts are written on a grid of a thousandth; where the shock has exactly its length, points lie off it by as
  // much.
  constexpr double rounding = 0.002;
  for (std::size_t p = 0; p < moved.size(); ++p)
    if (norm(moved[p] - before[p]) <= rounding) moved[p] = before[p];
  return moved;
}

MovedPoints moved_from_csv(const std::string& text, const std::string& file, const bike::Layout& layout) {
  MovedPoints out = Table(text, file, layout).moved();
  out.points = settled(std::move(out.points), layout.mechanism.points);
  return out;
}

MovedPoints read_moved(const std::filesystem::path& file, const bike::Layout& layout) {
  std::string ending = file.extension().string();
  for (char& c : ending) c = c >= 'A' && c <= 'Z' ? static_cast<char>(c + ('a' - 'A')) : c;
  if (ending != ".csv" && ending != ".dxf")
    throw NoWayOn("--points: " + file.string() +
                  " was given; allowed: a file that ends in .csv or .dxf, such as the "
                  "pivots.csv and drawing_mm.dxf of a study's layout");
  const std::string text = content_of(file);
  return ending == ".csv" ? moved_from_csv(text, file.string(), layout) : moved_from_dxf(text, file.string(), layout);
}

}  // namespace trammel::draft
