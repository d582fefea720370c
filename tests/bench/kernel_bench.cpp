// Time per layout: screening and refinement as the search calls them, and all curves of one layout.
#include <benchmark/benchmark.h>

#include "tests/bench/sample.hpp"

using namespace trammel;
using namespace trammel::bench;

namespace {

const Sample& sample() {
  static const Sample s;
  return s;
}

/// Calls `run` with one item after the other, round and round: an iteration is a layout.
template <class Items, class Run>
void each(benchmark::State& state, const Items& items, Run run) {
  std::size_t i = 0;
  for (auto _ : state) {
    run(items[i]);
    if (++i == items.size()) i = 0;
  }
}

/// An iteration is a block of samples, as a unit screens them.
void screen(benchmark::State& state, double limit) {
  search::Scorer scorer(sample().setup, 0);
  constexpr std::size_t block = 256;
  const std::size_t blocks = sample().all.size() / block;
  std::size_t i = 0;
  for (auto _ : state) {
    benchmark::DoNotOptimize(scorer.screen(i * block, block, screening, limit));
    if (++i == blocks) i = 0;
  }
  state.counters["layouts"] = static_cast<double>(block);
}
void screen_full(benchmark::State& state) {
  screen(state, std::numeric_limits<double>::infinity());
}
void screen_staged(benchmark::State& state) {
  screen(state, sample().limit);
}
void value(benchmark::State& state) {
  search::Scorer scorer(sample().setup, 0);
  each(state, sample().best, [&](const auto& x) { benchmark::DoNotOptimize(scorer.figure(x, refining, {})); });
}
void value_gradient(benchmark::State& state) {
  search::Scorer scorer(sample().setup, 0);
  std::vector<double> gradient(static_cast<std::size_t>(sample().setup.design.size()));
  each(state, sample().best, [&](const auto& x) { benchmark::DoNotOptimize(scorer.figure(x, refining, gradient)); });
}

/// The slopes of every target's values one by one, as least squares would need them; with the rules those of every
/// packaging rule, too, as a front needs them.
void value_jacobian(benchmark::State& state, bool rules) {
  search::Scorer scorer(sample().setup, 0);
  const auto n = static_cast<std::size_t>(sample().setup.design.size());
  std::vector<objectives::Quantity> quantities;
  const auto choose = [&](const search::Scorer::CaseView& view) {
    for (std::size_t t = 0; t < view.outcome.values.size(); ++t)
      for (std::size_t i = 0; i < view.outcome.values[t].size(); ++i)
        quantities.push_back({objectives::Quantity::Kind::value, t, i});
    if (!rules) return;
    objectives::each_rule(view.demands, view.outcome, objectives::Told::all,
                          [&](const objectives::Quantity& quantity, const auto&) { quantities.push_back(quantity); });
  };
  std::vector<double> rows;
  each(state, sample().best, [&](const auto& x) {
    scorer.each_case(x, true, [&](const search::Scorer::CaseView& view) {
      if (quantities.empty()) choose(view);
      rows.resize(quantities.size() * n);
      view.evaluator.slopes(view.tangents, quantities, rows);
      benchmark::DoNotOptimize(rows.data());
      benchmark::ClobberMemory();
    });
  });
  state.counters["rows"] = static_cast<double>(quantities.size());
}
void value_target_rows(benchmark::State& state) {
  value_jacobian(state, false);
}
void value_all_rows(benchmark::State& state) {
  value_jacobian(state, true);
}

/// As a trace does: a march, then the curves at even stations.
void march_and_curves(benchmark::State& state, const bike::Model& model,
                      const std::vector<std::vector<linkage::Point>>& layouts, const bike::Wanted& wanted) {
  bike::Sweep<double> sweep(model, 24);
  each(state, layouts, [&](const auto& points) {
    sweep.march(points, [](std::size_t, const linkage::State<double>&) {});
    for (std::size_t i = 0; i < stations; ++i)
      benchmark::DoNotOptimize(sweep.at(model.range() * static_cast<double>(i) / (stations - 1), wanted));
  });
}
void kernel_march_and_curves(benchmark::State& state) {
  march_and_curves(state, sample().model(), sample().moving, same_curves());
}
/// The curves at the march's own stations: each position once, as the routine written by hand.
void kernel_curves(benchmark::State& state) {
  const bike::Model& model = sample().model();
  bike::Sweep<double> sweep(model, static_cast<int>(stations) - 1);
  const bike::Wanted wanted = same_curves();
  bike::StationValues<double> out;
  out.resize(gears);
  each(state, sample().moving, [&](const auto& points) {
    sweep.begin(points);
    sweep.stop_at(0, [](std::size_t, const linkage::State<double>&) {});
    sweep.stop_at(stations - 1, [](std::size_t, const linkage::State<double>&) {});
    const double travel = sweep.whole_travel();
    const auto curves = [&](std::size_t, const linkage::State<double>& at) {
      bike::station(model, sweep.topped_out(), sweep.geometry(), at, bike::fork_rate(model.layout.front, travel),
                    wanted, out);
      benchmark::DoNotOptimize(out.plain.data());
      benchmark::ClobberMemory();
    };
    for (std::size_t i = 0; i < stations; ++i) sweep.stop_at(i, curves);
  });
}
void by_hand_curves(benchmark::State& state) {
  const by_hand::Bike<gears> bike = test::by_hand_bike<gears>(sample().brief.layout);
  std::vector<by_hand::Pivots<double>> layouts;
  for (const auto& points : sample().moving)
    layouts.push_back(test::by_hand_pivots(sample().brief.layout.mechanism, points));
  ByHandCurves curves;
  each(state, layouts, [&](const auto& pivots) {
    by_hand::sweep<stations>(bike, pivots, curves);
    benchmark::DoNotOptimize(&curves);
    benchmark::ClobberMemory();
  });
}

BENCHMARK(screen_full);
BENCHMARK(screen_staged);
BENCHMARK(value);
BENCHMARK(value_gradient);
BENCHMARK(value_target_rows);
BENCHMARK(value_all_rows);
BENCHMARK(kernel_march_and_curves);
BENCHMARK(kernel_curves);
BENCHMARK(by_hand_curves);

}  // namespace

int main(int argc, char** argv) {
  for (const auto& [name, mechanism] : test::every_topology()) {
    const bike::Layout layout = test::bike_around(mechanism);
    benchmark::RegisterBenchmark(("topology/" + name).c_str(), [layout](benchmark::State& state) {
      const bike::Model model = bike::make_model(layout);
      march_and_curves(state, model, {layout.mechanism.points},
                       bike::Wanted::everything(layout.drivetrain.gears.size()));
    });
  }
  benchmark::Initialize(&argc, argv);
  if (benchmark::ReportUnrecognizedArguments(argc, argv)) return 1;
  benchmark::RunSpecifiedBenchmarks();
  benchmark::Shutdown();
}
