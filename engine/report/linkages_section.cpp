// The account of the linkages that a brief names: which can meet it, which cannot and why, and what each one costs.
#include <algorithm>
#include <span>

#include "report/csv.hpp"
#include "report/digits.hpp"
#include "report/drawing.hpp"
#include "report/linkages.hpp"
#include "report/pages.hpp"
#include "report/parts.hpp"
#include "report/wording.hpp"

namespace trammel::report {

namespace {

using search::LinkageSheet;

/// Causes of losses named for a linkage that cannot.
constexpr std::size_t named_causes = 3;

/// The page of a linkage's best layout where it is shortlisted, else its layout file.
std::string address_of(const search::StudyReport& study, const LinkageSheet& linkage) {
  const auto listed = std::find_if(study.shortlist.begin(), study.shortlist.end(),
                                   [&](const search::Sheet& s) { return s.id == linkage.best->id; });
  return listed != study.shortlist.end() ? "layouts/" + folder_of(*listed) + "/index.html"
                                         : linkage_folder(linkage) + "/layout.yaml";
}

Html verdict_cell(const objectives::Target& target, const objectives::Verdict& verdict) {
  return element("td", {{"class", verdict.met ? "n" : "n missed"}},
                 text((verdict.met ? "✓ " : "✗ ") + outcome(target, verdict)));
}

std::vector<Html> row_of(const search::StudyReport& study, const LinkageSheet& linkage) {
  const std::string counts = grouped(linkage.feasible) + " of " + grouped(linkage.kept);
  const std::size_t own = own_targets(study.brief.targets);
  std::vector<Html> row{head_cell(text(linkage.title))};
  if (!linkage.best) {
    row.insert(row.end(), {cell("none found"), cell("–"), number_cell("–"), number_cell("–"), number_cell(counts)});
    row.insert(row.end(), own, number_cell("–"));
    return row;
  }
  const search::Sheet& best = *linkage.best;
  const objectives::Assessment& a = best.assessment;
  const std::string address = address_of(study, linkage);
  row.insert(row.end(),
             {element("td", {{"class", a.feasible() ? "" : "missed"}}, text(a.feasible() ? "✓ can" : "✗ not found to")),
              element("td", {{"class", "thumbnail"}},
                      element("a", {{"href", address}}, thumbnail(best, "linkage-" + linkage.name)) +
                          link_to(address, best.id)),
              number_cell(significant(a.score, 4)), number_cell(shown(a.margin, 3)), number_cell(counts)});
  for (std::size_t i = 0; i < own; ++i) row.push_back(verdict_cell(study.brief.targets[i], a.targets[i]));
  return row;
}

Html cost_table(const search::StudyReport& study) {
  std::vector<Heading> head;
  for (const char* title : {"Linkage", "Meets every requirement", "Best layout", "Score", "Margin", "Layouts that do"})
    head.emplace_back(title, text(title));
  for (const objectives::Target& target : std::span(study.brief.targets).first(own_targets(study.brief.targets)))
    head.emplace_back(target.name, text(target.name + (target.must ? " (required)" : "")) +
                                       element("span", {{"class", "wish"}}, text(wish(target) + " " + place(target))));
  std::vector<std::vector<Html>> rows;
  for (const LinkageSheet& linkage : study.linkages) rows.push_back(row_of(study, linkage));
  return wide_table("Linkages", "ranking", head, rows);
}

/// "braking: 95.2 % (15.2 over), demanded at most 80 % at sag", for each must that the nearest layout misses.
Html misses(const search::StudyReport& study, const LinkageSheet& linkage) {
  Html items;
  const objectives::Assessment& a = linkage.best->assessment;
  for (std::size_t i = 0; i < study.brief.targets.size(); ++i) {
    const objectives::Target& target = study.brief.targets[i];
    if (!target.must || a.targets[i].met) continue;
    items += element(
        "li", target.name + ": " + outcome(target, a.targets[i]) + ", demanded " + wish(target) + " " + place(target));
  }
  for (const objectives::RuleVerdict& rule : a.rules)
    if (!rule.met)
      items += element("li", rule.name + ", " + rule.where + ": " + quantity(rule.achieved, 2, rule.unit) +
                                 ", demanded " + quantity(rule.demanded, 2, rule.unit));
  return items;
}

std::string losses(const LinkageSheet& linkage) {
  std::string words;
  for (std::size_t i = 0; i < std::min(named_causes, linkage.failures.size()); ++i) {
    const search::FailureCount& f = linkage.failures[i];
    const double share =
        100.0 * static_cast<double>(f.count) / static_cast<double>(std::max<std::int64_t>(linkage.screened, 1));
    words += (i == 0 ? "" : "; ") + shown(share, 1) + " % " + f.cause;
  }
  return words;
}

/// Why a linkage was not found to meet every must.
Html why_not(const search::StudyReport& study, const LinkageSheet& linkage) {
  Html out = element("h3", linkage.title + ": why not");
  if (!linkage.proven.empty()) {
    Html items;
    for (const std::string& sentence : linkage.proven) items += element("li", sentence);
    out += element("p", "Proven from the brief and the linkage's ranges, whatever is searched:") + element("ul", items);
  }
  if (linkage.best)
    out += element("p", text("The nearest layout, ") + link_to(address_of(study, linkage), linkage.best->id) +
                            text(", misses:")) +
           element("ul", misses(study, linkage));
  const std::string lost = losses(linkage);
  return out + element("p", "Of " + grouped(linkage.screened) + " layouts screened" +
                                (lost.empty() ? ", none was lost." : ", most were lost as follows: " + lost + "."));
}

}  // namespace

std::string linkage_folder(const LinkageSheet& linkage) {
  return "linkages/" + linkage.name;
}

Html linkages_section(const search::StudyReport& study) {
  const auto can =
      std::count_if(study.linkages.begin(), study.linkages.end(), [](const LinkageSheet& l) { return l.feasible > 0; });
  const bool all = can == static_cast<std::ptrdiff_t>(study.linkages.size());
  Html out = element(
      "p",
      all ? "Every linkage can meet every requirement; the table shows what each one costs."
          : std::to_string(can) + " of " + std::to_string(study.linkages.size()) +
                " linkages were found to meet every requirement. That the others cannot is the word of this search, in "
                "the ranges of their templates; what is proven is said below.");
  out += cost_table(study);
  out +=
      element(
          "p", {{"class", "fine"}},
          text("Each linkage got as many work units and samples and the same limits on refinement, but for a plan that "
               "stopped within a round. A row shows the best layout: most requirements met, then the least score.")) +
      element("p", link_to("linkages.csv", "linkages.csv"));
  for (const LinkageSheet& linkage : study.linkages)
    if (linkage.feasible == 0) out += why_not(study, linkage);
  return section("Linkages", out);
}

std::string linkages_csv(const search::StudyReport& study) {
  std::vector<std::string> record{"linkage",  "title",   "units", "screened", "refined", "kept",
                                  "feasible", "best_id", "score", "margin",   "musts",   "musts_met"};
  for (const auto& target : study.brief.targets) record.push_back(with_unit(target.name, unit_of(target)));
  std::string out = csv_record(record);
  for (const LinkageSheet& linkage : study.linkages) {
    record = {linkage.name,
              linkage.title,
              std::to_string(linkage.units),
              std::to_string(linkage.screened),
              std::to_string(linkage.refined),
              std::to_string(linkage.kept),
              std::to_string(linkage.feasible)};
    if (linkage.best) {
      const objectives::Assessment& a = linkage.best->assessment;
      record.insert(record.end(), {linkage.best->id, csv_number(a.score), csv_number(a.margin), std::to_string(a.musts),
                                   std::to_string(a.musts_met)});
      for (const objectives::Verdict& verdict : a.targets) record.push_back(csv_number(verdict.achieved));
    } else {
      record.resize(12 + study.brief.targets.size());
    }
    out += csv_record(record);
  }
  return out;
}

}  // namespace trammel::report
