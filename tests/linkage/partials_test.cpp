// Exact derivatives with respect to the drawn points, against central differences.
#include <catch2/catch.hpp>

#include "linkage/kernel.hpp"
#include "math/dual.hpp"
#include "tests/support/builder.hpp"
#include "tests/support/close.hpp"
#include "tests/support/higher_groups.hpp"

using namespace trammel;
using linkage::Point;
using linkage::Program;
using linkage::State;

namespace {

constexpr int lanes = 16;
using Dual = math::Dual<lanes>;

/// Moves to s in the same few steps whatever the number type.
template <class T>
State<T> moved(const Program& program, const std::vector<math::Vec2<T>>& points, double s) {
  linkage::Geometry<T> geometry;
  State<T> state;
  state.resize(program);
  linkage::measure(program, points, geometry, state);
  linkage::assemble<T>(program, geometry, T(0.0), nullptr, state);
  const int steps = 12;
  for (int i = 0;; ++i) {
    linkage::velocities(program, geometry, state);
    linkage::accelerations(program, geometry, state);
    if (i == steps) return state;
    const linkage::Seed<T> seed{state.s, state.tears};
    linkage::assemble<T>(program, geometry, T(s * (i + 1) / steps), &seed, state);
  }
}

/// The points with partial `lane` standing for coordinate first + lane (x, y, x, y …).
std::vector<math::Vec2<Dual>> seeded(const std::vector<Point>& points, std::size_t first) {
  std::vector<math::Vec2<Dual>> out;
  for (std::size_t i = 0; i < points.size(); ++i) {
    const auto lift = [&](double x, std::size_t coordinate) {
      const bool carried = coordinate >= first && coordinate < first + lanes;
      return carried ? Dual::variable(x, static_cast<int>(coordinate - first)) : Dual(x);
    };
    out.push_back({lift(points[i].x, 2 * i), lift(points[i].y, 2 * i + 1)});
  }
  return out;
}

void check_partials(const linkage::Mechanism& mechanism, double fraction) {
  const Program program = linkage::compile(mechanism);
  const double s = fraction * mechanism.drive.range;
  const std::size_t coordinates = 2 * mechanism.points.size();
  // Central differences of exact positions: step h errs by h²·f'''/6 and by rounding/h, least near h = 1e-3 mm.
  const double h = 1e-3;
  const auto shifted = [&](std::size_t coordinate, double by) {
    auto points = mechanism.points;
    (coordinate % 2 == 0 ? points[coordinate / 2].x : points[coordinate / 2].y) += by;
    return moved(program, points, s);
  };
  const State<double> plain = moved(program, mechanism.points, s);
  for (std::size_t first = 0; first < coordinates; first += lanes) {
    const State<Dual> exact = moved(program, seeded(mechanism.points, first), s);
    for (std::size_t c = first; c < std::min(first + lanes, coordinates); ++c) {
      INFO("with respect to " << mechanism.point_names[c / 2] << (c % 2 == 0 ? ".x" : ".y"));
      const State<double> less = shifted(c, -h), more = shifted(c, h);
      const std::size_t lane = c - first;
      for (std::size_t p = 0; p < mechanism.points.size(); ++p) {
        INFO("of " << mechanism.point_names[p]);
        const auto check = [&](const math::Vec2<Dual>& of, const Point& value, const Point& low, const Point& high) {
          // The values of both number types are the same to the last bits: a block takes one more Newton step with
          // derivatives.
          CHECK(of.x.v == test::within(value.x, 1e-12 * (1.0 + std::abs(value.x))));
          CHECK(of.y.v == test::within(value.y, 1e-12 * (1.0 + std::abs(value.y))));
          const Point difference = (high - low) * (0.5 / h);
          const Point partial{of.x.d[lane], of.y.d[lane]};
          const double scale = 1.0 + norm(difference) + norm(value) * 1e-2;
          CHECK(norm(partial - difference) < 1e-6 * scale);
        };
        check(exact.position[p], plain.position[p], less.position[p], more.position[p]);
        check(exact.velocity[p], plain.velocity[p], less.velocity[p], more.velocity[p]);
        check(exact.acceleration[p], plain.acceleration[p], less.acceleration[p], more.acceleration[p]);
      }
    }
  }
}

}  // namespace

TEST_CASE("partials of positions, velocities and accelerations by every drawn coordinate, every topology") {
  for (const auto& [name, mechanism] : test::every_topology()) {
    INFO(name);
    for (double fraction : {0.0, 0.4, 0.9}) {
      INFO("at " << fraction << " of the stroke");
      check_partials(mechanism, fraction);
    }
  }
}

TEST_CASE("partials through blocks of one tear and of two") {
  for (const linkage::Mechanism& mechanism : {test::triad(), test::two_bodies()}) check_partials(mechanism, 0.6);
}
