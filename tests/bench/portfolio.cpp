// Which method of refinement takes the least work to a layout that meets every must: shipped briefs, several seeds.
//
// bench_portfolio [SEEDS]: prints a Markdown table of the median evaluations (and those of the worst seed) over the
// seeds, screening left out, which all methods share. A portfolio gives each work unit the next of its methods. The
// last column is the trail brief with a demand that hardly a layout meets: at most 27° of pedal kickback.
#include <algorithm>
#include <cstdio>
#include <cstdlib>
#include <string>

#include "brief/read.hpp"
#include "search/unit.hpp"

using namespace trammel;

namespace {

/// More than that counts as not found.
constexpr std::int64_t most_evaluations = 50000;

/// Evaluations until the first unit with a layout that meets every must; one refinement a unit.
std::int64_t work(const std::vector<search::Setup*>& methods) {
  std::int64_t evaluations = 0;
  for (std::int64_t unit = 0; evaluations < most_evaluations; ++unit) {
    const search::Setup& setup = *methods[static_cast<std::size_t>(unit) % methods.size()];
    const store::UnitRow row = *search::run_unit(setup, unit, nullptr);
    evaluations += row.evaluations;
    for (const store::LayoutRow& layout : row.layouts)
      if (layout.musts_met == layout.musts) return evaluations;
  }
  return most_evaluations;
}

const std::string tightened = "trail-150, tightened";

brief::Reading read(const std::string& name) {
  const std::string file = name == tightened ? "trail-150" : name;
  brief::Reading reading = brief::read_file(TRAMMEL_SOURCE_DIR "/configs/" + file + ".yaml");
  if (!reading.ok()) throw std::runtime_error(reading.message());
  for (objectives::Target& target : reading.brief.targets) {
    if (name != tightened || target.name != "feet") continue;
    target.wish.lo = target.wish.hi = 27.0;
    target.must = true;
  }
  return reading;
}

std::string shown(std::int64_t evaluations) {
  return evaluations >= most_evaluations ? "> 50 000" : std::to_string(evaluations);
}

}  // namespace

int main(int argc, char** argv) {
  const int seeds = argc > 1 ? std::atoi(argv[1]) : 11;
  const std::vector<std::string> names{"trail-150", "enduro-170", "downhill-200", "cross-country-110", tightened};
  const std::vector<std::vector<std::string>> portfolios{
      {"LD_LBFGS"},  {"LD_SLSQP"},  {"LD_VAR2"},    {"LD_TNEWTON_PRECOND_RESTART"}, {"LD_CCSAQ"},           {"LD_MMA"},
      {"LN_BOBYQA"}, {"LN_COBYLA"}, {"GN_CRS2_LM"}, {"LD_LBFGS", "LD_SLSQP"},       {"LD_LBFGS", "LD_VAR2"}};
  std::printf("| methods |");
  for (const std::string& name : names) std::printf(" %s |", name.c_str());
  std::printf("\n|---|---|---|---|---|---|\n");
  for (const auto& portfolio : portfolios) {
    std::string label;
    for (const std::string& method : portfolio) label += (label.empty() ? "" : ", ") + method;
    std::printf("| %s |", label.c_str());
    for (const std::string& name : names) {
      std::vector<std::int64_t> spent;
      for (int seed = 1; seed <= seeds; ++seed) {
        brief::Reading reading = read(name);
        std::vector<brief::Brief> briefs(portfolio.size(), reading.brief);
        std::vector<std::unique_ptr<search::Setup>> setups;
        std::vector<search::Setup*> methods;
        for (std::size_t i = 0; i < portfolio.size(); ++i) {
          briefs[i].search.seed = static_cast<std::uint64_t>(seed);
          briefs[i].search.refine = 1;
          briefs[i].search.algorithm = portfolio[i];
          methods.push_back(setups.emplace_back(std::make_unique<search::Setup>(briefs[i])).get());
        }
        spent.push_back(work(methods));
      }
      std::sort(spent.begin(), spent.end());
      std::printf(" %s (%s) |", shown(spent[spent.size() / 2]).c_str(), shown(spent.back()).c_str());
      std::fflush(stdout);
    }
    std::printf("\n");
  }
}
