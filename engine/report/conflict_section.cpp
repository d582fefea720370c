#include <algorithm>

#include "report/digits.hpp"
#include "report/pages.hpp"
#include "report/parts.hpp"
#include "report/wording.hpp"

namespace trammel::report {

namespace {

using search::Concession;
using search::Demand;

/// Decimals that show a tenth of a demand's small step.
std::string amount_of(const Demand& demand, double amount) {
  return quantity(amount, decimals_for(demand.step) + 1, demand.unit);
}

const objectives::Target* target_of(const search::StudyReport& study, const Demand& demand) {
  return demand.rule ? nullptr : &study.brief.targets[demand.index];
}

std::string demand_words(const search::StudyReport& study, const Demand& demand) {
  const objectives::Target* target = target_of(study, demand);
  return target == nullptr ? demand.limits : wish(*target) + " " + place(*target);
}

/// What a layout misses of the musts, a row each: demand, demanded, achieved, by how much, where.
std::vector<std::vector<Html>> missed_rows(const search::StudyReport& study, const search::Sheet& sheet) {
  std::vector<std::vector<Html>> rows;
  const auto& a = sheet.assessment;
  const Html layout = element("td", link_to("layouts/" + folder_of(sheet) + "/index.html", sheet.id));
  for (std::size_t i = 0; i < a.targets.size(); ++i) {
    const objectives::Target& target = study.brief.targets[i];
    const objectives::Verdict& v = a.targets[i];
    if (!target.must || v.met) continue;
    const int decimals = decimals_for(target.tolerance) + 1;
    rows.push_back({layout, cell(target.name), cell(wish(target) + " " + place(target)),
                    number_cell(quantity(v.achieved, decimals, unit_of(target))),
                    number_cell(quantity(v.violation, decimals, unit_of(target))),
                    number_cell(quantity(v.at_travel, 1, "mm"))});
  }
  for (const objectives::RuleVerdict& rule : a.rules)
    if (!rule.met)
      rows.push_back({layout, cell(rule.name + ", " + rule.where), cell(quantity(rule.demanded, 2, rule.unit)),
                      number_cell(quantity(rule.achieved, 2, rule.unit)),
                      number_cell(quantity(std::abs(rule.demanded - rule.achieved), 2, rule.unit)),
                      number_cell(quantity(rule.at_travel, 1, "mm"))});
  return rows;
}

Html nearest(const search::StudyReport& study) {
  std::vector<std::vector<Html>> rows;
  for (const search::Sheet& sheet : study.shortlist) {
    auto more = missed_rows(study, sheet);
    rows.insert(rows.end(), std::make_move_iterator(more.begin()), std::make_move_iterator(more.end()));
  }
  if (rows.empty()) return {};
  return element("h3", "What the nearest layouts miss") +
         element("div", {{"class", "scroll"}},
                 table("", {"Layout", "Demand", "Demanded", "Achieved", "Missed by", "At wheel travel"}, rows));
}

/// Names of the musts that a witness misses, a demand apart.
std::string also_missed(const search::StudyReport& study, const search::Witness& witness, const Demand& apart) {
  std::string names;
  const auto add = [&](const std::string& name) { names += (names.empty() ? "" : ", ") + name; };
  for (std::size_t i = 0; i < witness.assessment.targets.size(); ++i)
    if (study.brief.targets[i].must && !witness.assessment.targets[i].met && !(!apart.rule && apart.index == i))
      add(study.brief.targets[i].name);
  for (const objectives::RuleVerdict& rule : witness.assessment.rules)
    if (!rule.met && !(apart.rule == rule.rule && apart.index == rule.item)) add(rule.name + " (" + rule.where + ")");
  return names.empty() ? "meets all else" : "also misses " + names;
}

class Links {
 public:
  explicit Links(const search::StudyReport& study) : study_(study), all_(witnesses(*study.conflict)) {}

