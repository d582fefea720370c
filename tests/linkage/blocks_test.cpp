// Newton blocks: linkages that have to be guessed open, with one tear and with two.
#include <algorithm>
#include <catch2/catch.hpp>

#include "tests/support/builder.hpp"
#include "tests/support/close.hpp"
#include "tests/support/higher_groups.hpp"
#include "tests/support/motion.hpp"

using namespace trammel;
using test::within;

namespace {

std::size_t most_closures(const linkage::Program& program) {
  std::size_t most = 0;
  for (const linkage::Group& g : program.groups) most = std::max(most, g.closures.size());
  return most;
}

/// All members rigid, the shock as long as driven.
void check_closed(const linkage::Mechanism& m, const test::Motion& motion, double s) {
  const auto distance = [](const std::vector<linkage::Point>& p, int a, int b) {
    return norm(p[static_cast<std::size_t>(a)] - p[static_cast<std::size_t>(b)]);
  };
  for (const linkage::Member& member : m.members)
    for (int a : member.points)
      for (int b : member.points) {
        INFO(member.name);
        CHECK(distance(motion.state().position, a, b) == within(distance(m.points, a, b), 1e-10));
      }
  if (m.drive.kind == linkage::DriveKind::shock)
    CHECK(distance(motion.state().position, m.drive.a, m.drive.b) ==
          within(distance(m.points, m.drive.a, m.drive.b) - s, 1e-10));
}

}  // namespace

TEST_CASE("a block takes as few tears as the group needs") {
  CHECK(most_closures(linkage::compile(test::triad())) == 1);
  CHECK(most_closures(linkage::compile(test::two_bodies())) == 2);
}

TEST_CASE("groups of higher order move, keep their members rigid and have exact rates") {
  for (const auto& [name, mechanism] :
       {std::pair{"triad", test::triad()}, std::pair{"two bodies", test::two_bodies()}}) {
    INFO(name);
    const double range = mechanism.drive.range, h = 1e-4 * range;  // signed, as the drive
    for (double fraction : {0.2, 0.5, 0.8, 1.0}) {
      INFO("at " << fraction);
      const double s = fraction * range;
      test::Motion at(mechanism), before(mechanism), after(mechanism);
      at.to(s), before.to(s - h), after.to(s + h);
      CHECK(at.least_margin() > 0.01);
      check_closed(mechanism, at, s);
      for (const std::string& point : mechanism.point_names) {
        INFO(point);
        const auto v = (after.at(point) - before.at(point)) * (0.5 / h);
        const auto a = (after.velocity(point) - before.velocity(point)) * (0.5 / h);
        // A central difference errs by h²·(third derivative)/6: about 1e-8 of the rate here.
        const double scale = norm(v) + 1.0, bend_scale = norm(a) + norm(v) / std::abs(range);
        CHECK(norm(at.velocity(point) - v) < 1e-6 * scale);
        CHECK(norm(at.acceleration(point) - a) < 1e-6 * bend_scale + 1e-9);
      }
    }
  }
}

TEST_CASE("a block comes back to where it was drawn, by any way") {
  const linkage::Mechanism mechanism = test::two_bodies();
  test::Motion coarse(mechanism), fine(mechanism);
  coarse.to(mechanism.drive.range, 5);
  fine.to(mechanism.drive.range, 200);
  for (const std::string& point : mechanism.point_names) CHECK(norm(coarse.at(point) - fine.at(point)) < 1e-10);
  fine.to(0.0, 7);
  for (std::size_t i = 0; i < mechanism.points.size(); ++i)
    CHECK(norm(fine.state().position[i] - mechanism.points[i]) < 1e-10);
}

TEST_CASE("what hangs on a block that its travel closes is placed after it") {
  // The joint of the links comes before the axle, which the stay carries; so the travel is what the block is closed
  // by, and the rocker's eye is placed from it.
  const linkage::Mechanism m = test::MechanismBuilder()
                                   .point("main", -8, 55)
                                   .point("rocker", -45, 305)
                                   .point("stay", -392, 20)
                                   .point("tail", -105, 345)
                                   .point("axle", -437, 30)
                                   .point("eye", -20, 360)
                                   .member("frame", {"main", "rocker"})
                                   .member("chainstay", {"main", "stay"})
                                   .member("seatstay", {"stay", "axle", "tail"})
                                   .member("rocker", {"rocker", "tail", "eye"})
                                   .travel("axle", 150)
                                   .build();
  const linkage::Program program = linkage::compile(m);
  REQUIRE(most_closures(program) == 1);
  test::Motion motion(m);
  for (const double s : {40.0, 150.0}) {
    motion.to(s);
    check_closed(m, motion, s);
    CHECK(motion.at("axle").y == within(30.0 + s, 1e-10));
  }
}
