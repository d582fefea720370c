#include <algorithm>

#include "brief/parts.hpp"
#include "brief/readings.hpp"
#include "brief/values.hpp"

namespace trammel::brief {
namespace {

/// Most readings of a measured spring: each costs in every position that wants a force.
constexpr std::size_t most_readings = 400;

/// Every stroke that the brief lets the shock have.
std::vector<double> strokes(const Brief& brief) {
  std::vector<double> all;
  for (const ShockSize& size : brief.shocks) all.push_back(size.stroke);
  if (all.empty() && brief.layout.shock) all.push_back(brief.layout.shock->stroke);
  for (const bike::Setting& setting : brief.layout.settings)
    if (setting.shock) all.push_back(setting.shock->stroke);
  return all;
}
double longest_stroke(const Brief& brief) {
  const auto all = strokes(brief);
  return all.empty() ? 0.0 : *std::max_element(all.begin(), all.end());
}

spring::Air read_air(const Node& root, const Node& node, const Brief& brief, Problems& problems) {
  spring::Air air;
  take_number(&node, "bore", air.bore);
  take_number(&node, "shaft", air.shaft);
  take_number(&node, "positive", air.positive);
  take_number(&node, "negative", air.negative);
  take_number(&node, "transfer", air.transfer);
  take_number(&node, "pressure", air.pressure);
  take_number(&node, "spacer", air.spacer);
  take_number(&node, "spacers", air.spacers);
  take_number(&node, "exponent", air.exponent);
  if (!number(&node, "bore") || !number(&node, "positive")) return air;
  if (air.shaft >= air.bore)
    problems.add(
        *node.find("shaft"),
        rounded_text(air.shaft) + " was given, but the shaft must be thinner than the bore, " + rounded_text(air.bore));
  const double stroke = longest_stroke(brief);
  if (air.transfer > 0.0 && air.transfer >= stroke)
    problems.add(*node.find("transfer"), rounded_text(air.transfer) +
                                             " was given, but the transfer must lie within the stroke, " +
                                             rounded_text(stroke));
  spring::Air fullest = air;
  fullest.spacers =
      std::max(air.spacers, static_cast<int>(number(sound(&root, "set_up"), "most_spacers").value_or(0.0)));
  const spring::Chamber chamber = fullest.positive_chamber();
  const double swept = chamber.area * stroke;
  if (chamber.volume * (1.0 - spring::least_chamber) > swept) return air;
  problems.add(*node.find("positive"),
               rounded_text(air.positive) + " was given, but the piston sweeps " + rounded_text(swept / 1000.0) +
                   " cm³ and the spacers take " + rounded_text(fullest.spacer * fullest.spacers) +
                   " cm³, which leaves no room for the air; it must be above their sum by more than a fiftieth");
  return air;
}

/// Why the readings are no spring; empty when they are.
std::string flaw_of(const Readings& readings, double stroke) {
  const auto at_reading = [](std::size_t i) { return "at reading " + std::to_string(i + 1) + ", "; };
  if (readings.size() < 2) return "has " + std::to_string(readings.size()) + " readings; at least 2 are needed";
  if (readings.size() > most_readings)
    return "has " + std::to_string(readings.size()) + " readings; at most " + std::to_string(most_readings) +
           " are taken, so thin it out";
  if (readings.front().first != 0.0)
    return "starts at " + exact_text(readings.front().first) + " mm; the first reading must be at 0 mm";
  for (std::size_t i = 1; i < readings.size(); ++i) {
    if (!(readings[i].first > readings[i - 1].first))
      return "turns back " + at_reading(i) + exact_text(readings[i].first) +
             " mm; compressions must rise from reading to reading";
    if (readings[i].second < readings[i - 1].second)
      return "falls " + at_reading(i) + exact_text(readings[i].second) +
             " N; forces must not fall from reading to reading";
  }
  if (readings.back().first < stroke)
    return "ends at " + exact_text(readings.back().first) + " mm; it must cover the stroke, " + exact_text(stroke) +
           " mm";
  return "";
}

std::optional<spring::Table> read_table(const Node& node, Brief& brief, Problems& problems) {
  Readings readings;
  const Node* place = &node;
  if (const Node* points = sound(&node, "points")) {
    place = points;
    for (const Node& item : points->items) {
      const auto reading = two_numbers(&item);
      if (!reading) return std::nullopt;
      readings.push_back(*reading);
    }
  } else if (const Node* file = sound(&node, "file")) {
    place = file;
    auto read = read_csv(*file, brief, {"compression in mm and force in N", {}, {}}, problems);
    if (!read) return std::nullopt;
    readings = std::move(*read);
  } else {
    return std::nullopt;
  }
  if (const std::string flaw = flaw_of(readings, longest_stroke(brief)); !flaw.empty()) {
    problems.add(*place, "the measured spring " + flaw);
    return std::nullopt;
  }
  if (place == node.find("file")) {
    const auto points = [](const Node& root) {
      const Node* found = root.find("shock");
      for (const char* step : {"spring", "table", "points"}) found = found == nullptr ? nullptr : found->find(step);
      return found;
    };
    put_into_text(*place, "file", "points", readings, points, brief.text, problems);
  }
  return spring::Table(std::move(readings));
}

}  // namespace

void read_spring(const Node& root, Brief& brief, Problems& problems) {
  const Node* node = sound(sound(&root, "shock"), "spring");
  if (node == nullptr || !brief.layout.shock) return;
  spring::Spring spring;
  if (const Node* coil = sound(node, "coil")) {
    spring::Coil& out = std::get<spring::Coil>(spring.kind);
    take_number(coil, "rate", out.rate);
    take_number(coil, "preload", out.preload);
  } else if (const Node* air = sound(node, "air")) {
    spring.kind = read_air(root, *air, brief, problems);
  } else if (const Node* table = sound(node, "table")) {
    if (auto read = read_table(*table, brief, problems)) spring.kind = std::move(*read);
  }
  if (const Node* stop = sound(node, "bump_stop")) {
    take_number(stop, "length", spring.bump_stop.emplace().length);
    take_number(stop, "force", spring.bump_stop->force);
  }
  take_number(node, "breakaway", spring.breakaway);
  spring.stroke = brief.layout.shock->stroke;
  brief.layout.shock->spring = std::move(spring);
}

}  // namespace trammel::brief
