// trammel check FILE
#include <fmt/core.h>

#include <algorithm>

#include "app/references.hpp"
#include "app/verbs.hpp"
#include "bike/cases.hpp"
#include "bike/set_up.hpp"
#include "bike/table.hpp"
#include "objectives/guidance.hpp"
#include "search/gradient_check.hpp"
#include "search/preflight.hpp"
#include "search/score.hpp"
#include "search/tolerance.hpp"

namespace trammel::app {
namespace {

/// How far a layout moves; `name` is the case's, or says that it is as drawn.
void describe_layout(const bike::Layout& layout, const std::string& name) {
  const bike::Motion motion = bike::trace(layout, 2, true);
  const double travel = motion.poses.back().travel;
  fmt::print("  {}: {:.1f} mm of wheel travel", name, travel);
  if (layout.shock)
    fmt::print(" from {:g} mm of shock stroke (mean leverage {:.2f})", layout.shock->stroke,
               travel / layout.shock->stroke);
  fmt::print("; least transmission angle {:.1f}° at {}\n", motion.least_transmission, motion.least_transmission_joint);
}

/// The spring that each rider needs, when there are masses and a spring.
void describe_set_up(const bike::Layout& layout) {
  const std::vector<bike::SetUpRow> rows = bike::set_up(layout);
  if (rows.empty()) return;
  const bool air = std::holds_alternative<spring::Air>(layout.shock->spring->kind);
  const bool measured = std::holds_alternative<spring::Table>(layout.shock->spring->kind);
  const char* of = layout.sag.of == bike::SagOf::wheel ? "wheel travel" : "shock stroke";
  fmt::print("  set-up for {:g} % of {} as sag:\n", 100.0 * layout.sag.fraction, of);
  for (const bike::SetUpRow& row : rows) {
    fmt::print("    {:g} kg:", row.rider);
    if (!measured) fmt::print(" {:.2f} {}", row.wanted, air ? "bar" : "N/mm");
    if (row.offered && *row.offered != row.wanted) fmt::print(", nearest on offer {:.2f}", *row.offered);
    if (air) fmt::print(", {} spacers", row.spacers);
    fmt::print("{} sag {:.1f} %{}", measured ? "" : ",", 100.0 * row.sag, row.fits ? "" : " (not the one wanted)");
    if (row.bottom_margin) fmt::print(", bottom-out margin {:.0f} %{}", *row.bottom_margin, *row.bottom_margin < 0.0 ? ": bottoms out" : "");
    fmt::print("\n");
  }
}

/// Where a layout lies outside what is usual; the cases that a remark is about are named where they are not all.
void describe_guidance(const std::vector<std::vector<objectives::Remark>>& cases,
                       const std::vector<std::string>& names) {
  for (const objectives::SharedRemark& one : objectives::shared(cases)) {
    if (one.remark.verdict.met) continue;
    const std::string unit = unit_of(one.remark.target);
    const std::string least = fmt::format("{:.4g}", one.least), greatest = fmt::format("{:.4g}", one.greatest);
    std::string found = least == greatest ? least : fmt::format("{} to {}", least, greatest);
    if (!unit.empty()) found.append(" ").append(unit);
    if (one.differs(cases.size()))
      for (std::size_t i = 0; i < one.cases.size(); ++i)
        found.append(i == 0 ? " in " : ", ").append(names[one.cases[i]]);
    fmt::print("  guidance: {} is {}. {}\n", one.remark.record->what, found, one.remark.words());
  }
}

/// What can be said before searching; false when no layout can meet every must.
bool describe_prospects(const search::Setup& setup) {
  const std::vector<std::string> proven = search::proven_conflicts(setup.brief);
  for (const std::string& sentence : proven) fmt::print("  cannot be met: {}\n", sentence);
  for (const std::string& sentence : search::probe(setup).sentences) fmt::print("  note: {}\n", sentence);
  return proven.empty();
}

void describe_ranges(const search::Setup& setup) {
  for (const search::Variable& v : setup.design.variables())
    fmt::print("    {:<16} {:g} to {:g} {}\n", v.name, v.lo, v.hi, v.unit);
}

void describe_targets(const brief::Brief& brief) {
  fmt::print("  targets:\n");
  for (const objectives::Target& t : brief.targets)
    fmt::print("    {:<32} {}{}\n", t.name, t.must ? "must" : fmt::format("weight {:g}", t.weight),
               t.in.empty() ? "" : ", in " + t.in);
}

/// What may vary of one linkage, and what can be said before searching it.
bool describe_linkage(const search::Setup& setup) {
  const brief::Brief& brief = setup.brief;
  fmt::print("  {}: {} variables\n", brief.linkage, setup.design.size());
  try {
    describe_layout(brief.layout, "drawn layout");
  } catch (const bike::MotionFailure& failure) {
    fmt::print("  drawn layout: {}\n", failure.text);
  }
  describe_ranges(setup);
  return describe_prospects(setup);
}

/// The search of a brief that names linkages; false when none of them can meet every must.
bool describe_linkages(const brief::Brief& brief) {
  const search::Setup setup(brief);
  const brief::SearchOptions& o = brief.search;
  fmt::print("  search: {} linkages, {} shock sizes; for each {} units of {} layouts screened and {} refined by {}\n",
             brief.linkages.size(), brief.shocks.size(), o.units, o.samples, o.refine, o.algorithm);
  describe_targets(brief);
  bool any = false;
  for (std::int64_t l = 0; l < setup.linkage_count(); ++l) any = describe_linkage(setup.of(l)) || any;
  return any;
}

bool describe_search(const brief::Brief& brief) {
  const search::Setup setup(brief);
  fmt::print("  search: {} variables", setup.design.size());
  if (brief.shocks.size() > 1) fmt::print(", {} shock sizes", brief.shocks.size());
  if (brief.idlers.size() > 1) fmt::print(", {} idlers", brief.idlers.size());
  const brief::SearchOptions& o = brief.search;
  fmt::print("; {} units of {} layouts screened and {} refined by {}\n", o.units, o.samples, o.refine, o.algorithm);
  describe_ranges(setup);
  describe_targets(brief);
  if (const auto references = references_of(brief))
    fmt::print("  references: {} layouts\n", read_references(*references).size());
  return describe_prospects(setup);
}

/// What tolerances do to the layout as drawn.
void describe_tolerances(const brief::Brief& brief) {
  if (!brief.tolerances) return;
  const search::ToleranceSheet sheet = search::study_tolerances(
      {brief.layout, brief.targets, brief.packaging, objectives::usable_instruction_sets().back()}, *brief.tolerances,
      brief.search.seed, {}, [] {});
  fmt::print(
      "  tolerances: {} coordinates; of {} frames built as drawn {:.1f} % ({:.1f} to {:.1f} %) keep {}\n",
      sheet.coordinates.size(), sheet.yield.of, 100.0 * sheet.yield.share(), 100.0 * sheet.yield.lo,
      100.0 * sheet.yield.hi, search::what_is_kept(brief.targets));
  for (std::size_t t = 0; t < brief.targets.size(); ++t) {
    const search::TargetSpread& spread = sheet.targets[t];
    fmt::print("    {:<32} {:.4g}, standard deviation {:.3g} (to first order {:.3g}), {:.1f} % meet it\n",
               brief.targets[t].name, spread.mean, spread.deviation, spread.first_order, 100.0 * spread.met.share());
  }
}

/// A gradient that is farther off than this, as a share of its greatest entry, is wrong.
constexpr double gradient_tolerance = 1e-4;

int compare_gradient(const brief::Brief& brief, int layouts) {
  const search::Setup setup(brief);
  const search::GradientCheck check = search::check_gradient(setup, layouts);
  if (check.layouts == 0) {
    fmt::print("  gradient: no layout found that assembles\n");
    return failed;
  }
  const search::GradientEntry& worst = check.worst;
  fmt::print(
      "  gradient: {} entries at {} layouts; the worst is off by {:.1e} of its gradient's greatest entry: by {}, "
      "exact {:.9g}, differences {:.9g}, at",
      check.entries, check.layouts, worst.off(), worst.variable, worst.exact, worst.difference);
  for (std::size_t v = 0; v < worst.x.size(); ++v)
    fmt::print("{} {} = {:.9g}", v == 0 ? "" : ",", setup.design.variables()[v].name,
               setup.design.variables()[v].at(worst.x[v]));
  fmt::print("\n");
  return worst.off() > gradient_tolerance ? failed : done;
}

int run(const std::filesystem::path& file, const std::optional<int>& gradient_layouts) {
  const brief::Brief brief = read_or_refuse(file);
  if (gradient_layouts && brief.vary.empty())
    throw BadInput("--gradient: " + file.string() + " varies nothing, so that there is no gradient");
  const bool layout_only = brief.vary.empty();
  if (!brief.linkages.empty()) {
    fmt::print("{}\n", brief.layout.title);
    const int prospects = describe_linkages(brief) ? done : nothing_meets;
    int gradient = done;
    for (const brief::Brief& linkage : brief.linkages)
      if (gradient_layouts) gradient = std::max(gradient, compare_gradient(linkage, *gradient_layouts));
    return gradient != done ? gradient : prospects;
  }
  std::string titled = brief.layout.title + "\n";
  std::vector<std::vector<objectives::Remark>> guidance;
  std::vector<std::string> described;
  for (const bike::Case& which : bike::cases_of(brief.layout)) {
    const std::string own = bike::name_of(brief.layout, which);
    const std::string name = own.empty() ? "drawn layout" : own;
    try {
      const bike::Layout layout = bike::layout_of(brief.layout, which);
      bike::trace(layout, 2, true);  // before anything is printed of a layout that is refused
      fmt::print("{}", std::exchange(titled, ""));
      if (layout.reading > 0.0)
        fmt::print("  read off a picture: each point within {:.2g} mm along either axis\n", layout.reading);
      describe_layout(layout, name);
      describe_set_up(layout);
      guidance.push_back(objectives::remarks(layout));
      described.push_back(name);
    } catch (const bike::MotionFailure& failure) {
      // A brief's drawn layout only says which branch is meant; the search may still find layouts that move.
      if (layout_only) throw unmovable(file, {own.empty() ? failure.text : failure.text + " in " + own});
      fmt::print("{}  {}: {}\n", std::exchange(titled, ""), name, failure.text);
    }
  }
  describe_guidance(guidance, described);
  describe_tolerances(brief);
  const int prospects = layout_only || describe_search(brief) ? done : nothing_meets;
  const int gradient = gradient_layouts ? compare_gradient(brief, *gradient_layouts) : done;
  return gradient != done ? gradient : prospects;
}

}  // namespace

void add_check(CLI::App& program, int& exit) {
  CLI::App* verb = program.add_subcommand("check", "Read a brief or layout and say what would be done.");
  auto file = std::make_shared<std::filesystem::path>();
  auto gradient = std::make_shared<std::optional<int>>();
  verb->add_option("file", *file, "brief or layout")->required();
  verb->add_option("--gradient", *gradient,
                   "compare the gradient with differences at this many layouts (1 to 1000) and print its worst entry")
      ->check(CLI::Range(1, 1000));
  verb->callback([file, gradient, &exit] { exit = guarded([&] { return run(*file, *gradient); }); });
}

}  // namespace trammel::app
