// The hot loops take no memory: after the first call of each kind, nothing more is allocated.
//
// This program's allocations are counted by replacing the global operators, also for the code of other objects.
#include <atomic>
#include <catch2/catch.hpp>
#include <cstdlib>
#include <limits>
#include <new>

#include "objectives/evaluator.hpp"
#include "tests/objectives/every_target.hpp"
#include "tests/support/bikes.hpp"
#include "tests/support/builder.hpp"

namespace {

std::atomic<long> allocations{0};

void* counted(std::size_t size, std::size_t alignment) {
  ++allocations;
  void* p = std::aligned_alloc(alignment, (size + alignment - 1) / alignment * alignment);
  if (p == nullptr) throw std::bad_alloc();
  return p;
}

}  // namespace

void* operator new(std::size_t size) {
  return counted(size, alignof(std::max_align_t));
}
void* operator new(std::size_t size, const std::nothrow_t&) noexcept {
  return counted(size, alignof(std::max_align_t));
}
void* operator new(std::size_t size, std::align_val_t alignment) {
  return counted(size, static_cast<std::size_t>(alignment));
}
void operator delete(void* p) noexcept {
  std::free(p);
}
void operator delete(void* p, std::size_t) noexcept {
  std::free(p);
}
void operator delete(void* p, std::align_val_t) noexcept {
  std::free(p);
}
void operator delete(void* p, std::size_t, std::align_val_t) noexcept {
  std::free(p);
}

using namespace trammel;
using namespace trammel::objectives;

TEST_CASE("screening, values and gradients allocate nothing once warm, every topology") {
  for (const auto& [name, mechanism] : test::every_topology()) {
    const bike::Layout layout = test::bike_around(mechanism);
    const std::vector<Target> targets = test::every_target(layout);
    Packaging packaging;
    packaging.least_pivot_distance = 25.0;
    const bike::Model model = bike::make_model(layout);
    const Demands demands(model, targets, packaging);
    Block block;
    block.resize(64, mechanism.points.size());
    for (std::size_t i = 0; i < block.layouts(); ++i)
      for (std::size_t p = 0; p < mechanism.points.size(); ++p) {
        block.at(i, p, 0) = mechanism.points[p].x + 0.1 * static_cast<double>(i);
        block.at(i, p, 1) = mechanism.points[p].y;
      }
    bike::Tangents tangents;
    tangents.reset(3, mechanism.points.size());
    for (std::size_t v = 0; v < 3; ++v)
      for (std::size_t p = 0; p < mechanism.points.size(); ++p)
        for (std::size_t c = 0; c < 2; ++c) tangents.at(v, p, c) = c == 0 ? 1.0 : 0.5;
    std::vector<double> gradient(3);
    std::vector<Screened> screened(block.layouts());
    for (InstructionSet set : usable_instruction_sets()) {
      INFO(name << ", " << name_of(set));
      const auto evaluator = make_evaluator(demands, set);
      const auto work = [&] {
        evaluator->screen(block, {}, std::numeric_limits<double>::infinity(), screened);
        evaluator->evaluate(layout.mechanism.points);
        evaluator->gradient(tangents, {}, gradient);
      };
      const long before = allocations;
      work();
      const long cold = allocations - before;
      for (int i = 0; i < 10; ++i) work();
      const long warm = allocations - before - cold;
      CHECK(cold > 0);  // the counter counts
      CHECK(warm == 0);
    }
  }
}
