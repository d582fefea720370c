// The records of what stands under `sound`, from the table of demands that hold by default.
#include "brief/field_parts.hpp"
#include "brief/scalar.hpp"
#include "objectives/sound.hpp"

namespace trammel::brief {

void add_sound(std::vector<Field>& table) {
  using enum Shape;
  table.push_back({.path = "sound",
                   .shape = group,
                   .meaning =
                       "Demands that hold unless the brief gives other limits, or drops one or all of them by the "
                       "word any. Common practice, no source.",
                   .words = {std::string(no_demand)},
                   .fallback = "all of them"});
  for (const objectives::SoundRecord& record : objectives::sound_table()) {
    const std::string hi = exact_text(record.limits.hi);
    table.push_back({.path = "sound." + std::string(record.key),
                     .shape = record.range ? interval : number,
                     .meaning = std::string(record.meaning),
                     .unit = std::string(record.unit),
                     .limits = {record.allowed.lo, record.allowed.hi},
                     .words = {std::string(no_demand)},
                     .fallback = record.range ? "[" + exact_text(record.limits.lo) + ", " + hi + "]" : hi});
  }
}

}  // namespace trammel::brief
