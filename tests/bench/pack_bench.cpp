// The same four-bar's curves and every topology's, eight layouts side by side, in the machine's widest registers: this
// program is compiled for the machine that it runs on, and links nothing that holds packs of another width.
// Usage: bench_packs LAYOUTS.json (from bench_layouts) [benchmark options]
#include <benchmark/benchmark.h>

#include <fstream>
#include <iostream>
#include <nlohmann/json.hpp>

#include "bike/compiled_motion.hpp"
#include "bike/sweep.hpp"
#include "brief/read.hpp"
#include "tests/bench/same_curves.hpp"

using namespace trammel;
using namespace trammel::bench;

namespace {

constexpr std::size_t width = 8;
using Pack = math::Pack<8>;

/// The layouts in groups of eight.
std::vector<std::vector<math::Vec2<Pack>>> packed(const std::vector<std::vector<linkage::Point>>& layouts) {
  std::vector<std::vector<math::Vec2<Pack>>> groups;
  for (std::size_t first = 0; first + width <= layouts.size(); first += width) {
    std::vector<math::Vec2<Pack>> points(layouts[first].size());
    for (std::size_t p = 0; p < points.size(); ++p)
      for (std::size_t i = 0; i < width; ++i) {
        math::set_lane(points[p].x, i, layouts[first + i][p].x);
        math::set_lane(points[p].y, i, layouts[first + i][p].y);
      }
    groups.push_back(points);
  }
  return groups;
}

/// An iteration is a group; `layouts` counts them singly.
template <class Groups, class Run>
void each(benchmark::State& state, const Groups& groups, Run run) {
  std::size_t i = 0;
  for (auto _ : state) {
    run(groups[i]);
    if (++i == groups.size()) i = 0;
  }
  state.counters["layouts"] = static_cast<double>(width);
}

/// Each position once, with its curves.
void curves(benchmark::State& state, const bike::Model& model, const std::vector<std::vector<math::Vec2<Pack>>>& groups,
            const bike::Wanted& wanted) {
  bike::Sweep<Pack> sweep(model, static_cast<int>(stations) - 1);
  bike::StationValues<Pack> out;
  out.resize(model.circles.size());
  const bool jumps = model.program.tears == 0;
  each(state, groups, [&](const auto& points) {
    sweep.begin(points);
    sweep.stop_at(0, [](std::size_t, const linkage::State<Pack>&) {});
    if (jumps) sweep.stop_at(stations - 1, [](std::size_t, const linkage::State<Pack>&) {});
    const Pack travel = jumps ? sweep.whole_travel() : Pack(100.0);
    for (std::size_t i = 0; i < stations; ++i)
      sweep.stop_at(i, [&](std::size_t, const linkage::State<Pack>& at) {
        bike::station(model, sweep.topped_out(), sweep.geometry(), at, bike::fork_rate(model.layout.front, travel),
                      wanted, out);
        benchmark::DoNotOptimize(out.plain.data());
        benchmark::ClobberMemory();
      });
  });
}

/// The same by the tapes of the motion, as the search goes: machine code.
void tape_curves(benchmark::State& state, const bike::Model& model,
                 const std::vector<std::vector<math::Vec2<Pack>>>& groups, const std::vector<bike::CurveKey>& keys) {
  const bike::MotionTapes tapes(model, keys, {});
  bike::CompiledMotion<width> motion(model, tapes);
  std::vector<Pack> even;
  for (std::size_t i = 0; i < stations; ++i)
    even.emplace_back(model.range() * static_cast<double>(i) / static_cast<double>(stations - 1));
  each(state, groups, [&](const auto& points) {
    motion.begin(points);
    motion.places(even, [&](std::size_t) {
      benchmark::DoNotOptimize(motion.curve(0));
      benchmark::ClobberMemory();
    });
  });
}

/// All curves of a layout but those of points and pivots.
std::vector<bike::CurveKey> every_curve(const bike::Layout& layout) {
  std::vector<bike::CurveKey> keys;
  for (const bike::CurveRecord& record : bike::curve_table()) {
    if (bike::named_by_target({record.curve})) continue;
    const std::size_t gears_of = record.needs == bike::Needs::gear ? layout.drivetrain.gears.size() : 1;
    for (std::size_t g = 0; g < gears_of; ++g) {
      bike::CurveKey key{record.curve};
      key.gear = static_cast<int>(g);
      keys.push_back(key);
    }
  }
  return keys;
}

/// Those that the routine written by hand computes.
std::vector<bike::CurveKey> same_keys() {
  using enum bike::Curve;
  std::vector<bike::CurveKey> keys;
  for (const bike::Curve curve : {travel, leverage, axle_x, axle_y, anti_rise}) keys.push_back({curve});
  for (std::size_t g = 0; g < gears; ++g)
    for (const bike::Curve curve : {anti_squat, chain_growth}) {
      keys.push_back({curve});
      keys.back().gear = static_cast<int>(g);
    }
  return keys;
}

/// Layouts of the shipped trail brief, as bench_layouts wrote them.
std::vector<std::vector<linkage::Point>> layouts_of(const char* file, const linkage::Mechanism& mechanism) {
  std::ifstream in(file);
  const auto json = nlohmann::json::parse(in);
  std::vector<std::vector<linkage::Point>> layouts;
  for (const auto& row : json.at("pivots")) {
    std::vector<linkage::Point> points = mechanism.points;
    std::size_t i = 0;
    for (const char* name : {"main", "stay", "axle", "tail", "rocker", "eye", "mount"}) {
      points[static_cast<std::size_t>(test::point_named(mechanism, name))] = {row[i][0], row[i][1]};
      ++i;
    }
    layouts.push_back(points);
  }
  return layouts;
}

}  // namespace

