#include "brief/parts.hpp"
#include "brief/values.hpp"

namespace trammel::brief {

void read_tolerances(const Node& root, Brief& brief, Problems& problems) {
  const Node* search = sound(&root, "search");
  for (const char* key : {"rank", "yield"}) {
    const Node* node = sound(search, key);
    const bool asks = node != nullptr && node->text != "score";
    if (asks && root.find("tolerances") == nullptr)
      problems.add(
          *node, std::string(key) + " " + describe(*node) +
                     " was given, but how many frames keep the requirements needs tolerances, and the brief has none");
  }
  const Node* node = sound(&root, "tolerances");
  const linkage::Mechanism& mechanism = brief.layout.mechanism;
  const double reading = brief.layout.reading;
  // A layout that was read off a picture is known no better than it was read.
  if (node == nullptr && reading > 0.0 && root.find("vary") == nullptr) {
    brief.tolerances.emplace().points.assign(mechanism.points.size(), {reading, reading});
    return;
  }
  if (node == nullptr) return;
  Tolerances out;
  const double usual = number(node, "points").value_or(0.0);
  out.points.assign(mechanism.points.size(), {usual, usual});
  if (const Node* of = sound(node, "of"); of != nullptr && !mechanism.points.empty()) {
    for (std::size_t i = 0; i < of->keys.size(); ++i) {
      const int point = find_point(of->keys[i], of->items[i], mechanism, problems);
      const auto own = two_numbers(&of->items[i]);
      if (point >= 0 && own) out.points[static_cast<std::size_t>(point)] = {own->first, own->second};
    }
  }
  take_number(node, "shock_length", out.shock_length);
  if (const Node* length = sound(node, "shock_length"); length != nullptr && root.find("shock") == nullptr)
    problems.add(*length, "a tolerance of the shock was given, but the layout has no shock");
  take_number(node, "rear_wheel", out.rear_wheel);
  take_number(node, "front_wheel", out.front_wheel);
  take_number(node, "samples", out.samples);
  if (const auto sigmas = number(node, "sigmas")) {
    out.law = Tolerances::Law::normal;
    out.sigmas = *sigmas;
  }
  brief.tolerances = std::move(out);
}

}  // namespace trammel::brief
