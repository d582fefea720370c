#include <algorithm>
#include <cmath>

#include "bike/reading.hpp"
#include "report/curve_plots.hpp"
#include "report/digits.hpp"
#include "report/drawing.hpp"
#include "report/notes.hpp"
#include "report/pages.hpp"
#include "report/parts.hpp"
#include "report/wording.hpp"

namespace trammel::report {

namespace {

using bike::Curve;

/// Rows of the table: every curve of every layout, gears matched by name.
struct Row {
  Curve curve;
  std::string gear;
};

std::vector<Row> rows_for(const std::vector<search::Sheet>& sheets) {
  std::vector<Row> out;
  for (const auto& record : bike::curve_table()) {
    for (const auto& sheet : sheets) {
      for (const auto& key : keys_of(sheet.motion.table, record.curve)) {
        const std::string gear =
            key.gear >= 0 ? sheet.layout.drivetrain.gears[static_cast<std::size_t>(key.gear)].name() : "";
        const bool known = std::any_of(out.begin(), out.end(),
                                       [&](const Row& row) { return row.curve == record.curve && row.gear == gear; });
        if (!known) out.push_back({record.curve, gear});
      }
    }
  }
  return out;
}

std::string value_of(const search::Sheet& sheet, const Row& row, double travel) {
  bike::CurveKey key{row.curve, -1};
  if (!row.gear.empty()) {
    const auto& gears = sheet.layout.drivetrain.gears;
    const auto found =
        std::find_if(gears.begin(), gears.end(), [&](const bike::Gear& gear) { return gear.name() == row.gear; });
    if (found == gears.end()) return "–";
    key.gear = static_cast<int>(found - gears.begin());
  }
  const auto value = value_at(sheet.motion.table, key, travel);
  constexpr double far = 1e4;  // mm; an instant centre out there is a direction, and no number helps
  const bool centre = row.curve == Curve::ic_x || row.curve == Curve::ic_y;
  if (centre && value && std::abs(*value) > far) return "far off";
  return value ? shown(*value, decimals_for(bike::record(row.curve).tolerance)) : "–";
}

Html measures(const std::vector<search::Sheet>& sheets) {
  std::vector<std::string> head{"Curve"};
  for (std::size_t i = 0; i < sheets.size(); ++i) {
    const std::string letter = letter_name(i, {});
    for (const char* station : {" topped out", " sag", " bottomed"}) head.push_back(letter + station);
  }
  std::vector<std::vector<Html>> rows;
  for (const auto& row : rows_for(sheets)) {
    const auto& record = bike::record(row.curve);
    std::string label(record.title);
    if (!row.gear.empty()) label += " " + row.gear;
    std::vector<Html> cells{head_cell(text(with_unit(label, record.unit)))};
    for (const auto& sheet : sheets) {
      for (const auto* pose : {&sheet.topped_out, &sheet.at_sag, &sheet.bottomed}) {
        cells.push_back(number_cell(value_of(sheet, row, pose->travel)));
      }
    }
    rows.push_back(std::move(cells));
  }
  return table("Values at sag are read between stations by a cubic.", head, rows);
}

Html drawings(const std::vector<search::Sheet>& sheets) {
  const auto figures = figures_at_one_scale(sheets);
  Html out;
  for (std::size_t i = 0; i < sheets.size(); ++i) {
    out += element("figure", {{"class", "drawing"}},
                   element("h3", std::string_view(letter_name(i, sheets[i]))) + figures[i]);
  }
  return element("div", {{"class", "plots"}}, out) +
         element("p", {{"class", "fine"}},
                 text("All at one scale, in frame axes. Solid: topped out; dashed: sag; dotted: bottomed."));
}

Html foot(const std::vector<search::Sheet>& sheets) {
  // One block for all when they agree.
  const bool agree = std::all_of(sheets.begin(), sheets.end(), [&](const auto& sheet) {
    return conventions(sheet.layout) == conventions(sheets.front().layout);
  });
  Html out;
  for (std::size_t i = 0; i < sheets.size() && (i == 0 || !agree); ++i) {
    if (!agree) out += element("h2", std::string_view(letter_name(i, sheets[i])));
    out += conventions_block(sheets[i].layout);
  }
  return out + cautions_block();
}

}  // namespace

std::string comparison_page(const std::vector<search::Sheet>& sheets, const std::vector<std::string>& notes) {
  std::vector<std::pair<std::string, Html>> boxes;
  for (std::size_t i = 0; i < sheets.size(); ++i) {
    boxes.emplace_back(letter_name(i, {}),
                       text(sheets[i].layout.title + ", " + quantity(sheets[i].bottomed.travel, 1, "mm")));
  }
  const std::string title = "Comparison of " + std::to_string(sheets.size()) + " layouts";
  Html said;
  for (std::size_t i = 0; i < std::min(sheets.size(), notes.size()); ++i)
    if (!notes[i].empty()) said += element("h3", std::string_view(letter_name(i, sheets[i]))) + notes_text(notes[i]);
  Html main = section("Drawings", drawings(sheets)) + (said.empty() ? Html() : section("Notes", said)) +
              section("Measures", measures(sheets)) +
              section("Curves", element("div", {{"class", "plots"}}, overlaid_figures(sheets) + path_figures(sheets))) +
              foot(sheets);
  return page(title, title_block("Rear suspension", title, boxes) + element("main", main) + scroll_script());
}

}  // namespace trammel::report
