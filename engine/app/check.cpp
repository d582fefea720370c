// trammel check FILE
#include <fmt/core.h>

#include <algorithm>

#include "app/check_parts.hpp"
#include "app/print.hpp"
#include "app/references.hpp"
#include "app/text.hpp"
#include "app/verbs.hpp"
#include "brief/place.hpp"
#include "io/escape.hpp"
#include "search/gradient_check.hpp"

namespace trammel::app {
namespace {

/// What may vary of one linkage, and what can be said before searching it.
bool describe_linkage(const search::Setup& setup) {
  const brief::Brief& brief = setup.brief;
  print_out("  {}: {} variables\n", brief.linkage, setup.design.size());
  const search::Drawn middle = search::judge_drawn(brief.layout, brief.targets, brief.packaging);
  describe_drawn(middle, "every range in its middle");
  describe_ranges(setup);
  return describe_prospects(setup);
}

/// The search of a brief that names linkages; false when none of them can meet every must.
bool describe_linkages(const brief::Brief& brief) {
  const search::Setup setup(brief);
  const brief::SearchOptions& o = brief.search;
  print_out("{}",
            folded(fmt::format("search: {} linkages, {} shock sizes; for each {} units of {} layouts screened and "
                               "{} refined by {}",
                               brief.linkages.size(), brief.shocks.size(), o.units, o.samples, o.refine, o.algorithm),
                   2, 4));
  list_targets(brief);
  bool any = false;
  for (std::int64_t l = 0; l < setup.linkage_count(); ++l) any = describe_linkage(setup.of(l)) || any;
  return any;
}

bool describe_search(const brief::Brief& brief) {
  const search::Setup setup(brief);
  std::string out = fmt::format("search: {} variables", setup.design.size());
  if (brief.shocks.size() > 1) out += fmt::format(", {} shock sizes", brief.shocks.size());
  if (brief.idlers.size() > 1) out += fmt::format(", {} idlers", brief.idlers.size());
  if (brief.chainrings.size() > 1) out += fmt::format(", {} chainrings", brief.chainrings.size());
  const brief::SearchOptions& o = brief.search;
  out +=
      fmt::format("; {} units of {} layouts screened and {} refined by {}", o.units, o.samples, o.refine, o.algorithm);
  describe_influence(setup);
  print_out("{}", folded(out, 2, 4));
  describe_ranges(setup);
  if (const auto references = references_of(brief))
    print_out("  references: {} layouts\n",
              read_references(*references, brief::place_of(brief, "references.folder")).size());
  return describe_prospects(setup);
}

/// A gradient that is farther off than this, as a share of its greatest entry, is wrong.
constexpr double gradient_tolerance = 1e-4;

int compare_gradient(const brief::Brief& brief, int layouts) {
  const search::Setup setup(brief);
  const search::GradientCheck check = search::check_gradient(setup, layouts);
  if (check.layouts == 0) {
    print_out("  gradient: no layout found that assembles\n");
    return failed;
  }
  const search::GradientEntry& worst = check.worst;
  std::string out = fmt::format(
      "gradient: {} entries at {} layouts; the worst is off by {:.1e} of its gradient's greatest entry: by {}, exact "
      "{:.9g}, differences {:.9g}, at",
      check.entries, check.layouts, worst.off(), worst.variable, worst.exact, worst.difference);
  for (std::size_t v = 0; v < worst.x.size(); ++v)
    out += fmt::format("{} {} = {:.9g}", v == 0 ? "" : ",", setup.design.variables()[v].name,
                       setup.design.variables()[v].at(worst.x[v]));
  print_out("{}", folded(out, 2, 4));
  return worst.off() > gradient_tolerance ? failed : done;
}

/// A layout must move; a brief's drawn layout only says which branch is meant: the search may still find some that do.
void refuse_unmoving(const brief::Brief& brief, const search::Drawn& drawn) {
  for (const search::DrawnCase& one : drawn.cases)
    if (one.failure) throw unmovable(brief, {*one.failure + (one.name.empty() ? "" : " in " + one.name)});
}

int run(const std::filesystem::path& file, const std::optional<int>& gradient_layouts) {
  const brief::Brief brief = read_or_refuse(file);
  if (gradient_layouts && brief.vary.empty())
    throw BadInput("--gradient: " + file.string() + " varies nothing, so that there is no gradient");
  int prospects = done;
  if (!brief.linkages.empty()) {
    print_out("{}\n", io::escaped(brief.layout.title));
    describe_stance(brief.layout);
    prospects = describe_linkages(brief) ? done : nothing_meets;
  } else {
    const bool layout_only = brief.vary.empty();
    const search::Drawn drawn = search::judge_drawn(brief.layout, brief.targets, brief.packaging);
    if (layout_only) refuse_unmoving(brief, drawn);
    print_out("{}\n", io::escaped(brief.layout.title));
    describe_stance(brief.layout);
    describe_drawn(drawn, "drawn layout");
    describe_verdicts(brief, drawn);
    if (drawn.moves()) describe_tolerances(brief);
    prospects = layout_only || describe_search(brief) ? done : nothing_meets;
  }
  int gradient = done;
  if (gradient_layouts)
    for (const brief::Brief& one : brief::linkages_of(brief))
      gradient = std::max(gradient, compare_gradient(one, *gradient_layouts));
  return gradient != done ? gradient : prospects;
}

}  // namespace

void add_check(CLI::App& program, int& exit) {
  CLI::App* verb =
      program.add_subcommand("check", "Read a brief or layout, judge it as drawn, say what would be done.");
  auto file = std::make_shared<std::filesystem::path>();
  auto gradient = std::make_shared<std::optional<int>>();
  verb->add_option("file", *file, "brief or layout")->required();
  verb->add_option("--gradient", *gradient,
                   "compare the gradient with differences at this many layouts (1 to 1000) and print its worst entry")
      ->check(CLI::Range(1, 1000));
  verb->callback([file, gradient, &exit] { exit = guarded([&] { return run(*file, *gradient); }); });
}

}  // namespace trammel::app
