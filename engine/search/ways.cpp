#include "search/ways.hpp"

#include <algorithm>
#include <cmath>
#include <limits>
#include <stdexcept>
#include <tuple>

#include "brief/edit.hpp"
#include "brief/yaml_loader.hpp"
#include "search/picker.hpp"

namespace trammel::search {
namespace {

/// How often more demands are let go before a way out is given up.
constexpr int most_rounds = 8;
/// By how much more than the nearest layout's miss a demand gives when less was tried in vain.
constexpr double more[] = {0.0, 0.03, 0.1, 0.3, 0.8, 2.0};
/// The same for searches that take longer.
constexpr double more_thoroughly[] = {0.1, 0.8};
/// Steps of halving an amount that may be too much, and when it is good enough.
constexpr int halvings = 6;
constexpr double good_enough = 0.03;
/// The first part of what a target gives that is tried instead.
constexpr double first_less = 0.85;

std::vector<Demand> without(const std::vector<Demand>& list, const std::vector<Demand>& others) {
  std::vector<Demand> out;
  for (const Demand& demand : list)
    if (!names(others, demand)) out.push_back(demand);
  return out;
}

/// What would have to give for a layout to be allowed, the amounts still to be set; `missed` gets by how much each is
/// missed. Empty where the text does not write a limit.
std::vector<Give> gives_for(const Known& nearest, const brief::Brief& own, const brief::Node& text,
                            std::vector<double>& missed) {
  std::vector<Give> gives;
  for (const Miss& miss : nearest.misses) {
    const std::vector<Limit> limits = limits_of(miss.demand, own, text);
    if (limits.empty()) return {};
    const auto side = std::find_if(limits.begin(), limits.end(), [&](const Limit& l) { return l.way == miss.way; });
    const Limit& limit = side == limits.end() ? limits.front() : *side;
    // One number may limit several demands, such as the chain's clearance in every gear.
    const auto same =
        std::find_if(gives.begin(), gives.end(), [&](const Give& give) { return give.limit.path == limit.path; });
    if (same != gives.end()) {
      double& known = missed[static_cast<std::size_t>(same - gives.begin())];
      known = std::max(known, miss.by);
      continue;
    }
    gives.push_back({miss.demand, limit, 0.0});
    missed.push_back(miss.by);
  }
  return gives;
}

}  // namespace

Ways::Ways(const Setup& setup, const Setup& own, CloserLook& look) : setup_(setup), own_(own), look_(look) {
  brief::Problems none;
  text_ = brief::load_yaml(setup.brief.text, none).value_or(brief::Node());
}

bool Ways::only(const WayOut& way, const Demand& demand) const {
  const std::vector<Limit> limits = limits_of(demand, own_.brief, text_);
  return way.gives.size() == 1 && std::any_of(limits.begin(), limits.end(), [&](const Limit& limit) {
           return limit.path == way.gives.front().limit.path;
         });
}

std::optional<Miss> Ways::least_miss(const Demand& demand) const {
  const Known* known = look_.nearest(search::without(look_.demands(), demand), {demand});
  return known == nullptr || known->misses.empty() ? std::nullopt : std::optional(known->misses.front());
}

std::optional<WayOut> Ways::beginning_with(const std::vector<Demand>& first) const {
  const std::vector<Demand>& all = look_.demands();
  std::vector<Demand> giving = first;
  const Known* nearest = nullptr;
  for (int round = 0; nearest == nullptr; ++round) {
    nearest = look_.nearest(without(all, giving), giving);
    if (nearest == nullptr && (round == most_rounds || !let_go(giving))) return std::nullopt;
  }
  // What need not give is taken back, the first demands last: without them the others may be enough.
  const std::size_t let = giving.size();
  std::rotate(giving.begin(), giving.begin() + static_cast<std::ptrdiff_t>(first.size()), giving.end());
  for (std::size_t i = 0; i < giving.size() && giving.size() > 1;) {
    const std::vector<Demand> fewer = search::without(giving, giving[i]);
    if (let > first.size() && look_.meets(without(all, fewer)) != nullptr)
      giving = fewer;
    else
      ++i;
  }
  if (giving.size() < let) nearest = look_.nearest(without(all, giving), giving);
  return nearest == nullptr ? std::nullopt : settled(*nearest);
}

bool Ways::let_go(std::vector<Demand>& giving) const {
  const Known* least = nullptr;
  std::tuple<std::size_t, double> fewest;
  for (const Known& known : look_.known()) {
    std::tuple<std::size_t, double> others{0, 0.0};
    bool can = true;
    for (const Miss& miss : known.misses) {
      can = can && miss.can_give;
      if (names(giving, miss.demand)) continue;
      ++std::get<0>(others);
      std::get<1>(others) += miss.by / miss.demand.step;
    }
    if (!can || std::get<0>(others) == 0 || (least != nullptr && !(others < fewest))) continue;
    least = &known;
    fewest = others;
  }
  if (least == nullptr) return false;
  for (const Miss& miss : least->misses)
    if (!names(giving, miss.demand)) giving.push_back(miss.demand);
  return true;
}

std::string Ways::text_of(const std::vector<Give>& gives) const {
  std::string text = setup_.brief.text;
  for (const Give& give : gives) {
    brief::Problems none;
    const brief::Node tree = brief::load_yaml(text, none).value_or(brief::Node());
    text = brief::with_changes(text, {change_for(give.limit, give.amount, tree)});
  }
  const brief::Node* seed = brief::node_at(text_, "search.seed");
  const std::string wanted = std::to_string(setup_.brief.search.seed);
  if (seed == nullptr ? setup_.brief.search.seed != brief::SearchOptions().seed : seed->text != wanted)
    text = brief::with_changes(text, {{"search.seed", wanted}});
  return text;
}

std::optional<WayOut> Ways::tried(std::vector<Give> gives, bool thorough) const {
  std::string text;
  try {
    text = text_of(gives);
  } catch (const std::invalid_argument&) {
    return std::nullopt;
  }
  const std::optional<Tried> found = look_.tried(text, thorough);
  if (!found) return std::nullopt;
  const int choice = static_cast<int>(found->row.choice);
  return WayOut{std::move(gives),
                std::move(text),
                layout_id(found->row),
                {found->row.design, choice, own_.design.layout(found->row.design, choice), found->assessment}};
}

std::optional<WayOut> Ways::settled(const Known& nearest) const {
  std::vector<double> missed;
  std::vector<Give> gives = gives_for(nearest, own_.brief, text_, missed);
  if (gives.empty()) return std::nullopt;
  std::vector<double> too_little(gives.size(), 0.0);
  const auto give_more = [&](double part) {
    for (std::size_t i = 0; i < gives.size(); ++i) {
      const Limit& limit = gives[i].limit;
      gives[i].amount = std::max(limit.amount_for(missed[i] * (1.0 + part)), too_little[i] + limit.unit_amount());
      const double value = limit.given(gives[i].amount);
      if (limit.allowed && !(limit.allowed->lo <= value && value <= limit.allowed->hi))
        gives[i].amount = std::numeric_limits<double>::infinity();
    }
  };
  for (const double part : more) {
    give_more(part);
    if (auto way = tried(gives)) return less(fewer(std::move(*way), too_little), too_little);
    for (std::size_t i = 0; i < gives.size(); ++i) too_little[i] = gives[i].amount;
  }
  std::fill(too_little.begin(), too_little.end(), 0.0);
  for (const double part : more_thoroughly) {
    give_more(part);
    if (auto way = tried(gives, true)) return way;
  }
  return std::nullopt;
}

WayOut Ways::fewer(WayOut way, std::vector<double>& too_little) const {
  for (std::size_t i = 0; i < way.gives.size() && way.gives.size() > 1;) {
    const Give& give = way.gives[i];
    std::vector<Give> others = way.gives;
    others.erase(others.begin() + static_cast<std::ptrdiff_t>(i));
    std::optional<WayOut> enough;
    if (give.amount * give.limit.scale <= give.demand.step) enough = tried(std::move(others));
    if (!enough) {
      ++i;
      continue;
    }
    way = std::move(*enough);
    too_little.erase(too_little.begin() + static_cast<std::ptrdiff_t>(i));
  }
  return way;
}

WayOut Ways::less(WayOut way, const std::vector<double>& too_little) const {
  for (std::size_t i = 0; i < way.gives.size(); ++i) {
    if (std::isinf(way.gives[i].amount)) continue;
    double lo = too_little[i];
    double next = way.gives[i].demand.rule || lo > 0.0 ? 0.5 : first_less;
    for (int step = 0; step < halvings; ++step, next = 0.5) {
      const double hi = way.gives[i].amount;
      std::vector<Give> gives = way.gives;
      gives[i].amount = gives[i].limit.amount_for((lo + next * (hi - lo)) * gives[i].limit.scale);
      if (hi - lo <= good_enough * hi || !(gives[i].amount < hi)) break;
      if (auto enough = tried(gives))
        way = std::move(*enough);
      else
        lo = gives[i].amount;
    }
  }
  return way;
}

}  // namespace trammel::search
