// Forces at rest: a lever by hand, then every topology against virtual work and against the equilibrium of each member.
#include "linkage/statics.hpp"

#include <catch2/catch.hpp>

#include "tests/support/builder.hpp"
#include "tests/support/close.hpp"
#include "tests/support/motion.hpp"

using namespace trammel;
using linkage::Point;

namespace {

const Point& at(const linkage::Statics& s, int point, int member) {
  for (const linkage::PinForce& pin : s.pins)
    if (pin.point == point && pin.member == member) return pin.force;
  FAIL("no such pin");
  return s.pins.front().force;
}

}  // namespace

TEST_CASE("a lever on a pivot, worked out by hand") {
  // Arm level to the rear, 400 mm; the shock stands upright over it at 100 mm and is pushed by 4 times the load.
  const auto m = test::MechanismBuilder()
                     .point("pivot", 0, 0)
                     .point("axle", -400, 0)
                     .point("eye", -100, 0)
                     .point("mount", -100, 200)
                     .member("frame", {"pivot", "mount"})
                     .member("arm", {"pivot", "axle", "eye"})
                     .shock("mount", "eye", 50)
                     .build();
  const linkage::Statics s = solve_statics(m, m.points, {{{1, {0.0, 1000.0}}}, {}});
  CHECK(s.drive == test::within(4000.0, 1e-9));
  // The pivot pushes the arm up by what the shock pushes down beyond the load.
  CHECK(at(s, 0, 1).x == test::within(0.0, 1e-9));
  CHECK(at(s, 0, 1).y == test::within(3000.0, 1e-9));
  CHECK(at(s, 3, 0).y == test::within(4000.0, 1e-9));
  CHECK(s.imbalance < 1e-12);

  // A couple of 40 N·m on the arm, counter-clockwise, lifts nothing at the pivot but what the shock asks.
  const linkage::Statics turned = solve_statics(m, m.points, {{}, {{1, -40000.0}}});
  CHECK(turned.drive == test::within(400.0, 1e-9));
  CHECK(at(turned, 0, 1).y == test::within(400.0, 1e-9));
}

TEST_CASE("what the drive holds is the outside forces' work, for every topology") {
  const Point load{-310.0, 870.0};
  const double moment = 25000.0;
  for (const auto& [name, mechanism] : test::every_topology()) {
    test::Motion motion(mechanism);
    for (const double part : {0.0, 0.35, 0.8}) {
      INFO(name << " at " << part);
      motion.to(mechanism.drive.range * part);
      const int axle = [&] {
        for (std::size_t i = 0; i < mechanism.point_names.size(); ++i)
          if (mechanism.point_names[i] == "axle") return static_cast<int>(i);
        return -1;
      }();
      const int member = static_cast<int>(mechanism.members.size()) - 1;
      const auto statics = solve_statics(mechanism, motion.state().position, {{{axle, load}}, {{member, moment}}});
      // Virtual work (any mechanics text): the drive's force times ds is the work of all the others.
      const double work = dot(load, motion.velocity("axle")) +
                          moment * motion.rate(mechanism.members[static_cast<std::size_t>(member)].name);
      CHECK(statics.drive == test::within(work, 1e-7 * (1.0 + std::abs(work))));
      CHECK(statics.imbalance < 1e-9);
    }
  }
}

TEST_CASE("every member stands still under the forces reported, and a member with two pins is pulled along its line") {
  const Point load{120.0, 1400.0};
  for (const auto& [name, mechanism] : test::every_topology()) {
    test::Motion motion(mechanism);
    motion.to(0.4 * mechanism.drive.range);
    const auto& p = motion.state().position;
    const auto place = [&](int i) { return p[static_cast<std::size_t>(i)]; };
    int axle = -1;
    for (std::size_t i = 0; i < mechanism.point_names.size(); ++i)
      if (mechanism.point_names[i] == "axle") axle = static_cast<int>(i);
    const auto statics = solve_statics(mechanism, p, {{{axle, load}}, {}});
    int bars = 0;
    for (std::size_t k = 0; k < mechanism.members.size(); ++k) {
      INFO(name << ", member " << mechanism.members[k].name);
      if (static_cast<int>(k) == mechanism.frame) continue;
      if (mechanism.drive.kind == linkage::DriveKind::turn && mechanism.drive.member == static_cast<int>(k)) continue;
      Point sum{0.0, 0.0};
      double moment = 0.0, greatest = 0.0;
      std::vector<const linkage::PinForce*> pins;
      for (const linkage::PinForce& pin : statics.pins) {
        if (pin.member != static_cast<int>(k)) continue;
        pins.push_back(&pin);
        sum += pin.force;
        moment += cross(place(pin.point), pin.force);
        greatest = std::max(greatest, norm(pin.force));
      }
      bool rail = false;
      for (std::size_t s = 0; s < mechanism.sliders.size(); ++s)
        rail = rail || mechanism.sliders[s].member == static_cast<int>(k);
      if (rail) continue;
      CHECK(norm(sum) <= 1e-9 * greatest + 1e-9);
      CHECK(std::abs(moment) <= 1e-7 * greatest + 1e-7);
      if (pins.size() != 2) continue;
      ++bars;
      const Point along = place(pins[1]->point) - place(pins[0]->point);
      CHECK(std::abs(cross(along, pins[0]->force)) <= 1e-9 * norm(along) * greatest + 1e-9);
    }
    CAPTURE(bars);
  }
}

TEST_CASE("at a pin with several parties the forces add up to the outside one") {
  const auto all = test::every_topology();
  int met = 0;
  for (const auto& [name, mechanism] : all) {
    if (name != "axle-concentric pivot") continue;
    ++met;
    int axle = -1;
    for (std::size_t i = 0; i < mechanism.point_names.size(); ++i)
      if (mechanism.point_names[i] == "axle") axle = static_cast<int>(i);
    const Point load{50.0, 900.0};
    const auto statics = solve_statics(mechanism, mechanism.points, {{{axle, load}}, {}});
    Point sum{0.0, 0.0};
    for (const linkage::PinForce& pin : statics.pins)
      if (pin.point == axle) sum += pin.force;
    CHECK(norm(sum - load) < 1e-8);
  }
  CHECK(met == 1);
}
