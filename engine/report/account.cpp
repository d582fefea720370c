#include "report/account.hpp"

#include <cctype>
#include <iterator>

#include "report/digits.hpp"
#include "report/tolerance_tables.hpp"
#include "report/wording.hpp"

namespace trammel::report {

namespace {

using objectives::Target;
using Kind = objectives::Wish::Kind;

/// Most missed targets that are named.
constexpr std::size_t most_missed = 2;

/// In the middle of a sentence; an abbreviation stays as it is.
std::string lowered(std::string words) {
  const auto upper = [&](std::size_t i) { return std::isupper(static_cast<unsigned char>(words[i])) != 0; };
  if (words.size() > 1 && upper(0) && !upper(1))
    words[0] = static_cast<char>(std::tolower(static_cast<unsigned char>(words[0])));
  return words;
}

/// "chain growth 32x24 bottomed"
std::string thing(const Target& target, const bike::Layout& layout) {
  const std::string what = lowered(subject(target, layout));
  return target.measure ? what : what + " " + place(target);
}

std::string at_its_best(const Target& target, const std::string& what) {
  switch (target.wish.kind) {
    case Kind::ceiling:
    case Kind::under:
      return "the least " + what;
    case Kind::floor:
    case Kind::over:
      return "the most " + what;
    case Kind::band:
      return what + " nearest the middle of its band";
    case Kind::value:
      return what + " nearest to what is asked for";
    case Kind::follow:
      return what + " closest to its path";
  }
  return what;
}

std::string at_its_worst(const Target& target, const std::string& what) {
  switch (target.wish.kind) {
    case Kind::ceiling:
    case Kind::under:
      return "the most " + what;
    case Kind::floor:
    case Kind::over:
      return "the least " + what;
    case Kind::band:
      return what + " nearest the edge of its band";
    case Kind::value:
      return what + " farthest from what is asked for";
    case Kind::follow:
      return what + " farthest from its path";
  }
  return what;
}

/// "second in chain growth 32x24 bottomed"; `ahead` others are.
std::string near_best(std::size_t ahead, const std::string& what) {
  constexpr const char* places[] = {"level with the best", "second", "third", "fourth", "fifth", "sixth"};
  return (ahead < std::size(places) ? places[ahead] : "number " + std::to_string(ahead + 1)) + std::string(" in ") +
         what;
}

std::string listed(const std::vector<std::string>& clauses) {
  std::string out;
  for (std::size_t i = 0; i < clauses.size(); ++i)
    out += (i == 0 ? "" : i + 1 == clauses.size() ? " and " : ", ") + clauses[i];
  return out;
}

}  // namespace

std::string account_sentence(const search::Sheet& sheet, const std::vector<Target>& targets) {
  const search::Account& account = sheet.account;
  const auto& verdicts = sheet.assessment.targets;
  const auto with_value = [&](const std::string& words, std::size_t t) {
    return words + " (" + quantity(verdicts[t].achieved, decimals_for(targets[t].tolerance), unit_of(targets[t])) + ")";
  };
  const auto margin = [&](const std::string& words) {
    return words + shown(sheet.assessment.margin, 2) + " on " + targets[*account.narrowest].name;
  };

  std::vector<std::string> best, costs;
  for (std::size_t t : account.best)
    best.push_back(with_value(at_its_best(targets[t], thing(targets[t], sheet.layout)), t));
  // A margin below 0 is none: what is missed says so.
  const bool inside = sheet.assessment.margin >= 0.0;
  if (account.widest_margin && account.narrowest && inside) best.push_back(margin("the widest margin, "));
  if (account.highest_yield) best.push_back("the highest yield, " + yield_words(sheet));
  if (account.near_best && best.empty()) {
    const auto [t, ahead] = *account.near_best;
    best.push_back(with_value(near_best(ahead, thing(targets[t], sheet.layout)), t));
  }
  if (account.alone) best.emplace_back("alone on the shortlist");
  if (best.empty()) best.emplace_back("in no target ahead of most others");

  for (std::size_t i = 0; i < account.missed.size() && i < most_missed; ++i) {
    const std::size_t t = account.missed[i];
    costs.push_back("misses " + targets[t].name + ", " + outcome(targets[t], verdicts[t]));
  }
  if (account.missed.size() > most_missed)
    costs.push_back(std::to_string(account.missed.size() - most_missed) + " more");
  for (std::size_t t : account.worst)
    costs.push_back(with_value(at_its_worst(targets[t], thing(targets[t], sheet.layout)), t));
  // A margin below 0 is that of a target told as missed.
  if (account.narrowest && inside && account.missed.empty() && !account.widest_margin)
    costs.push_back(margin(account.narrowest_margin ? "the narrowest margin, " : "a margin of "));

  if (account.lowest_yield) costs.push_back("the lowest yield, " + yield_words(sheet));

  std::string out = account.first_of_linkage ? "first of its linkage (" + lowered(sheet.linkage) + "): " : "";
  out += listed(best);
  if (!costs.empty()) out += "; " + listed(costs);
  out[0] = static_cast<char>(std::toupper(static_cast<unsigned char>(out[0])));
  return out + ".";
}

}  // namespace trammel::report
