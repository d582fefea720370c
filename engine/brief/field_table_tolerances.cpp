// What stands under `tolerances`.
#include "brief/field_parts.hpp"
#include "brief/scalar.hpp"
#include "brief/tolerances.hpp"

namespace trammel::brief {

void add_tolerances(std::vector<Field>& table) {
  using enum Shape;
  constexpr Limits plus_minus{0.0, 20.0};
  table.push_back({"tolerances", group,
                   "How far a built frame may differ from the drawing: every shortlisted layout is then built many "
                   "times with errors by chance, independent of each other, and judged. The shock goes in with the "
                   "length that it has, and the linkage settles topped out on it."});
  const auto add = [&](const std::string& key, const std::string& meaning) {
    table.push_back({"tolerances." + key, number, meaning, false, "mm", plus_minus, {}, "0"});
  };
  add("points", "± of x and of y of every linkage point.");
  table.push_back({.path = "tolerances.of",
                   .shape = names,
                   .meaning = "Points with a ± of their own. A point that members share is off in all of them alike.",
                   .least = 1});
  table.push_back({"tolerances.of.*", point, "± of its x and of its y.", false, "mm", plus_minus});
  add("shock_length", "± of the shock's length, eye to eye.");
  add("rear_wheel", "± of the rear wheel's radius, as tyres differ.");
  add("front_wheel", "± of the front wheel's radius.");
  table.push_back({"tolerances.sigmas",
                   number,
                   "Errors are spread normally, and ± is so many standard deviations; nothing is cut off beyond.",
                   false,
                   "",
                   {0.5, 10},
                   {},
                   "evenly spread within ±"});
  table.push_back({"tolerances.samples",
                   whole,
                   "Frames built of each layout.",
                   false,
                   "",
                   {10, 1e6},
                   {},
                   exact_text(static_cast<double>(Tolerances().samples))});
}

}  // namespace trammel::brief
