#include <algorithm>

#include "brief/parts.hpp"
#include "brief/values.hpp"

namespace trammel::brief {
namespace {

std::vector<double> numbers_of(const Node* list) {
  std::vector<double> all;
  if (list == nullptr) return all;
  for (const Node& item : list->items)
    if (const auto number = read_number(item).value; number && !item.flawed) all.push_back(*number);
  std::sort(all.begin(), all.end());
  return all;
}

void read_set_up(const Node& root, const Node& node, bike::Layout& layout, Problems& problems) {
  bike::SetUpRange& range = layout.set_up;
  range.riders = numbers_of(sound(&node, "riders"));
  range.coil_rates = numbers_of(sound(&node, "coil_rates"));
  range.pressures = two_numbers(sound(&node, "pressures"));
  take_number(&node, "most_spacers", range.most_spacers);
  take_number(&node, "sag_tolerance", range.sag_tolerance);
  const Node* bike = root.find("bike");
  if (bike != nullptr && bike->find("mass") == nullptr)
    problems.add(node, "set_up needs bike.mass, and the layout has none");
  const Node* shock = root.find("shock");
  const Node* spring = shock == nullptr ? nullptr : shock->find("spring");
  if (spring == nullptr) {
    problems.add(node, "set_up needs shock.spring, and the layout has none");
    return;
  }
  const auto only_for = [&](const char* key, const char* kind) {
    const Node* value = node.find(key);
    if (value != nullptr && spring->find(kind) == nullptr)
      problems.add(*value, std::string(key) + " was given, but the spring is none of the kind '" + kind + "'");
  };
  only_for("coil_rates", "coil");
  only_for("pressures", "air");
  only_for("most_spacers", "air");
}

void read_cases(const Node& root, const Node* cases, bike::Layout& layout, Problems& problems) {
  if (cases == nullptr) return;
  for (std::size_t i = 0; i < cases->keys.size(); ++i) {
    const Node& node = cases->items[i];
    bike::LoadCase load;
    load.name = cases->keys[i].text;
    take_number(&node, "vertical", load.vertical);
    take_number(&node, "braking", load.braking);
    take_number(&node, "driving", load.driving);
    if (const Node* gear = sound(&node, "gear")) {
      if (root.find("drivetrain") == nullptr) problems.add(*gear, "a gear needs a drivetrain, and the layout has none");
      load.gear = find_gear(root, gear, layout, problems);
    }
    layout.loads.cases.push_back(load);
  }
  if (root.find("shock") == nullptr && root.find("drive") != nullptr)
    problems.add(*cases, "load cases need a shock, and the layout is driven without one");
}

/// A rear load that lifts the wheel is no set-up.
void check_balance(const Node& root, const bike::Layout& layout, Problems& problems) {
  const Node* x = sound(sound(sound(&root, "bike"), "cg"), "x");
  if (!layout.mass || !layout.shock || !layout.shock->spring || x == nullptr || layout.axle.point < 0) return;
  if (sound(root.find("bike"), "front") == nullptr) return;  // reported already, and its axle is not read
  const double rear = layout.mechanism.points[static_cast<std::size_t>(layout.axle.point)].x;
  const double front = layout.front.axle.x;
  // Written so that axles that could not be read, or stand wrongly, pass: that is reported elsewhere.
  if (!(front > rear) || (layout.cg.x > rear && layout.cg.x < front)) return;
  problems.add(*x, rounded_text(layout.cg.x) + " was given, but the centre of gravity must lie between the axles, at " +
                       rounded_text(rear) + " and " + rounded_text(front));
}

}  // namespace

int find_load(const Node& root, const Node* value, const bike::Layout& layout, Problems& problems) {
  if (sound(sound(&root, "loads"), "cases") == nullptr) return -1;
  std::vector<std::string> names;
  for (const bike::LoadCase& load : layout.loads.cases) names.push_back(load.name);
  return find_name(value, names, "load case", "loads.cases", problems);
}

void read_loads(const Node& root, bike::Layout& layout, Problems& problems) {
  if (const Node* node = sound(&root, "set_up")) read_set_up(root, *node, layout, problems);
  const Node* loads = sound(&root, "loads");
  layout.loads.landing = number(loads, "landing");
  if (layout.loads.landing && (root.find("shock") == nullptr || root.find("shock")->find("spring") == nullptr))
    problems.add(*loads->find("landing"), "a landing load needs shock.spring, and the layout has none");
  read_cases(root, sound(loads, "cases"), layout, problems);
  check_balance(root, layout, problems);
}

}  // namespace trammel::brief
