// The work of a search under every instruction set that this processor has: one result, and that of plain numbers.
#include <bit>
#include <catch2/catch.hpp>
#include <cstdint>
#include <limits>
#include <random>

#include "objectives/evaluator.hpp"
#include "tests/objectives/every_target.hpp"
#include "tests/support/bikes.hpp"
#include "tests/support/builder.hpp"

using namespace trammel;
using namespace trammel::objectives;

namespace {

std::uint64_t bits(double x) {
  return std::bit_cast<std::uint64_t>(x);
}

Block scattered(const linkage::Mechanism& mechanism, std::size_t layouts, double spread, std::uint64_t seed) {
  std::mt19937_64 random(seed);
  std::normal_distribution<double> off(0.0, spread);
  Block block;
  block.resize(layouts, mechanism.points.size());
  for (std::size_t i = 0; i < layouts; ++i)
    for (std::size_t p = 0; p < mechanism.points.size(); ++p) {
      block.at(i, p, 0) = mechanism.points[p].x + off(random);
      block.at(i, p, 1) = mechanism.points[p].y + off(random);
    }
  return block;
}

std::vector<linkage::Point> layout_of(const Block& block, std::size_t i) {
  std::vector<linkage::Point> points;
  for (std::size_t p = 0; p < block.points(); ++p) points.push_back({block.at(i, p, 0), block.at(i, p, 1)});
  return points;
}

void check_same(const Screened& a, const Screened& b) {
  CHECK(a.stage == b.stage);
  CHECK(a.assembles == b.assembles);
  CHECK(a.joint == b.joint);
  if (a.stage == Stage::through) CHECK(bits(a.figure) == bits(b.figure));
}

}  // namespace

TEST_CASE("instruction sets have names, and the processor has the first") {
  const auto usable = usable_instruction_sets();
  REQUIRE_FALSE(usable.empty());
  CHECK(usable.front() == InstructionSet::baseline);
  for (InstructionSet set : {InstructionSet::baseline, InstructionSet::avx2, InstructionSet::avx512})
    CHECK(find_instruction_set(name_of(set)) == set);
  CHECK_FALSE(find_instruction_set("fastest").has_value());
}

TEST_CASE("screening is the same under every instruction set and in plain numbers") {
  for (const auto& [name, mechanism] : test::every_topology()) {
    const bike::Layout layout = test::bike_around(mechanism);
    const std::vector<Target> targets = test::every_target(layout);
    Packaging packaging;
    packaging.least_pivot_distance = 25.0;
    const bike::Model model = bike::make_model(layout);
    const Demands demands(model, targets, packaging);
    const Block block = scattered(mechanism, 101, 8.0, 21);  // the last group is not full
    const Emphasis emphasis{4.0, 0.1};
    for (double limit : {std::numeric_limits<double>::infinity(), 2e5, 3e4}) {
      INFO(name << ", limit " << limit);
      std::vector<Screened> plain(block.layouts());
      Screening<double>(demands).screen(block, emphasis, limit, plain);
      for (InstructionSet set : usable_instruction_sets()) {
        INFO(name_of(set));
        std::vector<Screened> wide(block.layouts());
        make_evaluator(demands, set)->screen(block, emphasis, limit, wide);
        for (std::size_t i = 0; i < wide.size(); ++i) check_same(wide[i], plain[i]);
      }
    }
  }
}

TEST_CASE("what a layout achieves is the same under every instruction set and in plain numbers") {
  for (const auto& [name, mechanism] : test::every_topology()) {
    const bike::Layout layout = test::bike_around(mechanism);
    const std::vector<Target> targets = test::every_target(layout);
    Packaging packaging;
    packaging.least_pivot_distance = 25.0;
    const bike::Model model = bike::make_model(layout);
    const Demands demands(model, targets, packaging);
    Assessor<double> plain(demands);
    const Block block = scattered(mechanism, 24, 6.0, 5);
    for (InstructionSet set : usable_instruction_sets()) {
      INFO(name << ", " << name_of(set));
      const auto evaluator = make_evaluator(demands, set);
      int different = 0;
      const auto compare = [&](double a, double b) {
        if (bits(a) != bits(b) && !(std::isnan(a) && std::isnan(b))) ++different;
      };
      for (std::size_t i = 0; i < block.layouts(); ++i) {
        const auto points = layout_of(block, i);
        const Outcome<double>& wide = evaluator->evaluate(points);
        plain.march(points);
        plain.curves();
        const Outcome<double>& expected = plain.outcome();
        for (std::size_t t = 0; t < targets.size(); ++t) {
          for (std::size_t k = 0; k < expected.values[t].size(); ++k) compare(wide.values[t][k], expected.values[t][k]);
          for (std::size_t k = 0; k < expected.travels[t].size(); ++k)
            compare(wide.travels[t][k], expected.travels[t][k]);
        }
        for (std::size_t j = 0; j < expected.fit.transmission.size(); ++j) {
          compare(wide.fit.transmission[j].value, expected.fit.transmission[j].value);
          CHECK(wide.fit.transmission[j].station == expected.fit.transmission[j].station);
        }
        for (std::size_t k = 0; k < expected.fit.distance2.size(); ++k) {
          compare(wide.fit.distance2[k].value, expected.fit.distance2[k].value);
          CHECK(wide.fit.distance2[k].station == expected.fit.distance2[k].station);
        }
        compare(figure(demands, wide, {}), figure(demands, expected, {}));
      }
      CHECK(different == 0);
    }
  }
}

TEST_CASE("gradients are the same under every instruction set") {
  for (const auto& [name, mechanism] : test::every_topology()) {
    const bike::Layout layout = test::bike_around(mechanism);
    const std::vector<Target> targets = test::every_target(layout);
    const Packaging packaging;
    const bike::Model model = bike::make_model(layout);
    const Demands demands(model, targets, packaging);
    const std::size_t n = 2 * mechanism.points.size();
    bike::Tangents tangents;
    tangents.reset(n, mechanism.points.size());
    for (std::size_t v = 0; v < n; ++v) tangents.at(v, v / 2, v % 2) = 1.0;
    std::vector<std::vector<double>> all;
    for (InstructionSet set : usable_instruction_sets()) {
      const auto evaluator = make_evaluator(demands, set);
      evaluator->evaluate(mechanism.points);
      all.emplace_back(n);
      evaluator->gradient(tangents, {20.0, 0.3}, all.back());
    }
    INFO(name);
    double size = 0.0;
    for (double g : all.front()) size = std::max(size, std::abs(g));
    CHECK(size > 0.0);
    for (const auto& other : all)
      for (std::size_t v = 0; v < n; ++v) CHECK(bits(other[v]) == bits(all.front()[v]));
  }
}
