// trammel check: the bike as drawn.
#include <fmt/core.h>

#include <algorithm>
#include <cmath>

#include "app/check_parts.hpp"
#include "app/print.hpp"
#include "app/text.hpp"
#include "bike/cases.hpp"
#include "bike/stance.hpp"
#include "report/digits.hpp"
#include "report/wording.hpp"

namespace trammel::app {
namespace {

using report::shown;

void say(std::size_t indent, const std::string& sentence) {
  print_out("{}", folded(sentence, indent, indent + 2));
}

/// What to change where a bike is not drawn level.
std::string how_to_level(const bike::Layout& layout, const bike::Stance& s) {
  const std::string up = s.front_higher < 0.0 ? "higher" : "lower";
  const std::string by = shown(std::abs(s.front_higher), 1) + " mm ";
  const std::string rear = layout.mechanism.point_names[static_cast<std::size_t>(layout.axle.point)];
  const double rear_y = layout.mechanism.points[static_cast<std::size_t>(layout.axle.point)].y;
  const std::string front =
      layout.front.head_tube
          ? "the front " + by + up + " (stack " + shown(layout.front.head_tube->top.y - s.front_higher, 1) + ")"
          : "the front axle " + by + up + " (y " + shown(layout.front.axle.y - s.front_higher, 1) + ")";
  return "To change: " + front + ", or the rear axle " + by + (s.front_higher < 0.0 ? "lower" : "higher") + " (" +
         rear + ": y " + shown(rear_y + s.front_higher, 1) +
         "), whichever was drawn wrong; or, where the whole drawing is turned, every point by " + shown(-s.turned, 2) +
         "° about the bottom bracket and the head angle to " + shown(layout.front.head_angle + s.turned, 2) + "°.";
}

void describe_level(const bike::Layout& layout, const bike::Stance& s, const std::string& in) {
  const std::string apart = shown(std::abs(s.front_higher), 1) + " mm " + (s.front_higher < 0.0 ? "below" : "above");
  if (std::abs(s.front_higher) <= bike::level_slack(layout)) {
    say(2, "level as drawn" + in + ": the front tyre stands " + apart + " the rear one");
    return;
  }
  say(2, "NOT LEVEL as drawn" + in + ": the front tyre stands " + apart + " the rear one, so that the bike is drawn " +
             shown(std::abs(s.turned), 2) + "° front " + (s.turned < 0.0 ? "down" : "up") +
             ". Frame axes are to be level topped out: wheel travel is measured along their y, and the head angle "
             "drawn as " +
             shown(layout.front.head_angle, 2) + "° is " + shown(layout.front.head_angle + s.turned, 2) +
             "° on the ground. " + how_to_level(layout, s));
}

void describe_sense(const bike::Layout& layout, const bike::Stance& s, const std::string& in) {
  const double rear_x = layout.mechanism.points[static_cast<std::size_t>(layout.axle.point)].x;
  if (s.rear_ahead)
    say(2,
        "FACES LEFT as drawn" + in + ": the rear axle lies " + shown(rear_x, 1) +
            " mm ahead of the bottom bracket. Frame axes are those of a bike that faces right, x forward: to change, "
            "turn round the sign of every x, or say `faces: left` of a picture.");
  if (s.between_tyres < 0.0)
    say(2, "TYRES OVERLAP as drawn" + in + ": by " + shown(-s.between_tyres, 1) + " mm, at a wheelbase of " +
               shown(s.wheelbase, 1) + " mm. Look at the front axle's x and the rear axle's.");
  if (!s.fork_offset) return;
  if (*s.fork_offset >= bike::least_fork_offset && *s.fork_offset <= bike::greatest_fork_offset) return;
  say(2,
      "FORK DOES NOT FIT as drawn" + in + ": the axle lies " + shown(std::abs(*s.fork_offset), 1) + " mm " +
          (*s.fork_offset < 0.0 ? "behind" : "ahead of") +
          " the steering axis through reach and stack, at a head angle of " + shown(layout.front.head_angle, 2) +
          "°; a fork's offset is a few centimetres ahead. Reach, stack, axle and head angle do not belong together, or "
          "the head angle leans the wrong way.");
}

/// How far a layout moves.
void describe_motion(const search::DrawnCase& one, const std::string& name) {
  if (one.failure) {
    say(2, name + ": DOES NOT MOVE through its stroke as drawn: " + *one.failure);
    return;
  }
  std::string out = fmt::format("{}: {:.1f} mm of wheel travel", name, one.travel);
  if (one.layout.shock)
    out += fmt::format(" from {:g} mm of shock stroke (mean leverage {:.2f})", one.layout.shock->stroke,
                       one.travel / one.layout.shock->stroke);
  say(2, out + fmt::format("; least transmission angle {:.1f}° at {}, {:.1f} mm of travel", one.least_transmission,
                           one.least_transmission_joint, one.least_transmission_travel));
}

/// The spring that each rider needs, when there are masses and a spring.
void describe_set_up(const search::DrawnCase& one, const std::string& name) {
  if (one.set_up.empty()) return;
  const bike::Layout& layout = one.layout;
  const bool air = std::holds_alternative<spring::Air>(layout.shock->spring->kind);
  const bool measured = std::holds_alternative<spring::Table>(layout.shock->spring->kind);
  const char* of = layout.sag.of == bike::SagOf::wheel ? "wheel travel" : "shock stroke";
  print_out("  set-up{} for {:g} % of {} as sag:\n", name.empty() ? "" : " in " + name, 100.0 * layout.sag.fraction,
            of);
  for (const bike::SetUpRow& row : one.set_up) {
    std::string out = fmt::format("{:g} kg:", row.rider);
    if (!measured) out += fmt::format(" {:.2f} {}", row.wanted, air ? "bar" : "N/mm");
    if (row.offered && *row.offered != row.wanted) out += fmt::format(", nearest on offer {:.2f}", *row.offered);
    if (air) out += fmt::format(", {} spacers", row.spacers);
    out += fmt::format("{} sag {:.1f} %{}", measured ? "" : ",", 100.0 * row.sag, row.fits ? "" : " (does not fit)");
    if (row.bottom_margin)
      out += fmt::format(", bottom-out margin {:.0f} %{}", *row.bottom_margin,
                         *row.bottom_margin < 0.0 ? ": bottoms out" : "");
    say(4, out);
  }
}

/// The chart's numbers of every case, topped out and at sag; columns that the layout does not give are left out.
void describe_geometry(const search::Drawn& drawn, const std::string& title) {
  using Row = bike::GeometryRow;
  using Align = TextTable::Align;
  struct Column {
    const char* head;
    std::optional<double> (*of)(const Row&);
    int decimals;
  };
  static constexpr Column all[] = {
      {"head angle", [](const Row& r) -> std::optional<double> { return r.head_angle; }, 2},
      {"seat angle", [](const Row& r) { return r.seat_angle; }, 2},
      {"reach", [](const Row& r) { return r.reach; }, 1},
      {"stack", [](const Row& r) { return r.stack; }, 1},
      {"wheelbase", [](const Row& r) -> std::optional<double> { return r.wheelbase; }, 1},
      {"chainstay", [](const Row& r) -> std::optional<double> { return r.chainstay; }, 1},
      {"BB height", [](const Row& r) -> std::optional<double> { return r.bb_height; }, 1},
  };
  std::vector<Column> columns;
  const auto stands = [](const search::DrawnCase& one) { return one.topped_out.has_value(); };
  const auto first = std::find_if(drawn.cases.begin(), drawn.cases.end(), stands);
  if (first == drawn.cases.end()) return;
  for (const Column& column : all)
    if (column.of(*first->topped_out)) columns.push_back(column);
  std::vector<Align> aligned{Align::left, Align::left};
  std::vector<std::string> heads{"", ""};
  for (const Column& column : columns) {
    aligned.push_back(Align::right);
    heads.emplace_back(column.head);
  }
  TextTable table(aligned);
  table.add(heads);
  for (const search::DrawnCase& one : drawn.cases) {
    const auto add = [&](const Row& r, const std::string& name, const char* place) {
      std::vector<std::string> row{name, place};
      for (const Column& column : columns) {
        const std::optional<double> value = column.of(r);
        row.push_back(value ? shown(*value, column.decimals) : "–");
      }
      table.add(row);
    };
    if (one.topped_out) add(*one.topped_out, one.name.empty() ? title : one.name, "topped out");
    if (one.at_sag) add(*one.at_sag, "", "at sag");
  }
  print_out("  geometry in ° and mm, against the ground{}:\n{}",
            first->topped_out->reach ? "" : "; reach and stack are not given", table.text(4));
}

/// Where a layout lies outside what is usual; the cases that a remark is about are named where they are not all.
void describe_guidance(const search::Drawn& drawn, const std::string& title) {
  std::vector<std::vector<objectives::Remark>> cases;
  std::vector<std::string> names;
  for (const search::DrawnCase& one : drawn.cases) {
    if (one.failure) continue;
    cases.push_back(one.guidance);
    names.push_back(one.name.empty() ? title : one.name);
  }
  for (const objectives::SharedRemark& one : objectives::shared(cases)) {
    if (one.remark.verdict.met) continue;
    const std::string unit = unit_of(one.remark.target);
    const std::string least = fmt::format("{:.4g}", one.least), greatest = fmt::format("{:.4g}", one.greatest);
    std::string found = least == greatest ? least : fmt::format("{} to {}", least, greatest);
    if (!unit.empty()) found.append(" ").append(unit);
    if (one.differs(cases.size()))
      for (std::size_t i = 0; i < one.cases.size(); ++i)
        found.append(i == 0 ? " in " : ", ").append(names[one.cases[i]]);
    say(2, fmt::format("guidance: {} is {}; usual is {}. {}", one.remark.record->what, found,
                       report::wish(one.remark.target), one.remark.words()));
  }
}

}  // namespace

std::vector<SizeStance> stances_of(const bike::Layout& layout) {
  std::vector<SizeStance> out;
  std::vector<int> sizes{-1};
  if (!layout.sizes.empty()) {
    sizes.clear();
    for (std::size_t i = 0; i < layout.sizes.size(); ++i) sizes.push_back(static_cast<int>(i));
  }
  for (const int size : sizes) {
    // A setting may pitch the bike: that is what a chip is for.
    const bike::Case which{-1, size};
    bike::Layout one = bike::layout_of(layout, which);
    const bike::Stance stance = bike::stance(one);
    out.push_back({size < 0 ? "" : bike::name_of(layout, which), std::move(one), stance});
  }
  return out;
}

void describe_stance(const bike::Layout& layout, const std::vector<SizeStance>& stances) {
  if (layout.reading > 0.0)
    print_out("  read off a picture: each point within {:.2g} mm along either axis\n", layout.reading);
  for (const SizeStance& one : stances) {
    const std::string in = one.size.empty() ? "" : ", " + one.size;
    describe_level(one.layout, one.stance, in);
    describe_sense(one.layout, one.stance, in);
  }
}

void describe_drawn(const search::Drawn& drawn, const std::string& title) {
  for (const search::DrawnCase& one : drawn.cases) describe_motion(one, one.name.empty() ? title : one.name);
  describe_geometry(drawn, title);
  for (const search::DrawnCase& one : drawn.cases) describe_set_up(one, one.name);
  describe_guidance(drawn, title);
}

}  // namespace trammel::app
