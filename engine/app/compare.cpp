// trammel compare A B
// trammel compare LAYOUT… --out DIR
#include <fmt/core.h>
#include <CLI/CLI.hpp>

#include "app/changes.hpp"
#include "app/print.hpp"
#include "app/verbs.hpp"
#include "bike/cases.hpp"
#include "brief/notes.hpp"
#include "report/write.hpp"
#include "search/make_sheet.hpp"
#include "search/tolerance.hpp"

namespace trammel::app {
namespace {

struct Arguments {
  std::vector<std::filesystem::path> layouts;
  std::optional<std::filesystem::path> out;
  std::vector<double> travels;
};

/// Most layouts that one page takes; beyond that no curve can be told from another.
constexpr std::size_t most_sheets = 12;

/// A layout in each of its settings and sizes.
void add_cases(const brief::Brief& brief, const std::string& file, const std::string& own_notes,
               std::vector<search::Sheet>& sheets, std::vector<std::string>& notes) {
  for (const bike::Case& which : bike::cases_of(brief.layout)) {
    const std::string own = bike::name_of(brief.layout, which);
    const bike::Layout layout = bike::layout_of(brief.layout, which);
    sheets.push_back(search::make_sheet(layout, {}, brief.packaging));
    notes.push_back(own_notes);
    if (brief.tolerances) {
      const std::vector<objectives::Target> none;
      const search::Drawing drawing{layout, none, brief.packaging, objectives::usable_instruction_sets().back()};
      sheets.back().tolerance = search::study_tolerances(drawing, *brief.tolerances, brief.search.seed,
                                                         search::banded(sheets.back().motion.table), [] {});
    }
    sheets.back().rank = static_cast<int>(sheets.size());
    const std::string name = brief.linkage.empty() ? file : brief.linkage;
    sheets.back().id = name;
    if (!own.empty()) sheets.back().id.append(" ").append(own);
    if (!brief.linkage.empty()) sheets.back().layout.title = brief.linkage_title;
  }
}

int run(const Arguments& a, Call& call) {
  if (!a.out) {
    if (a.layouts.size() != 2)
      throw BadInput("compare: two files are told apart in tables, and these are " + std::to_string(a.layouts.size()) +
                     "; give --out DIR for a page of layouts side by side");
    const Changes changes = changes_between(a.layouts[0], a.layouts[1], a.travels);
    if (call.json)
      call.result = changes_json(changes);
    else
      print_changes(changes);
    return done;
  }
  if (!a.travels.empty()) throw BadInput("--at: goes without --out; the page shows the whole travel");
  std::vector<brief::Problem> problems;
  std::vector<search::Sheet> sheets;
  std::vector<std::string> notes;
  for (const auto& file : a.layouts) {
    try {
      const brief::Brief brief = read_or_refuse(file);
      const std::string own = brief::notes_of(brief).layout;
      try {
        for (const brief::Brief& one : brief::linkages_of(brief))
          add_cases(one, file.stem().string(), own, sheets, notes);
      } catch (const bike::MotionFailure& failure) {
        problems.push_back(unmovable(brief, failure).problems.front());
      }
    } catch (const BadInput& e) {
      problems.insert(problems.end(), e.problems.begin(), e.problems.end());
    }
  }
  if (!problems.empty()) throw BadInput(problems);
  if (sheets.size() < 2 || sheets.size() > most_sheets)
    throw BadInput("layouts: from 2 to " + std::to_string(most_sheets) +
                   " go on a page, settings and sizes counted; these are " + std::to_string(sheets.size()));
  make_out_folder(*a.out);
  report::write_comparison(sheets, *a.out, notes);
  const std::string page = (*a.out / "index.html").string();
  if (!call.json) {
    print_out("comparison: {}\n", page);
    return done;
  }
  call.result = {{"page", page}, {"layouts", Json::array()}};
  for (const search::Sheet& sheet : sheets) call.result["layouts"].push_back(sheet.id);
  return done;
}

}  // namespace

void add_compare(CLI::App& program, Call& call) {
  CLI::App* verb = program.add_subcommand(
      "compare",
      "Say what changed between two briefs or two revisions of a layout; or, with --out, set layouts, or the "
      "settings and sizes of one, side by side on one page.");
  auto a = std::make_shared<Arguments>();
  verb->add_option("layouts", a->layouts, "layouts or briefs")->required()->expected(1, static_cast<int>(most_sheets));
  verb->add_option("--at", a->travels, "further places at which the curves of two are compared, mm of wheel travel")
      ->delimiter(',')
      ->check(CLI::Range(0.0, 1000.0));
  verb->add_option("--out", a->out, "folder of the page");
  verb->callback([a, &call] { guarded(call, [&] { return run(*a, call); }); });
}

}  // namespace trammel::app
