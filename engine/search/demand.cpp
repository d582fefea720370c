#include "search/demand.hpp"

#include <algorithm>
#include <cmath>

#include "bike/sprocket.hpp"
#include "brief/scalar.hpp"
#include "brief/sift.hpp"
#include "objectives/rules/table.hpp"
#include "objectives/sound.hpp"

namespace trammel::search {
namespace {

using objectives::Wish;

constexpr const char* chain_clearance_path = "packaging.least_chain_clearance";
constexpr const char* capacity_path = "packaging.derailleur_capacity";

/// Places that show a tenth of an amount.
int places_for(double amount) {
  return amount > 0.0 && std::isfinite(amount) ? std::clamp(1 - static_cast<int>(std::floor(std::log10(amount))), 0, 6)
                                               : 3;
}

/// The limits of a target that the brief's list has, by how its wish is written.
std::vector<Limit> limits_of_target(const objectives::Target& target, const std::string& path,
                                    const brief::Node& node) {
  const auto limit = [&](const std::string& key, double value, int way) {
    return Limit{.path = path + "." + key,
                 .value = value,
                 .way = way,
                 .unit = unit_of(target),
                 .decimals = places_for(target.tolerance)};
  };
  if (node.find("band") != nullptr) return {limit("band[0]", target.wish.lo, -1), limit("band[1]", target.wish.hi, 1)};
  if (node.find("ceiling") != nullptr) return {limit("ceiling", target.wish.hi, 1)};
  if (node.find("floor") != nullptr) return {limit("floor", target.wish.lo, -1)};
  Limit around = limit("tolerance", target.tolerance, 1);
  around.around = true;
  return {around};
}

/// Those of the musts that `packaging` writes about the chain.
std::vector<Limit> limits_of_chain_rule(const objectives::Target& target, const brief::Node& text) {
  const bool capacity = target.curve.curve == bike::Curve::total_chain_growth;
  const std::string path = capacity ? capacity_path : chain_clearance_path;
  const brief::Node* node = brief::node_at(text, path);
  if (node == nullptr) return {};
  const double value = brief::read_number(*node).value.value_or(0.0);
  // A tooth of capacity takes up half a pitch of chain.
  if (capacity)
    return {{.path = path,
             .value = value,
             .way = 1,
             .unit = "teeth",
             .scale = 0.5 * bike::chain_pitch,
             .whole = true,
             .decimals = 0}};
  return {{.path = path, .value = value, .way = -1, .unit = "mm", .decimals = places_for(target.tolerance)}};
}

/// Those of a must that holds by default.
std::vector<Limit> limits_of_sound(const objectives::Target& target) {
  const auto table = objectives::sound_table();
  const auto record = std::find_if(table.begin(), table.end(), [&](const objectives::SoundRecord& r) {
    return target.name == "sound: " + std::string(r.title);
  });
  if (record == table.end()) return {};
  const std::string path = "sound." + std::string(record->key);
  const Wish& wish = target.wish;
  Limit limit{.path = path, .unit = std::string(record->unit), .decimals = places_for(target.tolerance)};
  if (!record->range) {
    limit.value = wish.kind == Wish::Kind::floor ? -wish.lo : wish.hi;
    return {limit};
  }
  Limit low = limit, high = limit;
  low.path += "[0]";
  high.path += "[1]";
  low.value = high.other = wish.lo;
  high.value = low.other = wish.hi;
  low.way = -1;
  return {low, high};
}

/// `path` of a linkage's own brief, "packaging.clearances[1].least", as the path in the text, which may have entries
/// that are about points of other linkages only.
std::string in_text(const std::string& path, const brief::Brief& own, const brief::Node& text) {
  const std::size_t open = path.find('['), close = path.find(']');
  if (own.linkage.empty() || open == path.npos) return path;
  const std::string list = path.substr(0, open);
  brief::Node sifted = text;
  brief::sift(sifted, [&](const std::string& name, brief::Mark, const std::string&) {
    const auto& names = own.layout.mechanism.point_names;
    return std::find(names.begin(), names.end(), name) != names.end();
  });
  const brief::Node *all = brief::node_at(text, list), *entry = brief::node_at(sifted, path.substr(0, close + 1));
  if (all == nullptr || entry == nullptr) return path;
  const auto same = [&](const brief::Node& node) {
    return node.mark.line == entry->mark.line && node.mark.column == entry->mark.column;
  };
  const auto found = std::find_if(all->items.begin(), all->items.end(), same);
  return list + "[" + std::to_string(found - all->items.begin()) + path.substr(close);
}

}  // namespace

double Limit::unit_amount() const {
  return whole ? 1.0 : std::pow(10.0, -decimals);
}

double Limit::amount_for(double miss) const {
  const double per_unit = whole ? 1.0 : std::pow(10.0, decimals);
  return std::max(1.0, std::ceil(miss / scale * per_unit - 1e-9)) / per_unit;
}

double Limit::given(double amount) const {
  constexpr double grid = 1e6;  // on which sums of decimals are what they are on paper
  return std::round((value + way * amount) * grid) / grid + 0.0;
}

brief::Change change_for(const Limit& limit, double amount, const brief::Node& text) {
  if (std::isinf(amount)) return {limit.path.substr(0, limit.path.find('[')), "any"};
  const std::string value = brief::exact_text(limit.given(amount));
  if (!limit.path.ends_with(']') || brief::node_at(text, limit.path) != nullptr) return {limit.path, value};
  // An interval that is left out is written whole.
  const std::string other = brief::exact_text(limit.other);
  return {limit.path.substr(0, limit.path.find_last_of('[')),
          limit.way < 0 ? "[" + value + ", " + other + "]" : "[" + other + ", " + value + "]"};
}

std::vector<Demand> demands_of(const brief::Brief& brief) {
  std::vector<Demand> out;
  for (std::size_t r = 0; r < objectives::rule_count; ++r) {
    const objectives::RuleFunctions& rule = objectives::rule_table()[r];
    for (objectives::RuleDemand& d : rule.demands(brief.packaging, brief.layout.mechanism))
      out.push_back(
          {r, d.item, std::move(d.name), std::string(rule.record->unit), d.step, std::move(d.limits), d.origin});
  }
  for (std::size_t i = 0; i < brief.targets.size(); ++i) {
    const objectives::Target& t = brief.targets[i];
    if (t.must) out.push_back({{}, i, t.name, unit_of(t), t.tolerance, {}, t.origin});
  }
  return out;
}

bool names(const std::vector<Demand>& list, const Demand& demand) {
  return std::find(list.begin(), list.end(), demand) != list.end();
}

std::vector<Demand> without(std::vector<Demand> list, const Demand& demand) {
  list.erase(std::remove(list.begin(), list.end(), demand), list.end());
  return list;
}

brief::Brief reduced(const brief::Brief& brief, const std::vector<Demand>& kept) {
  brief::Brief out = brief;
  out.search.yield.reset();  // room for errors is not what is asked
  out.targets.clear();
  for (std::size_t i = 0; i < brief.targets.size(); ++i)
    if (names(kept, {{}, i})) out.targets.push_back(brief.targets[i]);
  // From the last on: a rule may number what is left anew.
  const std::vector<Demand> all = demands_of(brief);
  for (auto demand = all.rbegin(); demand != all.rend(); ++demand)
    if (demand->rule && !names(kept, *demand))
      objectives::rule_table()[*demand->rule].drop(out.packaging, demand->index);
  return out;
}

namespace {

std::vector<Limit> limits_as_written(const Demand& demand, const brief::Brief& own, const brief::Node& text) {
  std::vector<Limit> out;
  if (demand.rule) {
    for (const objectives::RuleDemand& d :
         objectives::rule_table()[*demand.rule].demands(own.packaging, own.layout.mechanism)) {
      if (d.item != demand.index) continue;
      for (const objectives::WrittenLimit& w : d.written)
        out.push_back({.path = in_text(w.path, own, text),
                       .value = w.value,
                       .way = w.way,
                       .unit = demand.unit,
                       .decimals = places_for(d.step)});
    }
    return out;
  }
  const objectives::Target& target = own.targets[demand.index];
  if (target.origin == objectives::Origin::sound) return limits_of_sound(target);
  const std::string path = "targets[" + std::to_string(demand.index) + "]";
  const brief::Node* node = brief::node_at(text, path);
  return node != nullptr ? limits_of_target(target, path, *node) : limits_of_chain_rule(target, text);
}

}  // namespace

std::vector<Limit> limits_of(const Demand& demand, const brief::Brief& own, const brief::Node& text) {
  std::vector<Limit> out = limits_as_written(demand, own, text);
  for (Limit& limit : out)
    for (const objectives::SoundRecord& record : objectives::sound_table()) {
      const std::string path = "sound." + std::string(record.key);
      if (limit.path == path || limit.path.starts_with(path + "[")) limit.allowed = record.allowed;
    }
  return out;
}

std::vector<Miss> misses(const brief::Brief& brief, const std::vector<Demand>& demands,
                         const objectives::Assessment& assessment) {
  std::vector<Miss> out;
  for (const objectives::RuleVerdict& rule : assessment.rules) {
    if (rule.met) continue;
    const auto found = std::find(demands.begin(), demands.end(), Demand{rule.rule, rule.item});
    Miss miss;
    miss.can_give = found != demands.end();
    miss.demand = miss.can_give ? *found : Demand{rule.rule, rule.item, rule.name, rule.unit};
    miss.achieved = rule.achieved;
    miss.by = std::abs(rule.demanded - rule.achieved);
    miss.way = rule.achieved < rule.demanded ? -1 : 1;
    miss.where = rule.where;
    miss.at_travel = rule.at_travel;
    miss.in = rule.in;
    // Of several pairs of bodies the worst speaks for the demand.
    const auto known = std::find_if(out.begin(), out.end(), [&](const Miss& m) { return m.demand == miss.demand; });
    if (known == out.end())
      out.push_back(std::move(miss));
    else if (known->by < miss.by)
      *known = std::move(miss);
  }
  for (const Demand& demand : demands) {
    if (demand.rule || assessment.targets[demand.index].met) continue;
    const objectives::Verdict& v = assessment.targets[demand.index];
    const Wish& wish = brief.targets[demand.index].wish;
    const bool around = wish.kind == Wish::Kind::value || wish.kind == Wish::Kind::follow;
    const int way = around ? 0 : v.achieved < wish.lo ? -1 : 1;
    out.push_back({demand, true, v.achieved, v.violation, way, {}, v.at_travel, v.in});
  }
  return out;
}

}  // namespace trammel::search
