// The records of springs, set-up and loads. Defaults are the structs' own.
#include "bike/layout.hpp"
#include "brief/field_parts.hpp"
#include "brief/scalar.hpp"

namespace trammel::brief {
void add_spring(std::vector<Field>& table, const std::string& path) {
  using enum Shape;
  const spring::Air air;
  const auto volume = up_to(5000);
  table.push_back({path + ".coil", group, "A coil spring."});
  table.push_back({path + ".coil.rate", number, "Spring rate.", true, "N/mm", {0, 10000, true}});
  table.push_back({path + ".coil.preload",
                   number,
                   "Compression of the spring at full shock length.",
                   false,
                   "mm",
                   up_to(200),
                   {},
                   exact_text(spring::Coil{}.preload)});
  table.push_back({path + ".air", group, "An air spring."});
  table.push_back({path + ".air.bore", number, "Diameter of the piston.", true, "mm", {5, 200}});
  table.push_back({path + ".air.shaft",
                   number,
                   "Diameter of the shaft through the negative chamber.",
                   false,
                   "mm",
                   up_to(100),
                   {},
                   exact_text(air.shaft)});
  table.push_back({path + ".air.positive",
                   number,
                   "Volume of the positive chamber topped out, without spacers.",
                   true,
                   "cm³",
                   {0, 5000, true}});
  table.push_back({path + ".air.negative",
                   number,
                   "Volume of the negative chamber topped out; 0 for none.",
                   false,
                   "cm³",
                   volume,
                   {},
                   exact_text(air.negative)});
  table.push_back({path + ".air.transfer",
                   number,
                   "Compression at which the chambers equalise.",
                   false,
                   "mm",
                   up_to(100),
                   {},
                   exact_text(air.transfer)});
  table.push_back({path + ".air.pressure",
                   number,
                   "Gauge pressure of the positive chamber topped out.",
                   true,
                   "bar",
                   {0, 100, true}});
  table.push_back(
      {path + ".air.spacer", number, "Volume of one volume spacer.", false, "cm³", volume, {}, exact_text(air.spacer)});
  table.push_back({path + ".air.spacers",
                   whole,
                   "Volume spacers in the positive chamber.",
                   false,
                   "",
                   up_to(50),
                   {},
                   exact_text(static_cast<double>(air.spacers))});
  table.push_back({path + ".air.exponent",
                   number,
                   "Exponent of a stroke: 1 slow, 1.4 so quick that no heat is lost. Set-up always takes 1.",
                   false,
                   "",
                   {1, 1.4},
                   {},
                   exact_text(air.exponent)});
  table.push_back({path + ".table", group, "A measured spring: force over compression."});
  table.push_back(
      {path + ".table.file", text, "A CSV file of two columns, compression in mm and force in N, beside the brief."});
  table.push_back({.path = path + ".table.points",
                   .shape = list,
                   .meaning = "The same as a list of [compression in mm, force in N].",
                   .least = 2});
  table.push_back({path + ".table.points[]", point, "One reading.", false, "", {-1e5, 1e6}});
  table.push_back({path + ".bump_stop", group, "A rubber stop at the end of the stroke."});
  table.push_back(
      {path + ".bump_stop.length", number, "How much of the end of the stroke it takes.", true, "mm", {0, 200, true}});
  table.push_back({path + ".bump_stop.force",
                   number,
                   "Its force at the end of the stroke; it grows with the square of its compression.",
                   true,
                   "N",
                   {0, 1e6, true}});
  table.push_back({path + ".breakaway",
                   number,
                   "Force along the shock that seal friction holds in either direction.",
                   false,
                   "N",
                   up_to(5000),
                   {},
                   "0"});
}

void add_loads(std::vector<Field>& table) {
  using enum Shape;
  const bike::SetUpRange with;
  table.push_back({"set_up", group, "For whom the spring is set up, and with what; needs masses and a spring."});
  table.push_back({.path = "set_up.riders",
                   .shape = list,
                   .meaning = "Masses of riders with kit.",
                   .fallback = "bike.mass.rider",
                   .least = 1,
                   .distinct = true});
  table.push_back({"set_up.riders[]", number, "One rider.", false, "kg", {10, 300}});
  table.push_back({.path = "set_up.coil_rates",
                   .shape = list,
                   .meaning = "Coil rates on offer.",
                   .fallback = "any",
                   .least = 1,
                   .distinct = true});
  table.push_back({"set_up.coil_rates[]", number, "One rate.", false, "N/mm", {0, 10000, true}});
  table.push_back({"set_up.pressures",
                   interval,
                   "Pressures to which the shock may be pumped.",
                   false,
                   "bar",
                   {0, 100, true},
                   {},
                   "any"});
  table.push_back({"set_up.most_spacers",
                   whole,
                   "Volume spacers that fit; the fewest that the landing load asks for "
                   "are taken.",
                   false,
                   "",
                   up_to(50),
                   {},
                   "those of shock.spring.air"});
  table.push_back({"set_up.sag_tolerance",
                   number,
                   "How far off the wanted sag a spring may be, as a fraction of the same travel or stroke.",
                   false,
                   "",
                   {0, 1, true},
                   {},
                   exact_text(with.sag_tolerance)});
  table.push_back({"loads", group, "Loads at the tyre."});
  table.push_back({"loads.landing",
                   number,
                   "Force at the rear wheel that must not bottom the shock, for bike.mass.rider.",
                   false,
                   "N",
                   {0, 1e6, true}});
  table.push_back({.path = "loads.cases",
                   .shape = names,
                   .meaning = "Loads for which the forces in every pivot are wanted, by name.",
                   .least = 1});
  table.push_back({"loads.cases.*", group, "Forces at the rear tyre's contact, the same at every travel."});
  table.push_back({"loads.cases.*.vertical", number, "The ground pushing up.", true, "N", up_to(1e5)});
  table.push_back({"loads.cases.*.braking",
                   number,
                   "The ground pushing rearward, the brake holding the wheel.",
                   false,
                   "N",
                   {0, 1e5, true}});
  table.push_back({"loads.cases.*.driving",
                   number,
                   "The ground pushing forward, the chain turning the wheel.",
                   false,
                   "N",
                   {0, 1e5, true}});
  table.push_back({"loads.cases.*.gear", text, "The gear that drives, such as 32x18."});
}

}  // namespace trammel::brief
