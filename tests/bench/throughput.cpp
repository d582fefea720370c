// What the processor's arithmetic units can do: independent operations on numbers that stay in the first cache.
//
// The same source is compiled for one number at a time and for the widest registers; WIDTH names which, and
// LANES is the number of doubles in a register.
#include <benchmark/benchmark.h>

#include <array>
#include <cmath>

namespace {

constexpr std::size_t numbers = 256;

template <class Operation>
void run(benchmark::State& state, Operation operation) {
  alignas(64) std::array<double, numbers> in, out;
  for (std::size_t i = 0; i < numbers; ++i) in[i] = 1.1 + 0.0037 * static_cast<double>(i);
  for (auto _ : state) {
    benchmark::DoNotOptimize(in.data());
    benchmark::ClobberMemory();
    for (std::size_t i = 0; i < numbers; ++i) out[i] = operation(in[i]);
    benchmark::DoNotOptimize(out.data());
    benchmark::ClobberMemory();
  }
  state.counters["operations"] =
      benchmark::Counter(static_cast<double>(numbers), benchmark::Counter::kIsIterationInvariantRate);
}

void divide(benchmark::State& state) {
  run(state, [](double x) { return 1.7 / x; });
}
void root(benchmark::State& state) {
  run(state, [](double x) { return std::sqrt(x); });
}
/// Twelve chains of a product and a sum, as many as hide the delay of each; not contracted, as in the program.
void multiply_add(benchmark::State& state) {
#ifdef LANES
  using Number [[gnu::vector_size(LANES * sizeof(double))]] = double;
#else
  using Number = double;
#endif
  constexpr std::size_t chains = 12, rounds = 64;
  Number y[chains];
  for (std::size_t j = 0; j < chains; ++j) y[j] = Number{} + (1.1 + 0.37 * static_cast<double>(j));
  Number factor = Number{} + 0.7, term = Number{} + 0.3;
  benchmark::DoNotOptimize(factor);
  benchmark::DoNotOptimize(term);
  for (auto _ : state) {
    for (std::size_t k = 0; k < rounds; ++k)
      for (std::size_t j = 0; j < chains; ++j) y[j] = y[j] * factor + term;
    for (Number& each : y) benchmark::DoNotOptimize(each);
  }
  state.counters["operations"] = benchmark::Counter(2.0 * chains * rounds * sizeof(Number) / sizeof(double),
                                                    benchmark::Counter::kIsIterationInvariantRate);
}

const bool registered = [] {
  const std::string width = WIDTH;
  benchmark::RegisterBenchmark(("throughput/divide/" + width).c_str(), divide);
  benchmark::RegisterBenchmark(("throughput/root/" + width).c_str(), root);
  benchmark::RegisterBenchmark(("throughput/multiply_add/" + width).c_str(), multiply_add);
  return true;
}();

}  // namespace
