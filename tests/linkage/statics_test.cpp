// Forces at rest: a lever by hand; then every topology, and linkages with several guesses at once, against the
// equilibrium of their members solved in one go, and against virtual work.
#include "linkage/statics.hpp"

#include <catch2/catch.hpp>
#include <random>

#include "tests/support/builder.hpp"
#include "tests/support/close.hpp"
#include "tests/support/equilibrium.hpp"
#include "tests/support/higher_groups.hpp"
#include "tests/support/motion.hpp"

using namespace trammel;
using linkage::Point;

namespace {

/// A mechanism under outside forces at the place where a motion stands.
class Loaded {
 public:
  explicit Loaded(const test::Motion& motion) : motion_(motion) {
    forces_.resize(motion.program());
    loads_.forces.assign(motion.state().position.size(), {0.0, 0.0});
    loads_.couples.assign(motion.program().mechanism.members.size(), 0.0);
  }

  Loaded& push(int point, const Point& force) {
    loads_.forces[static_cast<std::size_t>(point)] = force;
    return *this;
  }
  Loaded& twist(int member, double moment) {
    loads_.couples[static_cast<std::size_t>(member)] = moment;
    return *this;
  }
  Loaded& balance() {
    forces_.outside = loads_.forces;
    forces_.couples = loads_.couples;
    linkage::balance(motion_.program(), motion_.geometry(), motion_.state(), forces_);
    return *this;
  }

  double drive() const { return forces_.drive; }
  Point pin(int point, int member) const {
    return linkage::pin_force(motion_.program(), motion_.geometry(), motion_.state(), forces_, member, point);
  }
  double shoe(int slider) const {
    return linkage::shoe_force(motion_.program(), motion_.geometry(), motion_.state(), forces_, slider);
  }
  test::Equilibrium by_members() const {
    return test::equilibrium(motion_.program().mechanism, motion_.state().position, loads_);
  }

 private:
  const test::Motion& motion_;
  test::OutsideLoads loads_;
  linkage::Forces<double> forces_;
};

/// Largest difference from the equilibrium of the members, as a share of the largest force there.
double off(const Loaded& loaded) {
  const test::Equilibrium by = loaded.by_members();
  REQUIRE(by.imbalance < 1e-9);
  double worst = 0.0, scale = 1.0;
  for (const test::PinForce& pin : by.pins) {
    worst = std::max(worst, norm(loaded.pin(pin.point, pin.member) - pin.force));
    scale = std::max(scale, norm(pin.force));
  }
  for (std::size_t i = 0; i < by.shoes.size(); ++i) {
    worst = std::max(worst, std::abs(loaded.shoe(static_cast<int>(i)) - by.shoes[i]));
    scale = std::max(scale, std::abs(by.shoes[i]));
  }
  return worst / scale;
}

using Named = std::pair<std::string, linkage::Mechanism>;

std::vector<Named> every_linkage() {
  std::vector<Named> all = test::every_topology();
  all.emplace_back("triad", test::triad());
  all.emplace_back("two bodies", test::two_bodies());
  return all;
}

}  // namespace

TEST_CASE("a lever on a pivot, worked out by hand") {
  // Arm level to the rear, 400 mm; the shock stands upright over it at 100 mm and is pushed by 4 times the load.
  const test::Motion motion(test::MechanismBuilder()
                                .point("pivot", 0, 0)
                                .point("axle", -400, 0)
                                .point("eye", -100, 0)
                                .point("mount", -100, 200)
                                .member("frame", {"pivot", "mount"})
                                .member("arm", {"pivot", "axle", "eye"})
                                .shock("mount", "eye", 50)
                                .build());
  const Loaded lifted = Loaded(motion).push(1, {0.0, 1000.0}).balance();
  CHECK(lifted.drive() == test::within(4000.0, 1e-9));
  // The pivot pushes the arm up by what the shock pushes down beyond the load.
  CHECK(lifted.pin(0, 1).x == test::within(0.0, 1e-9));
  CHECK(lifted.pin(0, 1).y == test::within(3000.0, 1e-9));
  CHECK(lifted.pin(0, 0).y == test::within(-3000.0, 1e-9));
  CHECK(lifted.pin(3, 0).y == test::within(4000.0, 1e-9));

  // A couple of 40 N·m on the arm, clockwise, lifts nothing at the pivot but what the shock asks.
  const Loaded turned = Loaded(motion).twist(1, -40000.0).balance();
  CHECK(turned.drive() == test::within(400.0, 1e-9));
  CHECK(turned.pin(0, 1).y == test::within(400.0, 1e-9));
}