  Html to(const std::optional<search::Witness>& witness, const Demand& apart) const {
    if (!witness) return cell("none found");
    const auto at = std::find(all_.begin(), all_.end(), &*witness) - all_.begin();
    std::string number = std::to_string(at + 1);
    if (number.size() < 2) number.insert(0, "0");
    return element("td", link_to("conflict/" + number + "/layout.yaml", "layout") +
                             text("; " + also_missed(study_, *witness, apart)));
  }

 private:
  const search::StudyReport& study_;
  std::vector<const search::Witness*> all_;
};

/// "each 1 % on climbing: 0.42 mm less", one for each other demand of the conflict.
std::string rates(const std::vector<Concession>& all, const Concession& c) {
  std::string words;
  std::size_t i = 0;
  for (const Concession& other : all) {
    if (other.demand == c.demand || i >= c.rates.size()) continue;
    words += (words.empty() ? "" : "; ") + std::string("each ") + quantity(1.0, 0, other.demand.unit) + " on " +
             other.demand.name + ": " + significant(c.rates[i++], 2) +
             (c.demand.unit.empty() ? "" : " " + c.demand.unit) + " less";
  }
  return words.empty() ? "–" : words;
}

Html searched(const search::StudyReport& study) {
  const search::Conflict& conflict = *study.conflict;
  const std::string effort = std::to_string(conflict.units) + (conflict.units == 1 ? " work unit" : " work units");
  if (conflict.found)
    return element("p", text("A closer look of " + effort + " found what the study did not: ") +
                            link_to("conflict/01/layout.yaml", "a layout that meets every must") +
                            text(". A longer study will find such layouts, too."));
  if (conflict.demands.empty())
    return element("p", "Even with every demand dropped, " + effort +
                            " of search found no layout that moves through its whole stroke: the ranges, or the "
                            "linkage itself, are the reason.");
  const bool one = conflict.demands.size() == 1;
  Html out = element("p", std::string(one ? "One demand cannot be met by itself: "
                                          : "These demands conflict; all but any one of them can be met together. ") +
                              "Found by searching " + effort +
                              " for each set of demands, which is a finding and not a proof.");
  const Links links(study);
  std::vector<std::vector<Html>> rows;
  for (const Concession& c : conflict.demands) {
    const objectives::Target* target = target_of(study, c.demand);
    rows.push_back({cell(target != nullptr ? target->name : c.demand.name), cell(demand_words(study, c.demand)),
                    number_cell(c.amount ? amount_of(c.demand, *c.amount) : "none found"),
                    links.to(c.relaxed, c.demand), cell(rates(conflict.demands, c)), links.to(c.dropped, c.demand)});
  }
  return out + element("div", {{"class", "scroll"}},
                       table("",
                             {"Demand", "Demanded", "Enough to give, alone", "Shown by", "If another gives as well",
                              "With it dropped"},
                             rows));
}

}  // namespace

std::vector<const search::Witness*> witnesses(const search::Conflict& conflict) {
  std::vector<const search::Witness*> out;
  if (conflict.found) out.push_back(&*conflict.found);
  for (const Concession& c : conflict.demands)
    for (const auto* witness : {&c.relaxed, &c.dropped})
      if (*witness) out.push_back(&**witness);
  return out;
}

Html conflict_section(const search::StudyReport& study) {
  const search::Conflict& conflict = *study.conflict;
  Html content;
  if (!conflict.proven.empty()) {
    Html items;
    for (const std::string& sentence : conflict.proven) items += element("li", sentence);
    content += element("p", "Proven from the brief alone, whatever is searched:") + element("ul", items);
  }
  if (!study.linkages.empty())
    content += element(
        "p", "Looked at closely for the linkage that came nearest: " + study.linkages[conflict.linkage].title + ".");
  return section("Why nothing meets every must", content + searched(study) + nearest(study));
}

}  // namespace trammel::report
