// trammel check FILE
#include <fmt/core.h>
#include <CLI/CLI.hpp>

#include <algorithm>

#include "app/check_parts.hpp"
#include "app/print.hpp"
#include "app/references.hpp"
#include "app/text.hpp"
#include "app/verbs.hpp"
#include "brief/notes.hpp"
#include "io/escape.hpp"
#include "search/preflight.hpp"
#include "search/tolerance.hpp"

namespace trammel::app {
namespace {

/// A layout must move; a brief's drawn layout only says which branch is meant: the search may still find some that do.
void refuse_unmoving(const brief::Brief& brief, const search::Drawn& drawn) {
  for (const search::DrawnCase& one : drawn.cases)
    if (one.failure) throw unmovable(brief, {*one.failure + (one.name.empty() ? "" : " in " + one.name)});
}

search::ToleranceSheet tolerances_of(const brief::Brief& brief) {
  return search::study_tolerances(
      {brief.layout, brief.targets, brief.packaging, objectives::usable_instruction_sets().back()}, *brief.tolerances,
      brief.search.seed, {}, [] {});
}

Outlook outlook_of(const search::Setup& setup) {
  Outlook out{setup, search::drawn_design(setup), {}, {}, {}};
  if (setup.brief.linkage.empty()) out.influence = search::influence_of(setup);
  out.proven = search::proven_conflicts(setup.brief);
  out.notes = search::probe(setup).sentences;
  return out;
}

/// Everything that is to be said, worked out.
Checked checked(const brief::Brief& brief, const std::optional<int>& gradient_layouts) {
  Checked out{brief, stances_of(brief.layout), {}, {}, {}};
  const bool draws = brief.linkages.empty();
  for (const brief::Brief& one : brief::linkages_of(brief)) {
    out.linkages.push_back({one, search::judge_drawn(one.layout, one.targets, one.packaging), {}, {}, {}});
    CheckedLinkage& linkage = out.linkages.back();
    if (brief.vary.empty()) refuse_unmoving(one, linkage.drawn);
    if (draws && one.tolerances && linkage.drawn.moves()) linkage.tolerances = tolerances_of(one);
  }
  if (brief.vary.empty()) return out;
  out.setup = std::make_unique<search::Setup>(brief);
  const auto references = draws ? references_of(brief) : std::nullopt;
  if (references) out.references = read_references(*references, &brief).size();
  for (std::size_t l = 0; l < out.linkages.size(); ++l) {
    const search::Setup& own = out.setup->of(static_cast<std::int64_t>(l));
    out.linkages[l].outlook.emplace(outlook_of(own));
    if (gradient_layouts) out.linkages[l].gradient = search::check_gradient(own, *gradient_layouts);
  }
  return out;
}

/// The brief's linkages, what may vary of each, and what can be said before searching it.
void describe_linkages(const Checked& checked) {
  const brief::Brief& brief = checked.brief;
  const brief::SearchOptions& o = brief.search;
  print_out("{}",
            folded(fmt::format("search: {} linkages, {} shock sizes; for each {} units of {} layouts screened and "
                               "{} refined by {}",
                               brief.linkages.size(), brief.shocks.size(), o.units, o.samples, o.refine, o.algorithm),
                   2, 4));
  list_targets(brief);
  for (const CheckedLinkage& linkage : checked.linkages) {
    print_out("  {}: {} variables\n", linkage.brief.linkage, linkage.outlook->setup.design.size());
    describe_drawn(linkage.drawn, "every range in its middle");
    describe_ranges(*linkage.outlook);
    describe_prospects(*linkage.outlook);
  }
}

void describe_search(const Checked& checked) {
  const brief::Brief& brief = checked.brief;
  const Outlook& outlook = *checked.linkages.front().outlook;
  std::string out = fmt::format("search: {} variables", outlook.setup.design.size());
  if (brief.shocks.size() > 1) out += fmt::format(", {} shock sizes", brief.shocks.size());
  if (brief.idlers.size() > 1) out += fmt::format(", {} idlers", brief.idlers.size());
  if (brief.chainrings.size() > 1) out += fmt::format(", {} chainrings", brief.chainrings.size());
  const brief::SearchOptions& o = brief.search;
  out +=
      fmt::format("; {} units of {} layouts screened and {} refined by {}", o.units, o.samples, o.refine, o.algorithm);
  if (outlook.influence) describe_influence(outlook.setup, *outlook.influence);
  print_out("{}", folded(out, 2, 4));
  describe_ranges(outlook);
  if (checked.references) print_out("  references: {} layouts\n", *checked.references);
  describe_prospects(outlook);
}

void describe(const Checked& checked) {
  const brief::Brief& brief = checked.brief;
  print_out("{}\n", io::escaped(brief.layout.title));
  const brief::Notes notes = brief::notes_of(brief);
  print_out("{}", folded_notes("notes: ", notes.layout, 2));
  for (std::size_t t = 0; t < brief.targets.size(); ++t)
    print_out("{}", folded_notes("note on " + brief.targets[t].name + ": ", notes.of_target(t), 2));
  describe_stance(brief.layout, checked.stances);
  if (brief.linkages.empty()) {
    const CheckedLinkage& one = checked.linkages.front();
    describe_drawn(one.drawn, "drawn layout");
    describe_verdicts(brief, one.drawn);
    if (one.tolerances) describe_tolerances(brief, *one.tolerances);
    if (one.outlook) describe_search(checked);
  } else {
    describe_linkages(checked);
  }
  for (const CheckedLinkage& one : checked.linkages)
    if (one.gradient) describe_gradient(one.outlook->setup, *one.gradient);
}

/// nothing_meets when no linkage can meet every requirement; failed when a gradient is wrong or could not be tried.
int outcome_of(const Checked& checked) {
  const auto wrong = [](const CheckedLinkage& one) {
    return one.gradient && (one.gradient->layouts == 0 || one.gradient->worst.off() > gradient_tolerance);
  };
  const auto hopeless = [](const CheckedLinkage& one) { return one.outlook && !one.outlook->proven.empty(); };
  if (std::any_of(checked.linkages.begin(), checked.linkages.end(), wrong)) return failed;
  return std::all_of(checked.linkages.begin(), checked.linkages.end(), hopeless) ? nothing_meets : done;
}

int run(const std::filesystem::path& file, const std::optional<int>& gradient_layouts, Call& call) {
  const brief::Brief brief = read_or_refuse(file);
  if (gradient_layouts && brief.vary.empty())
    throw BadInput("--gradient: " + file.string() + " varies nothing, so that there is no gradient");
  const Checked all = checked(brief, gradient_layouts);
  if (call.json)
    call.result = check_json(all);
  else
    describe(all);
  return outcome_of(all);
}

}  // namespace

void add_check(CLI::App& program, Call& call) {
  CLI::App* verb =
      program.add_subcommand("check", "Read a brief or layout, judge it as drawn, say what would be done.");
  auto file = std::make_shared<std::filesystem::path>();
  auto gradient = std::make_shared<std::optional<int>>();
  verb->add_option("file", *file, "brief or layout")->required();
  verb->add_option("--gradient", *gradient,
                   "compare the gradient with differences at this many layouts (1 to 1000) and print its worst entry")
      ->check(CLI::Range(1, 1000));
  verb->callback([file, gradient, &call] { guarded(call, [&] { return run(*file, *gradient, call); }); });
}

}  // namespace trammel::app