TEST_CASE("every pin and shoe carries what the equilibrium of the members asks, for every linkage") {
  std::mt19937 random(8);  // NOLINT(cert-msc51-cpp): written down, so that a failure can be seen again
  std::uniform_real_distribution<double> shift(-3.0, 3.0), force(-2000.0, 2000.0), part(0.0, 0.9);
  int compared = 0;
  for (const auto& [name, drawn] : every_linkage()) {
    for (int trial = 0; trial < 12; ++trial) {
      linkage::Mechanism mechanism = drawn;
      for (Point& p : mechanism.points) p += Point{shift(random), shift(random)};
      test::Motion motion(mechanism);
      motion.to(mechanism.drive.range * part(random));
      if (motion.least_margin() < 1e-3) continue;  // moved into a dead point by chance
      Loaded loaded(motion);
      for (int p = 0; p < static_cast<int>(mechanism.points.size()); ++p)
        loaded.push(p, {force(random), force(random)});
      for (int k = 0; k < static_cast<int>(mechanism.members.size()); ++k) loaded.twist(k, 100.0 * force(random));
      INFO(name << ", trial " << trial);
      CHECK(off(loaded.balance()) < 1e-9);
      ++compared;
    }
  }
  CHECK(compared > 150);
}

TEST_CASE("what the drive holds is the outside forces' work, for every linkage") {
  const Point load{-310.0, 870.0};
  const double moment = 25000.0;
  for (const auto& [name, mechanism] : every_linkage()) {
    test::Motion motion(mechanism);
    for (const double part : {0.0, 0.35, 0.8}) {
      INFO(name << " at " << part);
      motion.to(mechanism.drive.range * part);
      const int point = static_cast<int>(mechanism.points.size()) - 1;
      const int member = static_cast<int>(mechanism.members.size()) - 1;
      const Loaded loaded = Loaded(motion).push(point, load).twist(member, moment).balance();
      // Virtual work (any mechanics text): the drive's force times ds is the work of all the others.
      const double work = dot(load, motion.velocity(mechanism.point_names.back())) +
                          moment * motion.rate(mechanism.members.back().name);
      CHECK(loaded.drive() == test::within(work, 1e-9 * (1.0 + std::abs(work))));
      CHECK(loaded.by_members().drive == test::within(work, 1e-7 * (1.0 + std::abs(work))));
    }
  }
}

TEST_CASE("a member with two pins is pulled along its line, and the forces at a pin add up to the outside one") {
  const Point load{120.0, 1400.0};
  int bars = 0;
  for (const auto& [name, mechanism] : every_linkage()) {
    test::Motion motion(mechanism);
    motion.to(0.4 * mechanism.drive.range);
    const int pushed = static_cast<int>(mechanism.points.size()) - 1;
    const Loaded loaded = Loaded(motion).push(pushed, load).balance();
    std::vector<Point> sums(mechanism.points.size(), Point{0.0, 0.0});
    double greatest = norm(load);
    for (int k = 0; k < static_cast<int>(mechanism.members.size()); ++k) {
      const auto& points = mechanism.members[static_cast<std::size_t>(k)].points;
      for (const int p : points) {
        sums[static_cast<std::size_t>(p)] += loaded.pin(p, k);
        greatest = std::max(greatest, norm(loaded.pin(p, k)));
      }
      const bool rail = std::any_of(mechanism.sliders.begin(), mechanism.sliders.end(),
                                    [&](const linkage::Slider& s) { return s.member == k; });
      const bool turned = mechanism.drive.kind == linkage::DriveKind::turn && mechanism.drive.member == k;
      if (k == mechanism.frame || points.size() != 2 || rail || turned) continue;
      INFO(name << ", member " << mechanism.members[static_cast<std::size_t>(k)].name);
      const auto place = [&](int i) { return motion.state().position[static_cast<std::size_t>(i)]; };
      const Point along = place(points[1]) - place(points[0]);
      CHECK(std::abs(cross(along, loaded.pin(points[0], k))) <= 1e-9 * norm(along) * greatest);
      ++bars;
    }
    for (int p = 0; p < static_cast<int>(mechanism.points.size()); ++p) {
      const linkage::Drive& drive = mechanism.drive;
      const bool shoe = std::any_of(mechanism.sliders.begin(), mechanism.sliders.end(),
                                    [&](const linkage::Slider& s) { return s.point == p; });
      if (shoe || p == drive.a || p == drive.b || p == drive.point) continue;
      INFO(name << ", pin " << mechanism.point_names[static_cast<std::size_t>(p)]);
      CHECK(norm(sums[static_cast<std::size_t>(p)] - (p == pushed ? load : Point{0.0, 0.0})) <= 1e-9 * greatest);
    }
  }
  CHECK(bars >= 10);
}
