#include "brief/fields.hpp"
#include "brief/parts.hpp"
#include "brief/values.hpp"
#include "objectives/sound.hpp"

namespace trammel::brief {
namespace {

/// The brief's own limits over those that hold by default; what it leaves to itself elsewhere is its own demand.
objectives::SoundLimits limits_of(const Node& root) {
  const Node* node = sound(&root, "sound");
  if (node != nullptr && node->text == no_demand) return {};
  objectives::SoundLimits out = objectives::sound_limits();
  const Node* packaging = sound(&root, "packaging");
  const auto drop = [&](objectives::Sound demand) { out[static_cast<std::size_t>(demand)].reset(); };
  if (sound(packaging, "least_transmission_angle") != nullptr) drop(objectives::Sound::transmission_angle);
  if (sound(packaging, "least_pivot_distance") != nullptr) drop(objectives::Sound::pivot_distance);
  for (const objectives::SoundRecord& record : objectives::sound_table()) {
    const Node* value = sound(node, record.key);
    if (value == nullptr) continue;
    std::optional<objectives::Interval>& limits = out[static_cast<std::size_t>(record.sound)];
    if (value->text == no_demand)
      limits.reset();
    else if (const auto two = two_numbers(value); two && record.range)
      limits = objectives::Interval{two->first, two->second};
    else if (const auto one = read_number(*value).value; one && !record.range)
      limits = objectives::Interval{0.0, *one};
  }
  return out;
}

}  // namespace

void read_sound(const Node& root, Brief& brief, Problems& problems) {
  const Node* node = sound(&root, "sound");
  const Node* packaging = sound(&root, "packaging");
  // A demand that stands in two places would have two answers.
  for (const auto& [own, other] : {std::pair("transmission_angle", "least_transmission_angle"),
                                   std::pair("pivot_distance", "least_pivot_distance")})
    if (const Node* here = sound(node, own); here != nullptr && sound(packaging, other) != nullptr)
      problems.add(*here, std::string(own) + " was given, but packaging." + other + " says it already");
  // A layout that is not judged by anything is left alone.
  if (brief.targets.empty() || brief.layout.mechanism.points.empty()) return;
  objectives::add_sound(brief.layout, limits_of(root), brief.targets, brief.packaging);
}

}  // namespace trammel::brief
