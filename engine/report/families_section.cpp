// Families of layouts: which lead over into one another, and how far each varied number goes in each.
#include <algorithm>
#include <cmath>
#include <numeric>

#include "report/choices.hpp"
#include "report/digits.hpp"
#include "report/pages.hpp"
#include "report/parts.hpp"
#include "report/svg_canvas.hpp"
#include "report/wording.hpp"

namespace trammel::report {

namespace {

using search::Family;
using search::FamilyExtent;

/// Families with a table of their own; of the rest only the sum is told.
constexpr std::size_t most_shown = 12;
constexpr const char* line_ink = "#7b8794";
constexpr const char* shown_ink = "#9db4c9";
constexpr const char* found_ink = "#1d2733";

std::string families_counted(std::size_t n) {
  return n == 1 ? "one family" : grouped(static_cast<long long>(n)) + " families";
}

/// The brief's range as a line; on it what was found, dark, and what paths show beyond it, light.
Html bar_of(const FamilyExtent& extent) {
  constexpr double left = 4.0, width = 112.0, level = 7.0;
  const double range = extent.hi - extent.lo;
  const auto at = [&](double value) {
    return left + width * (range > 0.0 ? std::clamp((value - extent.lo) / range, 0.0, 1.0) : 0.5);
  };
  SvgCanvas bar(120.0, 14.0);
  bar.line({left, level}, {left + width, level}, {line_ink, 1.2, ""});
  for (const double x : {left, left + width}) bar.line({x, 2.5}, {x, 11.5}, {line_ink, 1.2, ""});
  bar.line({at(extent.shown_lo), level}, {at(extent.shown_hi), level}, {shown_ink, 7.0, ""});
  bar.line({at(extent.found_lo), level}, {at(extent.found_hi), level}, {found_ink, 3.0, ""});
  return bar.inside_page("");
}

/// Inwards to a tenth, so that no value is promised that was not shown.
std::string stretch(double lo, double hi, std::string_view unit) {
  constexpr double tenths = 10.0, dust = 1e-6;
  const double from = std::ceil(lo * tenths - dust) / tenths, to = std::floor(hi * tenths + dust) / tenths;
  if (from > to) return quantity(0.5 * (lo + hi), 2, unit);
  return shown(from, 1) + " to " + quantity(to, 1, unit);
}

Html extent_table(const Family& family) {
  std::vector<std::vector<Html>> rows;
  for (const FamilyExtent& e : family.extents) {
    const double dust = 0.005 * (e.hi - e.lo);
    const bool low = e.shown_lo - e.lo < dust, high = e.hi - e.shown_hi < dust;
    const std::string note = low && high ? "the whole range"
                             : low       ? "down to the range's end"
                             : high      ? "up to the range's end"
                                         : "";
    rows.push_back({head_cell(text(e.name)), number_cell(stretch(e.shown_lo, e.shown_hi, e.unit)),
                    number_cell(stretch(e.found_lo, e.found_hi, e.unit)), element("td", bar_of(e)),
                    number_cell(shown(e.lo, 1) + " to " + quantity(e.hi, 1, e.unit)), cell(note)});
  }
  return table("", {"Varied", "May lie from … to", "In the layouts found", "Place", "The brief's range", "Note"}, rows);
}

/// "Four-bar, shock 210 × 55": what sets a family apart from those of other linkages and choices.
std::string marks_of(const search::StudyReport& study, const Family& family) {
  std::string words = family.linkage;
  const std::vector<std::string> lists = offered(study.brief), values = chosen(study.brief, family.layout);
  for (std::size_t i = 0; i < lists.size(); ++i)
    if (!values[i].empty()) words += (words.empty() ? "" : ", ") + lists[i] + " " + values[i];
  if (family.assemblies > 1)
    words += (words.empty() ? "" : ", ") + std::string("way of assembly ") + std::to_string(family.assembly) + " of " +
             std::to_string(family.assemblies);
  return words;
}

Html facts_of(const search::StudyReport& study, const Family& family) {
  const auto n = static_cast<long long>(family.members.size());
  std::string words = grouped(n) + (n == 1 ? " layout was found in it" : " layouts were found in it");
  const std::string distance = exact(study.brief.search.distinct);
  if (n > 1)
    words += family.apart == 1 ? ", all within " + distance + " of the first"
                               : "; " + grouped(family.apart) + " of them lie at least " + distance +
                                     " from one another, which tells how widely they are spread";
  Html out = text(words + ". Its best is layout ");
  const auto sheet = std::find_if(study.shortlist.begin(), study.shortlist.end(),
                                  [&](const search::Sheet& s) { return s.id == family.best; });
  out += sheet == study.shortlist.end() ? text(family.best)
                                        : link_to("layouts/" + folder_of(*sheet) + "/index.html", family.best);
  out += text(", score " + significant(family.score, 4) + ", margin " + shown(family.margin, 3) + ".");
  if (family.shortlisted.empty()) return out + text(" None of it is on the shortlist.");
  std::string ranks;
  for (const int rank : family.shortlisted) ranks += (ranks.empty() ? "" : ", ") + std::to_string(rank);
  return out + text(" On the shortlist: " + ranks + ".");
}

/// What belongs together, how it was found out and what that is worth.
Html account_of(const search::Families& all) {
  const auto families = static_cast<std::int64_t>(all.families.size());
  std::string words =
      "Layouts are of one family when one can be changed into the other step by step, every requirement kept on that "
      "path. ";
  if (all.looked_at == 1)
    words += "One layout meets every requirement.";
  else if (families == 1)
    words += "Such paths join all " + grouped(all.looked_at) + " layouts that were looked at.";
  else
    words += "The " + grouped(all.looked_at) + " layouts that were looked at make " + grouped(families) + " families.";
  if (all.sorts > 1)
    words += " Those of another linkage, choice or way of assembly are of another family by definition.";
  if (families > all.sorts)
    words += std::string(" Between families ") + (all.sorts > 1 ? "alike in these " : "") +
             "no such path was found: they are not joined by the paths tried, which does not prove them apart.";
  words +=
      " A path leads straight from layout to layout, or straight to one waypoint and on; every requirement was "
      "checked in " +
      std::to_string(all.places) + " places between its ends, and it counts when all of them hold. " +
      grouped(all.paths) + (all.paths == 1 ? " path was" : " paths were") + " tried.";
  if (all.looked_at < all.feasible)
    words += " Of " + grouped(all.feasible) +
             " layouts that meet every requirement these are the first of each linkage, choice and way of assembly, "
             "and those "
             "on the shortlist.";
  if (!all.all_tried) words += " There were more pairs of families than paths are tried for.";
  words += all.unseen > 0.0 ? " By the families met only once, about " + significant(100.0 * all.unseen, 2) +
                                  " % of further refinements would end in one not yet seen."
                            : " Every family was met more than once, so hardly any further refinement should end in "
                              "one not yet seen.";
  return element("p", words);
}

}  // namespace

std::string families_in_short(const search::Families& all) {
  if (all.families.empty()) return "";
  return all.families.size() == 1
             ? "They are one family: each can be changed into any other step by step with every requirement kept."
             : "They make " + families_counted(all.families.size()) + ", described below.";
}

Html families_section(const search::StudyReport& study) {
  const search::Families& all = study.families;
  Html out = account_of(all);
  const std::size_t shown_here = std::min(most_shown, all.families.size());
  for (std::size_t f = 0; f < shown_here; ++f) {
    const Family& family = all.families[f];
    const std::string marks = marks_of(study, family);
    out += element("h3", "Family " + std::to_string(f + 1) + (marks.empty() ? "" : ": " + marks));
    out += element("p", facts_of(study, family));
    const Attributes open = f == 0 ? Attributes{{"open", ""}} : Attributes{};
    out +=
        element("details", open, element("summary", "Between which values each number may lie") + extent_table(family));
  }
  if (shown_here < all.families.size()) {
    const auto layouts =
        std::accumulate(all.families.begin() + static_cast<std::ptrdiff_t>(shown_here), all.families.end(),
                        std::size_t{0}, [](std::size_t sum, const Family& f) { return sum + f.members.size(); });
    out +=
        element("p", "Another " + families_counted(all.families.size() - shown_here) + " with " +
                         grouped(static_cast<long long>(layouts)) + " layouts in all, whose best come behind these.");
  }
  return section("Families",
                 out + element("p", {{"class", "fine"}},
                               text("May lie: one value at a time, from the layouts found and as far beyond as a "
                                    "path was found to lead, the others giving way; not all at once. Dark: in "
                                    "the layouts found. Light: beyond them. What lies further may be possible, too.")));
}

}  // namespace trammel::report
