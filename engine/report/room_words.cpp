#include "report/room_words.hpp"

#include <algorithm>

#include "report/digits.hpp"

namespace trammel::report {
namespace {

/// Margins are compared in hundredths, as the order of merit does.
constexpr double half_step = 0.005;

}  // namespace

std::string narrowest(const std::vector<objectives::Target>& targets, const objectives::Assessment& a) {
  std::string name;
  double least = 2.0;
  for (std::size_t t = 0; t < targets.size() && t < a.targets.size(); ++t)
    if (targets[t].must && a.targets[t].margin < least) {
      least = a.targets[t].margin;
      name = targets[t].name;
    }
  for (const objectives::RuleVerdict& rule : a.rules)
    if (rule.margin < least) {
      least = rule.margin;
      name = rule.name + ", " + rule.where;
    }
  return name;
}

std::string room_words(const search::StudyReport& study) {
  const double room = study.brief.search.room;
  if (study.shortlist.empty() || study.summary.feasible == 0) return {};
  const std::string asked = significant(room, 2);
  const auto narrow = std::count_if(study.shortlist.begin(), study.shortlist.end(), [&](const search::Sheet& sheet) {
    return sheet.assessment.must_margin < room - half_step;
  });
  if (narrow == 0) return "Each shortlisted layout keeps a margin of " + asked + " or more in every requirement.";
  // The first has the most.
  const objectives::Assessment& first = study.shortlist.front().assessment;
  if (first.must_margin < room - half_step)
    return "Every requirement was to keep a margin of " + asked +
           "; refinement for that alone, whatever became of the preferences, got no further than " +
           shown(first.must_margin, 2) +
           ". What is nearest to its limit in the first one: " + narrowest(study.brief.targets, first) + ".";
  return std::to_string(narrow) + " of the " + std::to_string(study.shortlist.size()) + " shortlisted layouts " +
         (narrow == 1 ? "keeps" : "keep") + " less than the margin of " + asked +
         " that every requirement was to have; refinement for that alone found no more near " +
         (narrow == 1 ? "it." : "them.");
}

}  // namespace trammel::report
