#include "search/limit.hpp"

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

/// Those of a target that another layout tells: what is added to what that layout has gives way, whatever it is
/// multiplied by. Empty of one that keeps to a value or a curve, whose tolerance gives way.
std::vector<Limit> limits_of_relative(const objectives::Target& target, const std::string& path) {
  using Kind = Wish::Kind;
  const auto& [least, most] = target.relative->plus;
  Limit low{.path = path + ".plus",
            .value = least,
            .way = -1,
            .unit = unit_of(target),
            .decimals = places_for(target.tolerance),
            .told = target};
  Limit high = low;
  high.value = most;
  high.way = 1;
  switch (target.wish.kind) {
    case Kind::ceiling:
    case Kind::under:
      return {high};
    case Kind::floor:
    case Kind::over:
      return {low};
    case Kind::band:
      low.path += "[0]";
      high.path += "[1]";
      low.other = most;
      high.other = least;
      return {low, high};
    default:
      return {};
  }
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
  if (target.relative)
    if (std::vector<Limit> told = limits_of_relative(target, path); !told.empty()) return told;
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

/// Of a packaging rule, by the linkage's own list of its items.
std::vector<Limit> limits_of_rule(std::size_t rule, std::size_t item, const brief::Brief& own) {
  namespace rules = objectives::rules;
  using objectives::Origin;
  using objectives::rule_number;
  const objectives::Packaging& p = own.packaging;
  const auto limit = [](const std::string& path, double value, int way) {
    return Limit{.path = path, .value = value, .way = way};
  };
  const auto either = [](Origin origin, const char* by_default, const char* in_brief) {
    return std::string(origin == Origin::sound ? by_default : in_brief);
  };
  const std::string number = "[" + std::to_string(item) + "].";
  if (rule == rule_number<rules::TransmissionAngle>)
    return {limit(either(p.transmission_angle_origin, "sound.transmission_angle", "packaging.least_transmission_angle"),
                  p.least_transmission_angle, -1)};
  if (rule == rule_number<rules::PivotDistance>)
    return {limit(either(p.pivot_distance_origin, "sound.pivot_distance", "packaging.least_pivot_distance"),
                  *p.least_pivot_distance, -1)};
  if (rule == rule_number<rules::TyreClearance>) return {limit("sound.tyre_clearance", *p.tyre_clearance, -1)};
  if (rule == rule_number<rules::ShockClearance>) return {limit("sound.shock_clearance", *p.shock_clearance, -1)};
  if (rule == rule_number<rules::Sensitivity>) return {limit("sound.sensitivity", *p.sensitivity, 1)};
  if (rule == rule_number<rules::Clearances>) {
    const objectives::Clearance& clearance = p.clearances[item];
    const bool sound = clearance.origin == Origin::sound;
    return {limit(sound ? "sound.tyre_clearance" : "packaging.clearances" + number + "least", clearance.least, -1)};
  }
  if (rule == rule_number<rules::Regions>)
    return {limit("packaging.keep_in" + number + "least", p.keep_in[item].least, -1)};
  if (rule == rule_number<rules::Boxes>) {  // x and y of every box are items of their own
    const objectives::Box& box = p.boxes[item / 2];
    const objectives::Interval& side = item % 2 == 0 ? *box.x : *box.y;
    const std::string path =
        "packaging.boxes." + objectives::point_name(own.layout.mechanism, box.point) + (item % 2 == 0 ? ".x" : ".y");
    return {limit(path + "[0]", side.lo, -1), limit(path + "[1]", side.hi, 1)};
  }
  std::vector<Limit> out;
  if (rule != rule_number<rules::Lengths>) return out;
  const objectives::LengthRule& length = p.lengths[item];
  if (length.least) out.push_back(limit("packaging.lengths" + number + "least", *length.least, -1));
  if (length.greatest) out.push_back(limit("packaging.lengths" + number + "greatest", *length.greatest, 1));
  return out;
}

std::vector<Limit> limits_as_written(const Demand& demand, const brief::Brief& own, const brief::Node& text) {
  std::vector<Limit> out;
  if (demand.rule) {
    out = limits_of_rule(*demand.rule, demand.index, own);
    for (Limit& limit : out) {
      limit.path = in_text(limit.path, own, text);
      limit.unit = demand.unit;
      limit.decimals = places_for(demand.step);
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

std::vector<Limit> limits_of(const Demand& demand, const brief::Brief& own, const brief::Node& text) {
  std::vector<Limit> out = limits_as_written(demand, own, text);
  for (Limit& limit : out)
    for (const objectives::SoundRecord& record : objectives::sound_table()) {
      const std::string path = "sound." + std::string(record.key);
      if (limit.path == path || limit.path.starts_with(path + "[")) limit.allowed = record.allowed;
    }
  return out;
}

}  // namespace trammel::search
