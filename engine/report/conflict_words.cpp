#include "report/conflict_words.hpp"

#include <algorithm>
#include <cmath>

#include "brief/yaml_loader.hpp"
#include "report/digits.hpp"
#include "report/wording.hpp"

namespace trammel::report {
namespace {

using search::Concession;
using search::Demand;
using search::Give;
using search::Limit;

std::string counted(std::size_t n, const std::string& one) {
  return std::to_string(n) + " " + one + (n == 1 ? "" : "s");
}

/// "a, b and c".
std::string listed(const std::vector<std::string>& all) {
  std::string out;
  for (std::size_t i = 0; i < all.size(); ++i) out += (i == 0 ? "" : i + 1 == all.size() ? " and " : ", ") + all[i];
  return out;
}

/// Its name, and that it is one of those that hold by default.
std::string name_of(const Demand& demand) {
  const bool sound = demand.origin == objectives::Origin::sound && !demand.name.starts_with("sound: ");
  return (sound ? "sound: " : "") + demand.name;
}

std::string title_of(const Demand& demand) {
  return "'" + name_of(demand) + "'";
}

std::string titles_of(const std::vector<Demand>& demands) {
  std::vector<std::string> out;
  out.reserve(demands.size());
  for (const Demand& demand : demands) out.push_back(title_of(demand));
  return listed(out);
}

std::string in_unit(double value, const std::string& unit) {
  if (unit == "°") return exact(value) + unit;
  return exact(value) + (unit.empty() ? "" : " " + unit);
}

/// What another layout tells, with `plus` added: "17.5 more than shed/current.yaml's 81.3 %".
std::string told_words(const Limit& limit, double plus) {
  objectives::Target target = *limit.told;
  target.relative->plus = {plus, plus};
  if (target.wish.kind == objectives::Wish::Kind::band) {
    auto& times = target.relative->times;
    times = limit.way < 0 ? std::pair(times.first, times.first) : std::pair(times.second, times.second);
  }
  return told_by(target);
}

/// "at least 83.9 %", "± 2.4 mm".
std::string limit_words(const Limit& limit, double value) {
  if (limit.told) return (limit.way < 0 ? "at least " : "at most ") + told_words(limit, value);
  return (limit.around ? "± " : limit.way < 0 ? "at least " : "at most ") + in_unit(value, limit.unit);
}

/// "at least 83.9 % instead of 96 %", "dropped".
std::string change_words(const Give& give) {
  if (std::isinf(give.amount)) return "dropped";
  if (give.limit.told)
    return limit_words(give.limit, give.limit.given(give.amount)) + ", instead of " +
           told_words(give.limit, give.limit.value);
  return limit_words(give.limit, give.limit.given(give.amount)) + " instead of " + (give.limit.around ? "± " : "") +
         in_unit(give.limit.value, give.limit.unit);
}

std::string demanded_words(const search::StudyReport& study, const Demand& demand) {
  if (demand.rule) return demand.limits;
  const objectives::Target& target = study.brief.targets[demand.index];
  return wish(target) + " " + place(target);
}

std::string concession_words(const search::Conflict& conflict, const Concession& c) {
  const std::string name = title_of(c.demand);
  std::string words;
  if (c.alone) {
    const Give& give = conflict.ways[*c.way].gives.front();
    const std::string amount = std::isinf(give.amount) ? "all of it" : in_unit(give.amount, give.limit.unit);
    return name + ": giving " + amount + " is enough alone: " + change_words(give);
  }
  if (!c.then.empty())
    words = name + ": giving way alone is not enough; even without it " + titles_of(c.then) +
            (c.then.size() == 1 ? " cannot be met" : " cannot be met together");
  else
    words = name + ": no amount was found that is enough alone";
  if (c.way)
    return words + (conflict.ways[*c.way].gives.size() == 1 ? ". Enough: " : ". Enough together: ") +
           gives_words(conflict.ways[*c.way]);
  if (c.least)
    words += "; of the layouts that meet all else the nearest misses it by " +
             in_unit(std::ceil(c.least->by * 100.0) / 100.0, c.demand.unit);
  return words;
}

}  // namespace

std::string gives_words(const search::WayOut& way) {
  std::vector<std::string> out;
  for (const Give& give : way.gives) out.push_back(title_of(give.demand) + " " + change_words(give));
  return listed(out);
}

std::string way_folder(std::size_t way) {
  return (way + 1 < 10 ? "conflict/0" : "conflict/") + std::to_string(way + 1);
}

std::vector<Sentence> conflict_sentences(const search::StudyReport& study) {
  const search::Conflict& conflict = *study.conflict;
  const std::string effort = counted(static_cast<std::size_t>(conflict.units), "work unit");
  std::vector<Sentence> out;
  if (!conflict.found.empty()) {
    const bool one = conflict.found.size() == 1;
    out.push_back({"A closer look of " + effort + " found what the study did not: " +
                   counted(conflict.found.size(), "layout") + (one ? " that meets" : " that meet") +
                   " every requirement. What of that differs is on the shortlist, marked closer look"});
    return out;
  }
  if (conflict.demands.empty()) {
    out.push_back({"Even with every demand dropped, " + effort +
                   " of search found no layout that moves through its whole stroke: the ranges, or the linkage itself, "
                   "are the reason"});
    return out;
  }
  const brief::Brief& own = brief::linkages_of(study.brief)[conflict.linkage];
  brief::Problems none;
  const brief::Node tree = brief::load_yaml(study.brief.text, none).value_or(brief::Node());
  std::vector<std::string> set;
  for (const Concession& c : conflict.demands) {
    const std::vector<Limit> limits = search::limits_of(c.demand, own, tree);
    const bool other_unit = !limits.empty() && limits.front().unit != c.demand.unit;
    set.push_back(title_of(c.demand) + " (" +
                  (other_unit ? limit_words(limits.front(), limits.front().value) : demanded_words(study, c.demand)) +
                  ")");
  }
  out.push_back({(set.size() == 1 ? "One demand cannot be met, whatever else is given up: "
                                  : "These demands conflict, though all but any one of them can be met together: ") +
                 listed(set) + ". Found by searching " + effort +
                 " for each set of demands, which is a finding and not a proof"});
  std::size_t told = 0;
  for (const Concession& c : conflict.demands) {
    out.push_back({concession_words(conflict, c), c.way ? way_folder(*c.way) : ""});
    if (c.way) told = std::max(told, *c.way + 1);
  }
  for (std::size_t way = told; way < conflict.ways.size(); ++way)
    out.push_back({"Enough as well: " + gives_words(conflict.ways[way]), way_folder(way)});
  if (!conflict.ways.empty())
    out.push_back(
        {"What is called enough was tried: each folder named holds the whole brief with these numbers changed, "
         "and a search of it finds layouts that meet every requirement"});
  return out;
}

std::vector<MissWords> missed_in_words(const search::StudyReport& study, const search::Sheet& sheet) {
  const auto linkages = brief::linkages_of(study.brief);
  const auto found = std::find_if(linkages.begin(), linkages.end(), [&](const brief::Brief& one) {
    return !sheet.linkage.empty() && one.linkage_title == sheet.linkage;
  });
  const brief::Brief& own = found == linkages.end() ? linkages.front() : *found;
  brief::Problems none;
  const brief::Node text = brief::load_yaml(study.brief.text, none).value_or(brief::Node());
  std::vector<MissWords> out;
  for (const search::Miss& miss : search::misses(own, search::demands_of(own), sheet.assessment)) {
    const std::vector<Limit> limits = miss.can_give ? search::limits_of(miss.demand, own, text) : std::vector<Limit>();
    const int decimals = decimals_for(miss.demand.step) + 1;
    MissWords words{name_of(miss.demand),
                    miss.demand.limits,
                    quantity(miss.achieved, decimals, miss.demand.unit),
                    quantity(miss.by, decimals, miss.demand.unit),
                    miss.where,
                    miss.at_travel};
    if (!miss.demand.rule) words.demanded = demanded_words(study, miss.demand);
    if (!limits.empty() && limits.front().unit != miss.demand.unit) {
      // The brief gives it in another unit than that of the curve: how much of that would have been needed.
      const Limit& limit = limits.front();
      const double by = miss.by / limit.scale;
      words.demanded = limit_words(limit, limit.value);
      words.achieved = quantity(limit.value + limit.way * by, 1, limit.unit);
      words.by = quantity(by, 1, limit.unit);
    }
    if (!miss.in.empty()) words.where += (words.where.empty() ? "" : ", ") + miss.in;
    out.push_back(std::move(words));
  }
  return out;
}

std::string nearest_in_words(const search::StudyReport& study) {
  if (study.shortlist.empty()) return "";
  const search::Sheet& first = study.shortlist.front();
  std::vector<std::string> missed;
  for (const MissWords& m : missed_in_words(study, first)) missed.push_back("'" + m.demand + "' by " + m.by);
  return missed.empty() ? "" : "layout " + first.id + " comes nearest; it misses " + listed(missed);
}

}  // namespace trammel::report
