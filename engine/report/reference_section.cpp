// Existing layouts beside the shortlist: drawn at one scale, judged by the same targets.
#include "report/csv.hpp"
#include "report/digits.hpp"
#include "report/drawing.hpp"
#include "report/pages.hpp"
#include "report/parts.hpp"
#include "report/wording.hpp"
#include "search/chance.hpp"
#include "search/references.hpp"

namespace trammel::report {
namespace {

using objectives::Target;

std::string value_text(const Target& target, double value) {
  return quantity(value, decimals_for(target.tolerance), unit_of(target));
}

/// The target's name; of a path, that its deviation is meant.
std::string name_of(const Target& target) {
  if (!target.wish.along_path()) return target.name;
  return target.name + (target.wish.kind == objectives::Wish::Kind::follow ? ": off by" : ": above its limit by");
}

/// "below 10 of 12 (83 %)", by whichever side is the larger; "in the middle of 12" between as many below as above.
std::string stands(const search::Standing& s) {
  const auto of = [&](const char* side, std::size_t n) {
    return std::string(side) + " " + std::to_string(n) + " of " + std::to_string(s.count) + " (" +
           shown(100.0 * static_cast<double>(n) / static_cast<double>(s.count), 0) + " %)";
  };
  if (s.above == s.below) return "in the middle of " + std::to_string(s.count);
  return s.above > s.below ? of("below", s.above) : of("above", s.below);
}

Html class_table(const search::StudyReport& study) {
  const auto& targets = study.brief.targets;
  const auto& values = study.references.values;
  std::vector<std::string> head{"Target", "Judged", "Least", "10 %", "Median", "90 %", "Greatest"};
  for (const auto& sheet : study.shortlist) head.push_back("Layout " + std::to_string(sheet.rank));
  std::vector<std::vector<Html>> rows;
  for (std::size_t t = 0; t < own_targets(targets); ++t) {
    std::vector<Html> cells{head_cell(text(name_of(targets[t]))), number_cell(std::to_string(values[t].size()))};
    for (const double share : {0.0, 0.1, 0.5, 0.9, 1.0})
      cells.push_back(
          number_cell(values[t].empty() ? "–" : value_text(targets[t], search::quantile(values[t], share))));
    for (const auto& sheet : study.shortlist) {
      const double value = search::compared(targets[t], sheet.assessment.targets[t]);
      std::string words = value_text(targets[t], value);
      if (!values[t].empty()) words += ", " + stands(search::standing(values[t], value));
      cells.push_back(number_cell(words));
    }
    rows.push_back(std::move(cells));
  }
  return table("", head, rows);
}

Html drawings(const search::StudyReport& study) {
  // The class is drawn beside the best of the shortlist.
  std::vector<search::Sheet> sheets;
  std::vector<std::string> names;
  if (!study.shortlist.empty()) {
    sheets.push_back(study.shortlist.front());
    names.push_back("Layout " + std::to_string(study.shortlist.front().rank) + " of the shortlist");
  }
  for (const auto& reference : study.references.layouts) {
    sheets.push_back(reference.sheet);
    names.push_back(reference.name + ": " + reference.sheet.layout.title);
  }
  const auto figures = figures_at_one_scale(sheets);
  Html out;
  for (std::size_t i = 0; i < figures.size(); ++i)
    out += element("figure", {{"class", "drawing"}}, element("h3", std::string_view(names[i])) + figures[i]);
  return element("div", {{"class", "plots"}}, out);
}

}  // namespace

Html reference_section(const search::StudyReport& study) {
  const auto& references = study.references;
  Html out;
  if (!references.layouts.empty()) {
    const std::size_t count = references.layouts.size();
    out += element("p", text(std::to_string(count) + (count == 1 ? " existing layout was" : " existing layouts were") +
                             " judged as drawn by the targets of this study; gears are those of the study. They did "
                             "not steer the search. A table of all values is in ") +
                            link_to("references.csv", "references.csv") + text(".")) +
           element("div", {{"class", "scroll"}}, class_table(study)) + drawings(study);
  }
  for (const auto& reference : references.layouts) {
    std::string words;
    for (std::size_t t = 0; t < reference.spread.size(); ++t)
      if (const auto& spread = reference.spread[t])
        words += (words.empty() ? "" : ", ") + study.brief.targets[t].name + " " +
                 value_text(study.brief.targets[t], spread->first) + " to " +
                 value_text(study.brief.targets[t], spread->second);
    if (!words.empty())
      out +=
          element("p", {{"class", "fine"}},
                  text(reference.name +
                       " is known no better than it was measured; nine in ten such bikes lie within: " + words + "."));
  }
  for (const std::string& words : references.left_out)
    out += element("p", {{"class", "fine"}}, text("Left out: " + words + "."));
  return out;
}

Html reference_words(const search::StudyReport& study, const search::Sheet& sheet) {
  Html items;
  for (std::size_t t = 0; t < own_targets(study.brief.targets) && !study.references.layouts.empty(); ++t) {
    const auto& values = study.references.values[t];
    if (values.empty()) continue;
    const Target& target = study.brief.targets[t];
    const double value = search::compared(target, sheet.assessment.targets[t]);
    items += element(
        "li", text(name_of(target) + " " + value_text(target, value) + ": " + stands(search::standing(values, value)) +
                   "; their median is " + value_text(target, search::quantile(values, 0.5)) + "."));
  }
  return items.empty() ? Html() : element("ul", items);
}

std::string references_csv(const search::StudyReport& study) {
  std::vector<std::string> head{"name"};
  for (const Target& target : study.brief.targets) head.push_back(target.name);
  std::string out = csv_record(head);
  for (const auto& reference : study.references.layouts) {
    std::vector<std::string> record{reference.name};
    for (const auto& value : reference.achieved) record.push_back(value ? exact(*value) : "");
    out += csv_record(record);
  }
  return out;
}

}  // namespace trammel::report
