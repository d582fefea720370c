// The kernel against its own constraints and against finite differences, over every topology.
#include <catch2/catch.hpp>

#include "linkage/kernel.hpp"
#include "tests/support/builder.hpp"

using namespace trammel;
using linkage::Geometry;
using linkage::Program;
using linkage::Seed;
using linkage::State;

namespace {

/// Moves to s from the drawn position in small steps, as the curves do.
State<double> pose(const Program& program, const Geometry<double>& geometry, double s) {
  State<double> state;
  state.resize(program);
  linkage::assemble<double>(program, geometry, 0.0, nullptr, state);
  const int steps = 30;
  for (int i = 0; i <= steps; ++i) {
    linkage::velocities(program, geometry, state);
    linkage::accelerations(program, geometry, state);
    if (i == steps) break;
    const Seed<double> seed{state.s, state.tears};
    linkage::assemble<double>(program, geometry, s * (i + 1) / steps, &seed, state);
  }
  return state;
}

}  // namespace

TEST_CASE("every topology moves through its stroke with its members rigid") {
  for (const auto& [name, mechanism] : test::every_topology()) {
    INFO(name);
    const Program program = linkage::compile(mechanism);
    Geometry<double> geometry;
    State<double> room;
    room.resize(program);
    linkage::measure(program, mechanism.points, geometry, room);
    for (double fraction : {0.0, 0.3, 0.7, 1.0}) {
      const double s = fraction * mechanism.drive.range;
      const State<double> state = pose(program, geometry, s);
      for (std::size_t i = 0; i < state.margin.size(); ++i) {
        INFO(program.joints[i].name << " at s = " << s << " margin " << state.margin[i]);
        CHECK(state.margin[i] > 0.01);
      }
      for (const auto& member : mechanism.members)
        for (int a : member.points)
          for (int b : member.points) {
            const auto i = static_cast<std::size_t>(a), j = static_cast<std::size_t>(b);
            const double drawn = norm(mechanism.points[i] - mechanism.points[j]);
            CHECK(norm(state.position[i] - state.position[j]) == Approx(drawn).epsilon(1e-12).margin(1e-9));
          }
      if (mechanism.drive.kind == linkage::DriveKind::shock) {
        const auto a = static_cast<std::size_t>(mechanism.drive.a), b = static_cast<std::size_t>(mechanism.drive.b);
        const double drawn = norm(mechanism.points[a] - mechanism.points[b]);
        const double wanted = drawn + (mechanism.drive.extends ? s : -s);
        CHECK(norm(state.position[a] - state.position[b]) == Approx(wanted).epsilon(1e-12));
      }
    }
  }
}

TEST_CASE("first and second derivatives agree with central differences") {
  for (const auto& [name, mechanism] : test::every_topology()) {
    INFO(name);
    const Program program = linkage::compile(mechanism);
    Geometry<double> geometry;
    State<double> room;
    room.resize(program);
    linkage::measure(program, mechanism.points, geometry, room);
    const double range = mechanism.drive.range, h = 1e-4 * range;
    for (double fraction : {0.25, 0.6, 0.9}) {
      const State<double> at = pose(program, geometry, fraction * range);
      const State<double> before = pose(program, geometry, fraction * range - h);
      const State<double> after = pose(program, geometry, fraction * range + h);
      for (std::size_t p = 0; p < at.position.size(); ++p) {
        INFO(mechanism.point_names[p] << " at " << fraction);
        const auto v = (after.position[p] - before.position[p]) * (0.5 / h);
        const auto a = (after.velocity[p] - before.velocity[p]) * (0.5 / h);
        CHECK(at.velocity[p].x == Approx(v.x).epsilon(1e-5).margin(1e-6));
        CHECK(at.velocity[p].y == Approx(v.y).epsilon(1e-5).margin(1e-6));
        CHECK(at.acceleration[p].x == Approx(a.x).epsilon(1e-5).margin(1e-7));
        CHECK(at.acceleration[p].y == Approx(a.y).epsilon(1e-5).margin(1e-7));
      }
    }
  }
}
