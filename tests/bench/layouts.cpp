// Writes the timed layouts with the engine's curves, for the comparisons in other languages, and the operations that
// one layout takes when written by hand. Usage: bench_layouts FILE
#include <fstream>
#include <iostream>
#include <nlohmann/json.hpp>

#include "tests/bench/counted.hpp"
#include "tests/bench/sample.hpp"

using namespace trammel;
using namespace trammel::bench;
using Json = nlohmann::json;

namespace {

Json bike_of(const by_hand::Bike<gears>& b) {
  return {{"rear_radius", b.rear_radius},
          {"front_radius", b.front_radius},
          {"front_x", b.front_x},
          {"front_y", b.front_y},
          {"steer_x", b.steer_x},
          {"steer_y", b.steer_y},
          {"fork_travel", b.fork_travel},
          {"cg_x", b.cg_x},
          {"cg_height", b.cg_height},
          {"stroke", b.stroke},
          {"cog", b.cog},
          {"ring", b.ring}};
}

/// A layout's curves from the engine: one list a curve, in the order of `by_hand::Curves`.
Json curves_of(bike::Sweep<double>& sweep, const std::vector<linkage::Point>& points, double range) {
  const bike::Wanted wanted = same_curves();
  sweep.march(points, [](std::size_t, const linkage::State<double>&) {});
  std::vector<std::vector<double>> lists(5 + 2 * gears);
  for (std::size_t i = 0; i < stations; ++i) {
    const auto& at = sweep.at(range * static_cast<double>(i) / (stations - 1), wanted);
    std::size_t k = 0;
    for (const bike::Curve c :
         {bike::Curve::travel, bike::Curve::leverage, bike::Curve::axle_x, bike::Curve::axle_y, bike::Curve::anti_rise})
      lists[k++].push_back(at[c]);
    for (double value : at.anti_squat) lists[k++].push_back(value);
    for (double value : at.chain_growth) lists[k++].push_back(value);
  }
  return lists;
}

Json operations(const by_hand::Bike<gears>& bike, const by_hand::Pivots<double>& p) {
  const auto counted = [](const by_hand::Complex<double>& z) { return by_hand::Complex<Counted>{z.re, z.im}; };
  const by_hand::Pivots<Counted> pivots{counted(p.main),   counted(p.stay), counted(p.axle), counted(p.tail),
                                        counted(p.rocker), counted(p.eye),  counted(p.mount)};
  by_hand::Curves<Counted, stations, gears> curves;
  Counted::count = {};
  by_hand::sweep<stations>(bike, pivots, curves);
  const Operations& n = Counted::count;
  return {{"sums", n.sums}, {"products", n.products}, {"divisions", n.divisions}, {"roots", n.roots}};
}

}  // namespace

int main(int argc, char** argv) {
  if (argc != 2) {
    std::cerr << "usage: bench_layouts FILE\n";
    return 2;
  }
  const Sample sample;
  const linkage::Mechanism& mechanism = sample.brief.layout.mechanism;
  const by_hand::Bike<gears> bike = test::by_hand_bike<gears>(sample.brief.layout);
  bike::Sweep<double> sweep(sample.model(), 24);
  Json pivots = Json::array(), curves = Json::array();
  for (const auto& points : sample.moving) {
    const by_hand::Pivots<double> p = test::by_hand_pivots(mechanism, points);
    Json row = Json::array();
    for (const auto& z : {p.main, p.stay, p.axle, p.tail, p.rocker, p.eye, p.mount}) row.push_back({z.re, z.im});
    pivots.push_back(row);
    curves.push_back(curves_of(sweep, points, sample.model().range()));
  }
  const auto first = test::by_hand_pivots(mechanism, sample.moving.front());
  std::ofstream out(argv[1]);
  out << Json{{"stations", stations},
              {"bike", bike_of(bike)},
              {"pivots", pivots},
              {"curves", curves},
              {"operations", operations(bike, first)},
              {"assembling", static_cast<double>(sample.assembling) / static_cast<double>(sample.all.size())}};
  out.close();
  if (!out) {
    std::cerr << "cannot write " << argv[1] << '\n';
    return 1;
  }
}
