#include "report/trade_offs.hpp"

#include "report/csv.hpp"
#include "report/digits.hpp"
#include "report/parts.hpp"
#include "report/plot.hpp"
#include "report/wording.hpp"

namespace trammel::report {

namespace {

using objectives::Target;
using objectives::Wish;
using search::TradeOffPoint;
using search::TradeOffSheet;

const Target& target_of(const search::StudyReport& study, int number) {
  return study.brief.targets[static_cast<std::size_t>(number)];
}

std::string group_name(const search::StudyReport& study, const std::vector<int>& group) {
  std::string name;
  for (const int number : group) name += (name.empty() ? "" : ", ") + target_of(study, number).name;
  return name;
}

/// What a group is drawn by: a single limit on a single value by that value; of any other single target how far beyond
/// its wish it is, in its unit; of several targets, which may have different units, that over their tolerances.
struct Axis {
  std::string label;
  std::vector<std::optional<double>> values;
};

/// "±2 % of climbing, ±1 mm of feet": what the misses of a group's targets are divided by.
std::string divisors(const search::StudyReport& study, const std::vector<int>& group) {
  std::string out;
  for (const int number : group) {
    const Target& target = target_of(study, number);
    out += (out.empty() ? "" : ", ") + quantity(target.tolerance, decimals_for(target.tolerance), unit_of(target)) +
           " of " + target.name;
  }
  return out;
}

/// A group's figure in a single target's unit, or over the tolerances of several.
double beyond(const search::StudyReport& study, const std::vector<int>& group, double figure) {
  return group.size() == 1 ? figure * target_of(study, group.front()).tolerance : figure;
}
std::string beyond_label(const search::StudyReport& study, const std::vector<int>& group) {
  if (group.size() > 1) return group_name(study, group) + " [worst miss over tolerance]";
  const Target& target = target_of(study, group.front());
  return with_unit(target.name + ", beyond " + wish(target), unit_of(target));
}

Axis axis_of(const search::StudyReport& study, const TradeOffSheet& sheet, std::size_t group) {
  const auto& numbers = sheet.between[group];
  const Target& first = target_of(study, numbers.front());
  const bool limit = first.wish.kind == Wish::Kind::ceiling || first.wish.kind == Wish::Kind::floor;
  Axis axis;
  if (numbers.size() == 1 && limit && !first.over) {
    axis.label = with_unit(first.name, unit_of(first)) + ", asked for " + wish(first);
    for (const TradeOffPoint& p : sheet.points)
      axis.values.push_back(p.sheet.assessment.targets[static_cast<std::size_t>(numbers.front())].achieved);
  } else {
    axis.label = beyond_label(study, numbers);
    for (const TradeOffPoint& p : sheet.points) axis.values.push_back(beyond(study, numbers, p.figures[group]));
  }
  return axis;
}

std::string point_page(std::size_t number, std::size_t point) {
  return trade_off_folder(number) + "/" + trade_off_point_folder(point) + "/index.html";
}

/// Of the front's groups a and b; `name` is its own on the page.
Html front_plot(const search::StudyReport& study, std::size_t number, const std::string& name, std::size_t a,
                std::size_t b) {
  const TradeOffSheet& sheet = study.trade_offs[number];
  const Axis across = axis_of(study, sheet, a), up = axis_of(study, sheet, b);
  PlotFrame frame;
  frame.name = name;
  frame.title = group_name(study, sheet.between[a]) + " against " + group_name(study, sheet.between[b]);
  frame.x_label = across.label;
  frame.y_label = up.label;
  frame.x = frame.y = Span::empty();
  for (const auto& x : across.values) frame.x.hold(*x);
  for (const auto& y : up.values) frame.y.hold(*y);
  Plot plot(frame);
  for (std::size_t i = 0; i < sheet.points.size(); ++i)
    plot.station(*across.values[i], *up.values[i], std::to_string(i + 1), point_page(number, i));
  return plot.figure("Each ring is a layout, numbered as in the table; press one to open its page.");
}

Html point_table(const search::StudyReport& study, const TradeOffSheet& sheet, std::size_t number) {
  std::vector<std::string> head{"Point"};
  for (const auto& group : sheet.between) head.push_back(beyond_label(study, group));
  for (const auto& group : sheet.between)
    for (const int target : group) head.push_back(target_of(study, target).name);
  head.emplace_back("Score");
  std::vector<std::vector<Html>> rows;
  for (std::size_t i = 0; i < sheet.points.size(); ++i) {
    const TradeOffPoint& point = sheet.points[i];
    std::vector<Html> row{head_cell(link_to(point_page(number, i), std::to_string(i + 1)))};
    for (std::size_t g = 0; g < point.figures.size(); ++g) {
      const std::vector<int>& group = sheet.between[g];
      const double tolerance = group.size() == 1 ? target_of(study, group.front()).tolerance : 0.1;
      row.push_back(number_cell(shown(beyond(study, group, point.figures[g]), decimals_for(tolerance))));
    }
    for (const auto& group : sheet.between)
      for (const int target : group)
        row.push_back(number_cell(
            outcome(target_of(study, target), point.sheet.assessment.targets[static_cast<std::size_t>(target)])));
    row.push_back(number_cell(significant(point.sheet.assessment.score, 4)));
    rows.push_back(std::move(row));
  }
  return table("", head, rows);
}

Html one(const search::StudyReport& study, std::size_t number) {
  const TradeOffSheet& sheet = study.trade_offs[number];
  Html out = element("h3", trade_off_name(study, sheet) + (sheet.linkage.empty() ? "" : ": " + sheet.linkage));
  if (sheet.points.empty())
    return out + element("p", "No layout was found that meets what the front demands, so there is nothing to show.");
  if (sheet.points.size() == 1) {
    out += element("p", "There is nothing to trade: one layout is best in all groups at once.");
    return out + point_table(study, sheet, number);
  }
  std::string words =
      std::to_string(sheet.points.size()) + " layouts that meet every requirement" +
      (sheet.keep_wishes ? " and the preferences of all other targets" : "") +
      ", of which none can be bettered in one group without giving way in another; each "
      "is "
      "the end of a refinement of its own. Resolution " +
      exact(sheet.resolution) + " of the ranges that the front spans: neighbours lie " + shown(sheet.spread.least, 3) +
      " to " + shown(sheet.spread.most, 3) + " apart, " + shown(sheet.spread.mean, 3) +
      " on average, standard deviation " + shown(sheet.spread.deviation, 3) +
      "; a wider gap is one in which nothing was found. Hypervolume " + shown(sheet.hypervolume, 3) +
      " of the box between the best and the worst of each group. " + grouped(sheet.evaluations) + " evaluations.";
  out += element("p", std::string_view(words));
  const std::size_t groups = sheet.between.size();
  Html plots;
  for (std::size_t a = 0; a < groups; ++a)
    for (std::size_t b = a + 1; b < groups; ++b)
      plots += front_plot(study, number,
                          "trade-off-" + std::string(1, static_cast<char>('a' + number % 26)) +
                              std::string(number / 26, 'z') + "-" + std::string(1, static_cast<char>('a' + a)) +
                              std::string(1, static_cast<char>('a' + b)),
                          a, b);
  out += element("div", {{"class", "plots"}}, plots) + point_table(study, sheet, number);
  return out + element("p", link_to(trade_off_folder(number) + ".csv", trade_off_folder(number) + ".csv"));
}

}  // namespace

std::string trade_off_name(const search::StudyReport& study, const TradeOffSheet& sheet) {
  std::string out;
  for (const auto& group : sheet.between) out += (out.empty() ? "" : " against ") + group_name(study, group);
  return out;
}
std::string trade_off_folder(std::size_t number) {
  return "trade_offs/" + std::to_string(number + 1);
}
std::string trade_off_point_folder(std::size_t point) {
  return (point < 9 ? "0" : "") + std::to_string(point + 1);
}

Html trade_offs(const search::StudyReport& study) {
  Html out;
  for (std::size_t i = 0; i < study.trade_offs.size(); ++i) out += one(study, i);
  if (out.empty()) return out;
  std::string several;
  for (const TradeOffSheet& sheet : study.trade_offs)
    for (const auto& group : sheet.between)
      if (group.size() > 1 && several.find(divisors(study, group)) == several.npos)
        several += (several.empty() ? "" : "; ") + divisors(study, group);
  return out + element("p", {{"class", "fine"}},
                       text("A target counts by how far it is beyond what is asked for; negative = inside." +
                            (several.empty()
                                 ? ""
                                 : " A group of several targets counts by the one that comes out worst, each over "
                                   "its tolerance, so that different units compare: 1 is a miss of " +
                                       several + ".") +
                            " Every point has a page and files as a shortlisted layout has."));
}

std::string trade_off_csv(const search::StudyReport& study, const TradeOffSheet& sheet) {
  std::vector<std::string> record{"point"};
  for (const auto& group : sheet.between) record.push_back(beyond_label(study, group));
  for (const auto& target : study.brief.targets) record.push_back(with_unit(target.name, unit_of(target)));
  for (const auto& varied : sheet.varied) record.push_back(with_unit(varied.name, varied.unit));
  std::string out = csv_record(record);
  for (std::size_t i = 0; i < sheet.points.size(); ++i) {
    const TradeOffPoint& point = sheet.points[i];
    record = {std::to_string(i + 1)};
    for (std::size_t g = 0; g < point.figures.size(); ++g)
      record.push_back(exact(beyond(study, sheet.between[g], point.figures[g])));
    for (const auto& verdict : point.sheet.assessment.targets) record.push_back(exact(verdict.achieved));
    for (const auto& varied : point.sheet.varied) record.push_back(exact(varied.value));
    out += csv_record(record);
  }
  return out;
}

}  // namespace trammel::report
