// What the processor's arithmetic units can do: independent operations on numbers that stay in the first cache.
//
// The same source is compiled for one number at a time and for the widest registers; WIDTH names which.
#include <benchmark/benchmark.h>

#include <array>
#include <cmath>

namespace {

constexpr std::size_t numbers = 256;

template <class Operation>
void run(benchmark::State& state, int operations_a_number, Operation operation) {
  alignas(64) std::array<double, numbers> in, out;
  for (std::size_t i = 0; i < numbers; ++i) in[i] = 1.1 + 0.0037 * static_cast<double>(i);
  for (auto _ : state) {
    benchmark::DoNotOptimize(in.data());
    benchmark::ClobberMemory();
    for (std::size_t i = 0; i < numbers; ++i) out[i] = operation(in[i]);
    benchmark::DoNotOptimize(out.data());
    benchmark::ClobberMemory();
  }
  state.counters["operations"] = benchmark::Counter(
      static_cast<double>(numbers) * operations_a_number, benchmark::Counter::kIsIterationInvariantRate);
}

void divide(benchmark::State& state) {
  run(state, 1, [](double x) { return 1.7 / x; });
}
void root(benchmark::State& state) {
  run(state, 1, [](double x) { return std::sqrt(x); });
}
/// Eight products and eight sums a number; not contracted, as in the program.
void multiply_add(benchmark::State& state) {
  run(state, 16, [](double x) {
    double y = x;
    for (int i = 0; i < 8; ++i) y = y * x + 0.3;
    return y;
  });
}

const bool registered = [] {
  const std::string width = WIDTH;
  benchmark::RegisterBenchmark(("throughput/divide/" + width).c_str(), divide);
  benchmark::RegisterBenchmark(("throughput/root/" + width).c_str(), root);
  benchmark::RegisterBenchmark(("throughput/multiply_add/" + width).c_str(), multiply_add);
  return true;
}();

}  // namespace
