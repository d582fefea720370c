#include <algorithm>

#include "bike/sprocket.hpp"
#include "brief/parts.hpp"
#include "brief/values.hpp"

namespace trammel::brief {
namespace {

std::vector<int> teeth_of(const Node* list) {
  std::vector<int> teeth;
  if (list == nullptr) return teeth;
  for (const Node& item : list->items)
    if (const auto number = read_number(item).value; number && !item.flawed) teeth.push_back(static_cast<int>(*number));
  return teeth;
}

int spread(const std::vector<int>& teeth) {
  const auto [least, most] = std::minmax_element(teeth.begin(), teeth.end());
  return *most - *least;
}

std::string free_name(const Brief& brief, const std::string& wanted) {
  const auto taken = [&](const std::string& name) {
    return std::any_of(brief.targets.begin(), brief.targets.end(), [&](const auto& t) { return t.name == name; });
  };
  std::string name = wanted;
  for (int count = 2; taken(name); ++count) name = wanted + " (" + std::to_string(count) + ")";
  return name;
}

/// A rule over the whole travel in a gear, as a must on its curve.
void add_rule(Brief& brief, bike::Curve curve, std::size_t gear, objectives::Wish wish, const std::string& name) {
  objectives::Target target;
  target.name = free_name(brief, name + " " + brief.layout.drivetrain.gears[gear].name());
  target.curve = {curve, static_cast<int>(gear)};
  target.over = objectives::Stretch{0.0, 1.0};
  target.wish = std::move(wish);
  target.tolerance = bike::record(curve).tolerance;
  target.must = true;
  brief.targets.push_back(std::move(target));
}

}  // namespace

void read_drivetrain(const Node* node, bike::Layout& layout, Problems& problems) {
  auto& drivetrain = layout.drivetrain;
  std::vector<int> rings = teeth_of(sound(node, "chainrings"));
  if (const auto ring = number(node, "chainring")) rings.push_back(static_cast<int>(*ring));
  drivetrain.cassette = teeth_of(sound(node, "cassette"));
  const Node* gears = sound(node, "gears");
  const std::vector<int> cogs = gears != nullptr ? teeth_of(gears) : drivetrain.cassette;
  for (const int ring : rings)
    for (const int cog : cogs) drivetrain.gears.push_back({ring, cog});
  const auto read_lead = [&](const char* key, std::optional<bike::Idler>& lead) {
    const Node* idler = sound(node, key);
    if (idler == nullptr) return;
    auto& out = lead.emplace();
    take_number(idler, "teeth", out.teeth);
    out.point = find_point(sound(idler, "point"), layout.mechanism, problems);
    out.over = word(idler, "run") != "under";
  };
  read_lead("idler", drivetrain.idler);
  read_lead("roller", drivetrain.roller);
  if (const Node* points = sound(node, "clear_of"))
    for (const Node& point : points->items)
      if (const int found = find_point(&point, layout.mechanism, problems); found >= 0)
        drivetrain.clear_of.push_back(found);
}

int find_gear(const Node& root, const Node* value, const bike::Layout& layout, Problems& problems) {
  const Node* train = sound(&root, "drivetrain");
  const auto count = [&](const char* key) {
    const Node* list = sound(train, key);
    return list == nullptr ? std::size_t{0} : list->items.size();
  };
  const std::size_t rings = number(train, "chainring") ? 1 : count("chainrings");
  const std::size_t cogs = count("gears") > 0 ? count("gears") : count("cassette");
  const auto& gears = layout.drivetrain.gears;
  if (value == nullptr || value->flawed || gears.empty() || gears.size() != rings * cogs) return -1;
  std::vector<std::string> names;
  names.reserve(gears.size());
  for (const auto& gear : gears) names.push_back(gear.name());
  const auto found = std::find(names.begin(), names.end(), value->text);
  if (found != names.end()) return static_cast<int>(found - names.begin());
  const auto cog = std::find_if(names.begin(), names.end(),
                                [&](const std::string& name) { return name.ends_with("x" + value->text); });
  problems.add(*value, describe(*value) + " was given, but the drivetrain's gears are " + join(names) +
                           (gears.front().any_ring ? ", whichever chainring is chosen" : "") +
                           (cog == names.end() ? suggestion(value->text, names) : "; did you mean '" + *cog + "'?"));
  return -1;
}

void add_chain_rules(const Node& root, Brief& brief, Problems& problems) {
  using objectives::Wish;
  const Node* rules = sound(&root, "packaging");
  const bike::Drivetrain& train = brief.layout.drivetrain;
  for (const char* key : {"least_chain_clearance", "derailleur_capacity"})
    if (const Node* rule = sound(rules, key); rule != nullptr && root.find("drivetrain") == nullptr)
      problems.add(*rule, std::string(key) + " needs a drivetrain, and the layout has none");
  if (train.gears.empty()) return;
  if (const auto least = number(rules, "least_chain_clearance"))
    for (std::size_t g = 0; g < train.gears.size(); ++g)
      add_rule(brief, bike::Curve::chain_clearance, g, {Wish::Kind::floor, *least, *least, {}}, "chain clearance");
  if (const auto capacity = number(rules, "derailleur_capacity")) {
    // Of capacity, common practice: one tooth less on a sprocket frees half a pitch of chain, half of it being wrapped.
    std::vector<int> rings, cogs = train.cassette;
    for (const bike::Gear& gear : train.gears) {
      rings.push_back(gear.chainring);
      if (train.cassette.empty()) cogs.push_back(gear.cog);
    }
    const double left = (*capacity - spread(rings) - spread(cogs)) * 0.5 * bike::chain_pitch;
    // The longest chain is on the largest sprockets: the gear that is nearest to them.
    const auto most = std::max_element(
        train.gears.begin(), train.gears.end(),
        [](const bike::Gear& a, const bike::Gear& b) { return a.chainring + a.cog < b.chainring + b.cog; });
    add_rule(brief, bike::Curve::total_chain_growth, static_cast<std::size_t>(most - train.gears.begin()),
             {Wish::Kind::ceiling, left, left, {}}, "derailleur capacity");
  }
}

}  // namespace trammel::brief