int main(int argc, char** argv) {
  if (argc < 2) {
    std::cerr << "usage: bench_packs LAYOUTS.json [benchmark options]\n";
    return 2;
  }
  const brief::Reading reading = brief::read_file(TRAMMEL_SOURCE_DIR "/configs/trail-150.yaml");
  if (!reading.ok()) return 1;
  const brief::Brief& brief = reading.brief;
  const bike::Model trail = bike::make_model(brief.layout);
  const std::vector<std::vector<linkage::Point>> moving = layouts_of(argv[1], brief.layout.mechanism);
  argv[1] = argv[0];
  --argc, ++argv;
  benchmark::RegisterBenchmark("packs/kernel_curves",
                               [&](benchmark::State& state) { curves(state, trail, packed(moving), same_curves()); });
  benchmark::RegisterBenchmark(
      "packs/tape_curves", [&](benchmark::State& state) { tape_curves(state, trail, packed(moving), same_keys()); });
  benchmark::RegisterBenchmark("packs/by_hand_curves", [&](benchmark::State& state) {
    const by_hand::Bike<gears> bike = test::by_hand_bike<gears>(brief.layout);
    std::vector<by_hand::Pivots<Pack>> groups;
    for (const auto& points : packed(moving)) {
      const auto at = [&](const char* name) {
        const auto& p = points[static_cast<std::size_t>(test::point_named(brief.layout.mechanism, name))];
        return by_hand::Complex<Pack>{p.x, p.y};
      };
      groups.push_back({at("main"), at("stay"), at("axle"), at("tail"), at("rocker"), at("eye"), at("mount")});
    }
    by_hand::Curves<Pack, stations, gears> out;
    each(state, groups, [&](const auto& pivots) {
      by_hand::sweep<stations>(bike, pivots, out);
      benchmark::DoNotOptimize(&out);
      benchmark::ClobberMemory();
    });
  });
  for (const auto& [name, mechanism] : test::every_topology()) {
    const bike::Layout layout = test::bike_around(mechanism);
    benchmark::RegisterBenchmark(("packs/topology/" + name).c_str(), [layout](benchmark::State& state) {
      const bike::Model model = bike::make_model(layout);
      curves(state, model, packed(std::vector(width, layout.mechanism.points)),
             bike::Wanted::everything(layout.drivetrain.gears.size()));
    });
    if (bike::CompiledMotion<width>::serves(bike::make_model(layout)))
      benchmark::RegisterBenchmark(("packs/tapes/" + name).c_str(), [layout](benchmark::State& state) {
        tape_curves(state, bike::make_model(layout), packed(std::vector(width, layout.mechanism.points)),
                    every_curve(layout));
      });
  }
  benchmark::Initialize(&argc, argv);
  if (benchmark::ReportUnrecognizedArguments(argc, argv)) return 1;
  benchmark::RunSpecifiedBenchmarks();
  benchmark::Shutdown();
}
