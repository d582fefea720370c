// trammel prove FILE
#include <fmt/core.h>
#include <CLI/CLI.hpp>

#include <algorithm>
#include <chrono>

#include "app/interrupt.hpp"
#include "app/print.hpp"
#include "app/run_flags.hpp"
#include "app/study.hpp"
#include "app/text.hpp"
#include "app/verbs.hpp"
#include "io/escape.hpp"
#include "search/prove.hpp"

namespace trammel::app {
namespace {

struct Arguments {
  std::filesystem::path file;
  std::int64_t boxes = 20000;
  std::optional<std::string> time;
  std::optional<int> threads;
};

struct Proven {
  const brief::Brief& brief;
  const search::Setup& setup;
  std::vector<search::ProofPart> parts;
  bool stopped = false;  ///< by Ctrl-C

  bool nothing_left() const {
    return std::all_of(parts.begin(), parts.end(), [](const search::ProofPart& part) { return part.empty(); });
  }
  /// "linkage single_pivot, shock 2"; empty where there is no choice.
  std::string name_of(const search::ProofPart& part) const {
    std::string out;
    if (setup.linkage_count() > 1) out = "linkage " + setup.of(part.linkage).brief.linkage;
    if (setup.of(part.linkage).design.choices() > 1)
      out += (out.empty() ? "choice " : ", choice ") + std::to_string(part.choice + 1);
    return out;
  }
};

/// A share in per cent, never rounded to all or nothing.
std::string per_cent(double share) {
  if (share <= 0.0 || share >= 1.0) return share <= 0.0 ? "0 %" : "100 %";
  return fmt::format("{:.4g} %", std::clamp(100.0 * share, 1e-6, 99.9999));
}

/// Variables whose range is narrower than the brief's by a thousandth or more.
template <class Take>
void each_narrowed(const Proven& proven, const search::ProofPart& part, Take take) {
  const auto& variables = proven.setup.of(part.linkage).design.variables();
  for (std::size_t i = 0; i < part.hull.size(); ++i)
    if (part.hull[i].hi - part.hull[i].lo < 0.999) take(variables[i], search::in_unit(variables[i], part.hull[i]));
}

void describe(const Proven& proven, const search::ProofPart& part) {
  const std::string name = proven.name_of(part), lead = name.empty() ? "" : name + ": ";
  if (!part.judged) {
    print_out("{}", folded(lead + "nothing can be proven of it: the linkage has a loop that only iteration closes, "
                                  "every setting moves points, or too much varies.",
                           2, 4));
    return;
  }
  const brief::Brief& brief = proven.setup.of(part.linkage).brief;
  if (part.empty())
    print_out("{}", folded(fmt::format("{}proven: no layout in these ranges meets these requirements ({} boxes judged)",
                                       lead, part.boxes),
                           2, 4));
  else
    print_out("{}", folded(fmt::format("{}{} of the ranges' volume may hold layouts that meet every requirement; the "
                                       "rest is proven to hold none ({} boxes judged, {} left)",
                                       lead, per_cent(part.left), part.boxes, part.boxes_left.size()),
                           2, 4));
  each_narrowed(proven, part, [&](const search::Variable& variable, const math::Interval& left) {
    print_out("{}", folded(fmt::format("{}: only {:.6g} to {:.6g} {} is left of {:g} to {:g}", variable.name, left.lo,
                                       left.hi, variable.unit, variable.lo, variable.hi),
                           4, 6));
  });
  std::string by;
  for (const search::MustShare& must : part.musts)
    if (must.share >= 0.001)
      by += (by.empty() ? "dropped for: " : ", ") + name_of(must.must, brief) + " " + per_cent(must.share);
  if (!by.empty()) print_out("{}", folded(by, 4, 6));
}

void describe(const Proven& proven) {
  print_out("{}\n", io::escaped(proven.brief.layout.title));
  for (const search::ProofPart& part : proven.parts) describe(proven, part);
}

Json part_json(const Proven& proven, const search::ProofPart& part) {
  const search::Setup& own = proven.setup.of(part.linkage);
  Json out{{"linkage", text_or_null(own.brief.linkage)},
           {"choice", part.choice + 1},
           {"judged", part.judged},
           {"proven_empty", part.empty()},
           {"share_left", json_number(part.left)},
           {"boxes", part.boxes},
           {"boxes_left", part.boxes_left.size()},
           {"ranges_left", Json::array()},
           {"dropped_for", Json::array()}};
  for (std::size_t i = 0; i < part.hull.size(); ++i) {
    const search::Variable& variable = own.design.variables()[i];
    const math::Interval left = search::in_unit(variable, part.hull[i]);
    out["ranges_left"].push_back({{"variable", variable.name},
                                  {"unit", variable.unit},
                                  {"from", json_number(left.lo)},
                                  {"to", json_number(left.hi)}});
  }
  for (const search::MustShare& must : part.musts)
    out["dropped_for"].push_back({{"requirement", name_of(must.must, own.brief)}, {"share", json_number(must.share)}});
  return out;
}

int run(const Arguments& a, Call& call) {
  const brief::Brief brief = read_or_refuse(a.file);
  if (brief.vary.empty() && brief.linkages.empty())
    throw BadInput("prove: " + a.file.string() + " varies nothing; `trammel check` judges it");
  search::ProofOptions options;
  options.boxes = a.boxes;
  options.threads = threads_for(a.threads).count;
  const auto start = std::chrono::steady_clock::now();
  const double most = a.time ? parse_duration(*a.time, "--time") : 0.0;
  const search::Setup setup(brief);
  const Interrupt interrupt;
  const auto stop = [&](double share) {
    const std::chrono::duration<double> taken = std::chrono::steady_clock::now() - start;
    return interrupt.finish() || (a.time && taken.count() >= most * share);
  };
  Proven proven{brief, setup, search::prove(setup, options, stop), interrupt.finish()};
  if (call.json) {
    call.result = {{"title", brief.layout.title}, {"proven_empty", proven.nothing_left()}, {"parts", Json::array()}};
    for (const search::ProofPart& part : proven.parts) call.result["parts"].push_back(part_json(proven, part));
  } else {
    describe(proven);
  }
  if (proven.nothing_left()) return nothing_meets;
  return proven.stopped ? interrupted : done;
}

}  // namespace

void add_prove(CLI::App& program, Call& call) {
  CLI::App* verb = program.add_subcommand(
      "prove", "Prove for as much of a brief's ranges as it can that no layout there meets every requirement.");
  auto a = std::make_shared<Arguments>();
  verb->add_option("file", a->file, "brief")->required();
  verb->add_option("--boxes", a->boxes, "most boxes that are judged, for each linkage and discrete choice")
      ->check(CLI::Range(std::int64_t{1}, std::int64_t{1'000'000'000}))
      ->capture_default_str();
  verb->add_option("--time", a->time,
                   "stop after so long, e.g. 90s, 15m, 8h; what is left then depends on the machine");
  verb->add_option("--threads", a->threads, "threads (default: what this machine or its scheduler grants)");
  verb->callback([a, &call] { guarded(call, [&] { return run(*a, call); }); });
}

}  // namespace trammel::app
