// trammel compare LAYOUT… --out DIR
#include <fmt/core.h>

#include "app/verbs.hpp"
#include "report/write.hpp"
#include "search/shortlist.hpp"

namespace trammel::app {
namespace {

struct Arguments {
  std::vector<std::filesystem::path> layouts;
  std::filesystem::path out;
};

int run(const Arguments& a) {
  std::string problems;
  std::vector<search::Sheet> sheets;
  for (const auto& file : a.layouts) {
    try {
      const brief::Brief brief = read_or_refuse(file);
      for (const brief::Brief& one : brief::linkages_of(brief)) {
        sheets.push_back(search::make_sheet(one.layout, {}, one.packaging));
        sheets.back().rank = static_cast<int>(sheets.size());
        sheets.back().id = one.linkage.empty() ? file.stem().string() : one.linkage;
        if (!one.linkage.empty()) sheets.back().layout.title = one.linkage_title;
      }
    } catch (const BadInput& e) {
      problems += e.what();
    } catch (const bike::MotionFailure& e) {
      problems += std::string(unmovable(file, e).what()) + "\n";
    }
  }
  if (!problems.empty()) throw BadInput(problems);
  make_out_folder(a.out);
  report::write_comparison(sheets, a.out);
  fmt::print("comparison: {}\n", (a.out / "index.html").string());
  return done;
}

}  // namespace

void add_compare(CLI::App& program, int& exit) {
  CLI::App* verb = program.add_subcommand("compare", "Set layouts side by side on one page.");
  auto a = std::make_shared<Arguments>();
  verb->add_option("layouts", a->layouts, "layout files")->required()->expected(2, 12);
  verb->add_option("--out", a->out, "folder of the page")->required();
  verb->callback([a, &exit] { exit = guarded([&] { return run(*a); }); });
}

}  // namespace trammel::app
