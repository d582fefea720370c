#include "brief/parts.hpp"
#include "brief/values.hpp"

namespace trammel::brief {
namespace {

std::optional<objectives::Interval> read_interval(const Node* node) {
  const auto ends = two_numbers(node);
  return ends ? std::optional(objectives::Interval{ends->first, ends->second}) : std::nullopt;
}

void read_packaging(const Node* node, Brief& brief, Problems& problems) {
  auto& packaging = brief.packaging;
  packaging.least_pivot_distance = number(node, "least_pivot_distance");
  take_number(node, "least_transmission_angle", packaging.least_transmission_angle);
  const Node* boxes = sound(node, "boxes");
  if (boxes == nullptr || brief.layout.mechanism.points.empty()) return;
  for (std::size_t i = 0; i < boxes->keys.size(); ++i) {
    const Node& box = boxes->items[i];
    const int point = find_point(boxes->keys[i], box, brief.layout.mechanism, problems);
    packaging.boxes.push_back({point, read_interval(sound(&box, "x")), read_interval(sound(&box, "y"))});
  }
}

}  // namespace

void read_search(const Node& root, Brief& brief, Problems& problems) {
  read_packaging(sound(&root, "packaging"), brief, problems);
  auto& search = brief.search;
  const Node* node = sound(&root, "search");
  take_number(node, "seed", search.seed);
  take_number(node, "units", search.units);
  take_number(node, "samples", search.samples);
  take_number(node, "refine", search.refine);
  take_number(node, "evaluations", search.evaluations);
  take_number(node, "shortlist", search.shortlist);
  take_number(node, "distinct", search.distinct);
  if (sound(node, "algorithm") != nullptr) search.algorithm = word(node, "algorithm");
}

}  // namespace trammel::brief
