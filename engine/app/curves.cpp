// trammel curves LAYOUT [--stations N] [--csv FILE]
#include <fmt/core.h>

#include <fstream>

#include "app/verbs.hpp"
#include "report/write.hpp"

namespace trammel::app {
namespace {

struct Arguments {
  std::filesystem::path layout;
  int stations = 41;
  std::optional<std::filesystem::path> csv;
};

int run(const Arguments& a) {
  const brief::Brief brief = read_or_refuse(a.layout);
  std::string text;
  try {
    text = report::curves_csv(bike::trace(brief.layout, a.stations, false).table);
  } catch (const bike::MotionFailure& failure) {
    throw unmovable(a.layout, failure);
  }
  if (!a.csv) {
    std::fwrite(text.data(), 1, text.size(), stdout);
    return done;
  }
  std::ofstream file(*a.csv, std::ios::binary);
  file << text;
  file.close();
  if (!file) throw std::runtime_error("cannot write " + a.csv->string());
  fmt::print(stderr, "wrote {}\n", a.csv->string());
  return done;
}

}  // namespace

void add_curves(CLI::App& program, int& exit) {
  CLI::App* verb = program.add_subcommand("curves", "Print the curves of one layout as CSV.");
  auto a = std::make_shared<Arguments>();
  verb->add_option("layout", a->layout, "layout file (of a brief, the drawn layout)")->required();
  verb->add_option("--stations", a->stations, "stations, uniform in shock compression, both ends included")
      ->check(CLI::Range(2, 100000))
      ->capture_default_str();
  verb->add_option("--csv", a->csv, "write to this file instead of standard output");
  verb->callback([a, &exit] { exit = guarded([&] { return run(*a); }); });
}

}  // namespace trammel::app
