#include "brief/reference.hpp"

#include <algorithm>
#include <array>

#include "bike/curve.hpp"
#include "brief/fields.hpp"
#include "brief/problems.hpp"
#include "brief/scalar.hpp"
#include "brief/scaled.hpp"
#include "brief/shipped_templates.hpp"
#include "brief/yaml_loader.hpp"

namespace trammel::brief {
namespace {

/// A cell of a table: the bar would end it.
std::string cell(std::string text) {
  for (std::size_t at = 0; (at = text.find('|', at)) != text.npos; at += 2) text.insert(at, "\\");
  return text;
}

std::string code(const std::string& text) {
  return "`" + text + "`";
}

std::vector<std::string> as_code(std::vector<std::string> words) {
  std::transform(words.begin(), words.end(), words.begin(), code);
  return words;
}

/// The value column: what a group holds is told by the rows below it.
std::string value(const Field& field) {
  if (field.shape != Shape::group) return allowed(field);
  return field.words.empty() ? "a group" : join(field.words) + ", or a group";
}

std::string top_key(const Field& field) {
  return field.path.substr(0, field.path.find_first_of(".["));
}

std::string in_code(const Form& form) {
  return in_words({as_code(form.required), as_code(form.optional)});
}

/// One sentence a choice: which keys go together.
std::string sentence(const Choice& choice) {
  const std::string group = choice.path.empty() ? "the file" : code(choice.path);
  std::vector<std::string> forms;
  for (const auto& form : choice.forms) forms.push_back(in_code(form));
  std::string text = "- In " + group;
  if (!choice.when_key.empty()) {
    text += ", when " + code(choice.when_key) + " is " + join(as_code(choice.when_words)) + ": ";
    const bool free = choice.forms.size() == 1 && choice.forms.front().required.empty();
    if (!free) text += join(forms, "; or ");
    if (!choice.never.empty()) text += (free ? "never " : "; never ") + join(as_code(choice.never));
    return text + ".\n";
  }
  return text + ": " + (forms.size() > 1 ? "one of " : "") + join(forms, "; or ") + ".\n";
}

std::string key_tables() {
  std::string text;
  std::string section;
  for (const auto& field : fields()) {
    if (field.path.empty()) continue;
    const bool scalar_at_top = field.shape == Shape::whole || field.shape == Shape::text;
    const std::string own = scalar_at_top && field.path == top_key(field) ? "file" : top_key(field);
    if (own != section) {
      section = own;
      text += "\n### " + std::string(own == "file" ? "Head of the file" : code(own)) +
              "\n\n| key | value | default | meaning |\n|---|---|---|---|\n";
    }
    const std::string fallback = field.required ? "required" : field.fallback.empty() ? "" : field.fallback;
    text += "| " + code(field.path) + " | " + cell(value(field)) + " | " + cell(fallback) + " | " +
            cell(field.meaning) + " |\n";
  }
  return text;
}

std::string needs_in_words(bike::Needs needs) {
  switch (needs) {
    case bike::Needs::nothing:
      break;
    case bike::Needs::shock:
      return "`shock`";
    case bike::Needs::gear:
      return "`gear`";
    case bike::Needs::spring:
      return "`shock.spring`";
    case bike::Needs::head_tube:
      return "`reach` and `stack`";
    case bike::Needs::seat_angle:
      return "`bike.seat_angle`";
    case bike::Needs::point:
      return "`point`";
    case bike::Needs::points:
      return "`points`";
    case bike::Needs::pivot:
      return "`pivot`, `load`, `loads.cases`, `shock`";
    case bike::Needs::rider:
      return "`shock.spring`, `bike.mass`";
    case bike::Needs::coil:
      return "`shock.spring.coil`, `bike.mass`";
    case bike::Needs::air:
      return "`shock.spring.air`, `bike.mass`";
    case bike::Needs::landing:
      return "`shock.spring`, `bike.mass`, `loads.landing`";
  }
  return "";
}

std::string curve_table() {
  std::string text = "| curve | unit | tolerance | needs | meaning |\n|---|---|---|---|---|\n";
  for (const auto& curve : bike::curve_table()) {
    text += "| " + code(std::string(curve.key)) + " | " + std::string(curve.unit) + " | " +
            exact_text(curve.tolerance) + " | " + needs_in_words(curve.needs) + " | " + std::string(curve.meaning) +
            " |\n";
  }
  return text;
}

std::string where_in_words(objectives::Where where) {
  switch (where) {
    case objectives::Where::between:
      return "`from`, `to`";
    case objectives::Where::fixed:
      return "its own places";
    case objectives::Where::stretch:
      return "`over`";
    case objectives::Where::whole:
      return "the whole travel";
    case objectives::Where::any:
      return "`at` or `over`";
  }
  return "";
}

std::string unit_in_words(objectives::MeasureUnit unit) {
  switch (unit) {
    case objectives::MeasureUnit::curve:
      return "the curve's";
    case objectives::MeasureUnit::per_mm:
      return "the curve's per mm";
    case objectives::MeasureUnit::per_mm2:
      return "the curve's per mm²";
    case objectives::MeasureUnit::mm:
      return "mm";
    case objectives::MeasureUnit::none:
      break;
  }
  return "";
}

std::string measure_table() {
  std::string text = "| measure | of | where | unit | tolerance | meaning |\n|---|---|---|---|---|---|\n";
  for (const auto& measure : objectives::measure_table()) {
    std::string of = measure.curve ? code(std::string(bike::record(*measure.curve).key)) : "`curve`";
    if (measure.curve && !measure.own_curve) of += ", or `curve`";
    const std::string scale = !measure.of_curve ? "" : measure.tolerance == 1.0 ? "the curve's" : "the curve's × ";
    const std::string tolerance = measure.of_curve && measure.tolerance == 1.0 ? "" : exact_text(measure.tolerance);
    for (const std::string& column : {code(std::string(measure.key)), of, where_in_words(measure.where),
                                      unit_in_words(measure.unit), scale + tolerance, std::string(measure.meaning)})
      text.append("| ").append(column).append(" ");
    text += "|\n";
  }
  return text;
}

constexpr std::array beyond_schema{
    "the first number of every `[low, high]` is below the second;",
    "the linkage has exactly one degree of freedom, and what drives it moves it;",
    "every name of a point or member that is used is one that `linkage` has, and every point is carried by a member;",
    "a picture's known lengths agree within 5 %, its level line has two points, none of its points comes out more than "
    "3000 mm from the bottom bracket, and the shock's eyes agree with its length within the error of reading;",
    "the members that carry the axle and the brake list two points at least;",
    "a slider's line runs through two points of its member, and the sliding point is not fixed on that member;",
    "the rear axle's point is listed by its member, which is not the frame; a turned member is not the frame;",
    "no member carries both shock eyes, and the stroke is below the length (but for a shock that extends);",
    "`length: shock` stands between the two eyes of a shock; no point is placed from itself, nor points in a circle; "
    "no "
    "point mirrors one that is the mirror's own;",
    "something varies; a range of angles spans at most 360°; no shock size is offered twice, idlers only where the "
    "drivetrain has one, and chainrings only where it has a single one as drawn;",
    "the front axle is ahead of the rear axle by more than the wheels differ in radius;",
    "unsprung masses are at most the whole bike's; `sag: { of: shock }` has a shock;",
    "a curve or measure has what it needs (see the table of curves), a gear is one of the drivetrain's, a pivot a "
    "point at which parts turn on each other, and a load one of `loads.cases`;",
    "a followed path has rising fractions and covers its stretch; a measure's two places differ; `travel` lies within "
    "a "
    "given travel;",
    "a wheel path has rising y; a spread between all gears has two gears at least;",
    "an air spring's shaft is thinner than its bore, and its positive chamber with all spacers is larger than what the "
    "stroke sweeps; its transfer lies within the stroke;",
    "a measured spring starts at 0 mm, its compressions rise, its forces do not fall, it covers the stroke; its file "
    "can "
    "be read;",
    "`set_up` has masses, a spring, and choices of the spring's own kind; the centre of gravity of a bike with masses "
    "and a spring lies between the axles; load cases have a shock, a landing load has a spring;",
    "`packaging.least_chain_clearance` and `derailleur_capacity` have a drivetrain;",
    "a body's places are linkage points, or drawn on a member of two points or more; a shock's body hangs on one of "
    "its "
    "eyes; a clearance names bodies, none with itself, and `but` goes with `to: all_others`, which leaves a body; a "
    "least length is at most the greatest;",
    "what is asked for of a share, such as progressivity, lies where a share can;",
    "limits of the usual shock sizes go with a word for them and leave one; every range of an x or y holds a step of "
    "`search.grid`;",
    "no two targets have the same name; no two settings or sizes have, none of them is named all, and a target's `in` "
    "names one of them;",
    "a size's front gives reach and stack where `bike.front` does, its rider needs `bike.mass`, and axles and centre "
    "of "
    "gravity lie in every setting and size as they must in the layout as drawn;",
    "every name in `linkages` is a template's; a length comes out within 3000 mm on the brief's bike, a distance above "
    "0; "
    "every point that the brief speaks of is one of some template, and `drivetrain.idler` stands in templates only; "
    "`choose.shock` is given with them, and the chainstay reaches an axle at which the bike stands level;",
    "`keep` names members, not the frame; what of their points is placed leaves the others a place, and an eye that "
    "follows leaves the shock its length; `search.eye_error` has `search.grid` and an eye placed by `length: shock` "
    "and a "
    "range of angles;",
    "`between` names two settings or two sizes, or has two of them at least, is about one number, and `in` names none "
    "of "
    "what is compared;",
    "a trade-off is between two or three groups of targets, by names that the brief has or that are made, none of them "
    "twice, and none that compares settings or sizes;",
    "`of` names a layout's file that can be read and moves, has what the curve needs and as much travel; it is about "
    "one "
    "gear, and not about a distance from a path; a range under `times` or `plus` holds at one place or for a measure, "
    "without `as`; `found` goes with a file and is a `found_curve` over a stretch;",
    "`tolerances.of` names linkage points, `shock_length` has a shock; `search: rank: yield` and `search.yield` have "
    "`tolerances`;",
};

std::string beyond_schema_list() {
  std::string text;
  for (const auto* line : beyond_schema) text += "- " + std::string(line) + "\n";
  return text + "- the drawn distance of the eyes is the shock's length within " + exact_text(length_slack) +
         " mm, unless one is placed by `length: shock`, which an eye that varies and a chosen shock need.\n";
}

std::string ties_section() {
  return "\n## Tied points\n\n"
         "Under `vary` a point may follow others; it then does so in every layout, exactly and without a variable of "
         "its "
         "own where none is given a range. What follows is the linkage as drawn, topped out: afterwards every member "
         "moves as it must.\n\n"
         "| wanted | brief |\n|---|---|\n"
         "| a point that keeps to another as drawn, such as two bosses of one bracket | `lower: { from: upper }` |\n"
         "| 40 mm under another | `lower: { from: upper, x: 0, y: -40 }` |\n"
         "| as high as another, 20 to 60 mm ahead of it | `lower: { from: upper, x: [20, 60], y: 0 }` |\n"
         "| two arms of one length | `eye: { from: rocker, as_long_as: [rocker, tail], angle: [15, 110] }` |\n"
         "| two links cut from one part | `knee: { from: foot, as_long_as: [main, stay], angle: [60, 120] }` |\n"
         "| a straight rocker with the pivot in its middle | `eye: { mirrors: tail, about: rocker }` |\n"
         "| a rocker whose arms are alike, seen from the line through two points | "
         "`eye: { mirrors: tail, across: [rocker, knee] }` |\n\n"
         "A layout's points are rounded to a thousandth of a millimetre each, and a tie holds as closely. The report's "
         "table of pivots names tied points. Linkage templates take the same ties; "
         "there both `x` and `y`, or `length` and `angle`, are given, since nothing is drawn.\n\n"
         "A member that keeps the shape that it is drawn with stands under `keep`. One of its points is placed freely, "
         "and where it may turn one more by its direction from that; all others follow as one body:\n\n"
         "```yaml\n"
         "vary:\n"
         "  rocker: { x: [-80, -60], y: [295, 315] }\n"
         "  tail: { from: rocker, angle: [140, 160] }      # as far from it as drawn\n"
         "keep: [rocker]                                   # eye and knee go with the two\n"
         "```\n";
}

std::string bosses_section() {
  return "\n## Bosses\n\n"
         "`packaging.least_pivot_distance` holds for every two pivots alike. Where bosses differ, or some may be "
         "nearer than "
         "others, leave it out, draw each boss as a circle on its point and say what is to be left between them; it "
         "holds "
         "over the whole stroke, is searched, judged and given up by itself like any clearance:\n\n"
         "```yaml\n"
         "packaging:\n"
         "  bodies:\n"
         "    rocker_boss: { centre: rocker, diameter: 44 }\n"
         "    tail_boss: { centre: tail, diameter: 30 }\n"
         "    eye_boss: { centre: eye, diameter: 24 }\n"
         "    stay_boss: { centre: stay, diameter: 28 }\n"
         "  clearances:\n"
         "    - { of: rocker_boss, to: all_others, but: [tail_boss], least: 3 }\n"
         "    - { of: rocker_boss, to: [tail_boss], least: 8 }         # centres at least 45 mm apart: 22 + 15 + 8\n"
         "    - { of: tail_boss, to: [eye_boss, stay_boss], least: 2 }\n"
         "```\n\n"
         "`packaging.lengths` limits such distances as drawn only.\n";
}

std::string relative_section() {
  return "\n## Targets that another layout tells\n\n"
         "`of` takes the number from a layout: its file, from the brief's folder, or `drawn` for the layout as drawn. "
         "What that layout has at the same place, by its own sag and travel, is multiplied by `times`, and `plus` is "
         "added. Gears are matched by their teeth, points by their names.\n\n"
         "| wanted | target |\n|---|---|\n"
         "| 20 more than the present bike has, give or take the tolerance | "
         "`{ curve: anti_squat, gear: 32x50, at: sag, of: shed/current.yaml, plus: 20 }` |\n"
         "| 15 to 25 more | `{ curve: anti_squat, gear: 32x50, at: sag, of: shed/current.yaml, plus: [15, 25] }` |\n"
         "| at most four fifths of it | "
         "`{ curve: chain_growth, gear: 32x18, at: bottomed, of: drawn, times: 0.8, as: ceiling }` |\n"
         "| the same curve | `{ curve: leverage, of: shed/current.yaml }` |\n"
         "| nowhere less | `{ curve: anti_rise, over: [0, 0.6], of: drawn, as: floor }` |\n"
         "| more progressive by 3 % | `{ measure: progressivity, of: drawn, plus: 0.03, as: floor }` |\n\n"
         "The layout is looked at when the brief is read. A study keeps what was found in its brief, under `found` or "
         "`found_curve`, and no longer depends on the file. Reports say where the number came from. A file may be any "
         "layout or brief that draws its linkage: what it asks for and varies is left out of account.\n";
}

std::string between_section() {
  return "\n## Differences between settings and sizes\n\n"
         "| wanted | target |\n|---|---|\n"
         "| the chip makes the head angle steeper by half a degree | "
         "`{ curve: head_angle, at: topped_out, between: [low, high], band: [0.4, 0.6] }` |\n"
         "| and lifts the bottom bracket by 6 to 8 mm | "
         "`{ curve: bb_height, at: topped_out, between: [low, high], band: [6, 8] }` |\n"
         "| all sizes ride alike | `{ curve: leverage, at: sag, between: sizes, ceiling: 0.05 }` |\n"
         "| in the low setting at least | "
         "`{ measure: progressivity, between: sizes, in: low, ceiling: 0.01 }` |\n\n"
         "The second's value less the first's is judged, of `settings` or `sizes` the greatest less the least. A "
         "search "
         "steers by it like by any other target. Reports show the value in each case, and the difference that comes "
         "out "
         "worst. Screening takes it into account last, once a layout is otherwise within the limit. `search: yield:` "
         "leaves no "
         "room for it, and `sound: sensitivity:` does not look at it; the study of tolerances counts it.\n";
}

std::string rider_section() {
  return "\n## What set-up finds\n\n"
         "`set_up_pressure` and `set_up_rate` are what the spring needs for the bike to rest at a place of the travel "
         "under a rider; at sag that is what set-up finds. `spring_support`, `sag_travel` and `sag_fraction` say where "
         "the bike comes to rest with the spring as the brief gives it. Each takes a `rider`:\n\n"
         "| wanted | target |\n|---|---|\n"
         "| 95 kg can be held with the pump's 17 bar | `{ curve: set_up_pressure, rider: 95, at: sag, ceiling: 17 }` "
         "|\n"
         "| a coil that is sold | `{ curve: set_up_rate, rider: 78, at: sag, value: 88, tolerance: 2 }` |\n"
         "| the same coil serves 70 to 80 kg | `{ measure: sag_fraction, rider: 70, floor: 0.26 }`, "
         "`{ measure: sag_fraction, rider: 80, ceiling: 0.34 }` |\n"
         "| the landing does not bottom the spring as given | `{ curve: wheel_force, at: bottomed, floor: 5000 }` |\n"
         "| two spacers at most for 95 kg | `{ measure: set_up_spacers, rider: 95, ceiling: 2 }` |\n"
         "| 5 % to spare on landing for 95 kg, all spacers in | `{ measure: bottom_out_margin, rider: 95, floor: 5 }` "
         "|\n"
         "| 10 % to spare for 65 kg without a spacer | "
         "`{ measure: bottom_out_margin, rider: 65, spacers: 0, floor: 10 }` |\n\n"
         "Pressure and coil rate are those for exactly the sag, the spacers as in the brief. Spacers and margin go by "
         "the pressure for each number of spacers, within `set_up.pressures` where that is given, and by the exact "
         "coil "
         "rate, not by what a shop has. A search needs a number that changes with the layout, so spacers are counted "
         "with fractions: set-up takes the next whole number, and `ceiling: 2` holds just when that is at most 2. The "
         "margin is that with as many spacers as may go in, unless `spacers` says; set-up itself takes the fewest with "
         "which it is above 0.\n";
}

std::string linkages_section() {
  std::string text =
      "\n## Linkage templates\n\n"
      "A length in a template is a number in mm or a sum of multiples of the bike's own: `0.3 wheel`, "
      "`axle_x + 0.1 wheel`, `0.8 chainstay / leverage`. Terms are joined by `+` and `-`, factors by `*` and `/`, a "
      "number before a word multiplies it; there are no brackets. Angles are plain degrees. The words:\n\n"
      "| word | stands for |\n|---|---|\n";
  for (const ScaleWord& word : scale_words()) text += "| " + code(word.word) + " | " + word.meaning + " |\n";
  text += "\nThose that ship:\n\n| template | file |\n|---|---|\n";
  for (const ShippedTemplate& shipped : shipped_templates())
    text += "| " + code(shipped.name) + " | `configs/linkages/" + shipped.name + ".yaml` |\n";
  return text +
         "\nThe shock's spring is given once for all of them under `spring`, with the keys of `shock.spring`; `set_up` "
         "goes with "
         "it. Bodies under `packaging` that stand on points which a template lacks are left out there; a template may "
         "bring "
         "bodies and clearances of its own, such as its tyre, the bottom bracket's shell or its shock:\n\n"
         "```yaml\n"
         "templates:\n"
         "  plain:\n"
         "    # points, members, axle, shock\n"
         "    packaging:\n"
         "      bodies:\n"
         "        shell: { centre: [0, 0], diameter: 42 }\n"
         "        damper: { part: shock, body_from: mount, body_length: 120, diameter: 50, shaft: 12 }\n"
         "      clearances:\n"
         "        - { of: damper, to: [shell], least: 3 }\n"
         "```\n"
         "\nThey are part of the program, so that a brief finds them wherever it lies. A file that a brief names is "
         "found from the brief's folder and holds what `templates.*` holds. A study keeps the templates that it was "
         "made from in its brief, under `templates`.\n";
}

}  // namespace

std::string reference() {
  std::string text =
      "<!-- Generated from the field table by `trammel_brief_docs reference`; edit engine/brief/field_table.cpp. -->\n"
      "# The brief\n\n"
      "A *layout* is a whole bike with numbers. A *brief* is a layout whose numbers may be ranges, with targets, "
      "packaging rules and search options. Both are YAML files, read alike.\n\n"
      "Lengths in mm unless `units` says inch, angles in degrees, forces in N, masses in kg. Frame axes: origin at the "
      "bottom-bracket axis, x "
      "forward, y up, angles counter-clockwise from +x, drawn with the bike topped out and facing right.\n\n"
      "In the key column, `.*` stands for a name of the brief's own choosing and `[]` for each entry of a list.\n"
      "Editors that know JSON Schema (draft-07) complete and check a brief with `configs/trammel.schema.json`, one in "
      "inches with `configs/trammel-inch.schema.json`.\n\n"
      "## Keys\n";
  text += key_tables();
  text += "\n## Keys that go together\n\n";
  for (const auto& choice : choices()) text += sentence(choice);
  text += ties_section();
  text += bosses_section();
  text += relative_section();
  text += between_section();
  text += rider_section();
  text += linkages_section();
  text += "\n## Curves\n\nA target's tolerance is the curve's own, or its measure's, unless it gives one.\n\n";
  text += curve_table();
  text +=
      "\n## Measures\n\nA measure makes one number of a curve's values at several places, and a target's wish is about "
      "that number. A stretch is looked at in even steps of wheel travel, a twentieth of the whole travel or less "
      "each. "
      "With `gears` it holds in each of them.\n\n";
  text += measure_table();
  text += "\n## What is checked beyond the schema\n\n" + beyond_schema_list();
  text += "\n## How the YAML is read\n\n";
  text += "- One document of at most " + std::to_string(size_limit / 1024) + " KiB, " + std::to_string(node_limit) +
          " values and " + std::to_string(depth_limit) +
          " levels. Anchors and aliases may be used; an alias inside its own anchor is refused.\n";
  text +=
      "- Refused: a key given twice, merge keys `<<`, tags, an empty value, further documents.\n"
      "- Numbers are decimal with a point, in every locale: `12`, `-3.5`, `.5`, `6e-3`. Refused: leading zeros (`010`, "
      "which some readers take for octal 8), `0x1F`, `0o17`, `.inf`, `.nan`, a non-zero number that a double cannot "
      "hold (`1e-400`), and numbers in quotes.\n"
      "- Flags are `true` or `false`. Text that looks like a number or a flag needs quotes.\n"
      "- A name is " +
      name_rule() + ".\n";
  text +=
      "- All problems are told at once, in the order of the file: `file:line:column: where: what was given, what is "
      "allowed, the nearest known key`.\n";
  return text;
}

}  // namespace trammel::brief
