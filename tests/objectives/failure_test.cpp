// Layouts that do not assemble: the failure is graded, and nothing is ever no number.
#include <catch2/catch.hpp>
#include <random>

#include "objectives/screen.hpp"
#include "tests/objectives/every_target.hpp"
#include "tests/objectives/judged.hpp"
#include "tests/objectives/single_pivot.hpp"
#include "tests/support/close.hpp"

using namespace trammel;
using namespace trammel::objectives;
using bike::Curve;
using test::Judged;
using test::within;

namespace {

void check_numbers(const Judged& judged) {
  for (const std::vector<double>& values : judged.outcome().values)
    for (double y : values) CHECK(std::isfinite(y));
  for (const Verdict& v : judged.assessment().targets) {
    CHECK(std::isfinite(v.achieved));
    CHECK(std::isfinite(v.at_travel));
    CHECK(std::isfinite(v.violation));
    CHECK(std::isfinite(v.margin));
  }
  for (const RuleVerdict& r : judged.assessment().rules) {
    CHECK(std::isfinite(r.achieved));
    CHECK(std::isfinite(r.at_travel));
  }
  CHECK(std::isfinite(judged.assessment().score));
  CHECK(std::isfinite(judged.assessment().margin));
  CHECK(std::isfinite(judged.figure({})));
  CHECK(std::isfinite(judged.rules_figure()));
}

}  // namespace

TEST_CASE("a shock that is asked past its dead point: graded by how far") {
  // The triangle pivot–eye–mount closes down to |base − arm|. What is asked beyond gives cos ε > 1 at the eye, and the
  // margin 1 − cos²ε by hand.
  test::SinglePivot pivot;
  const double closest = pivot.base() - pivot.arm();
  const auto asked = [&](double beyond) {
    test::SinglePivot farther = pivot;
    farther.stroke = pivot.drawn() - closest + beyond;
    return farther;
  };
  CHECK(Judged(asked(-0.5).layout(), {}).assembles());

  double last = 0.0;
  for (double beyond : {0.01, 0.1, 0.5, 1.0, 2.0, 5.0, 10.0, 20.0, 40.0}) {
    INFO("asked " << beyond << " mm past the dead point");
    const test::SinglePivot layout = asked(beyond);
    const Judged judged(layout.layout(), {});
    CHECK_FALSE(judged.assembles());
    CHECK(judged.failure() == "does not assemble at eye");
    const double shock = layout.drawn() - layout.stroke;
    const double cosine =
        (pivot.arm() * pivot.arm() + shock * shock - pivot.base() * pivot.base()) / (2.0 * pivot.arm() * shock);
    const double worst = judged.worst_margin();
    CHECK(worst == within(1.0 - cosine * cosine, 1e-9 * cosine * cosine));
    CHECK(judged.rules_figure() > last);
    CHECK_FALSE(judged.rule("least transmission angle").met);
    CHECK_FALSE(judged.assessment().feasible());
    check_numbers(judged);
    last = judged.rules_figure();
  }
}

TEST_CASE("farther past assembling is worse, every topology") {
  for (const auto& [name, mechanism] : test::every_topology()) {
    if (mechanism.drive.kind != linkage::DriveKind::shock) continue;
    INFO(name);
    linkage::Mechanism m = mechanism;
    int failed = 0;
    double least = 0.0;
    for (int i = 0; i < 200 && failed < 12; ++i) {
      const bike::Layout layout = test::bike_around(m);
      if (m.drive.range > 0.95 * layout.shock->length) break;
      const Judged judged(layout, {});
      if (judged.assembles() && failed == 0) {
        m.drive.range += 2.0;
        continue;
      }
      INFO("stroke " << m.drive.range);
      CHECK_FALSE(judged.assembles());
      const double worst = judged.worst_margin();
      CHECK(worst < least);
      CHECK(std::isfinite(judged.rules_figure()));
      least = worst;
      ++failed;
      m.drive.range += 2.0;
    }
    CHECK(failed > 0);
  }
}

TEST_CASE("whatever the points, every number is one") {
  std::mt19937_64 random(20240607);
  int broken = 0, sound = 0;
  for (const auto& [name, mechanism] : test::every_topology()) {
    INFO(name);
    const bike::Layout drawn = test::bike_around(mechanism);
    const std::vector<Target> targets = test::every_target(drawn);
    for (double spread : {5.0, 60.0, 400.0}) {
      std::uniform_real_distribution<double> off(-spread, spread);
      for (int i = 0; i < 40; ++i) {
        INFO("spread " << spread << ", layout " << i);
        std::vector<linkage::Point> points = drawn.mechanism.points;
        for (auto& p : points) p = {p.x + off(random), p.y + off(random)};
        const Judged judged(drawn, targets, {}, points);
        check_numbers(judged);
        if (judged.assembles())
          ++sound;
        else
          ++broken;
      }
    }
  }
  // Both kinds have been seen, many times.
  CHECK(broken > 100);
  CHECK(sound > 100);
}

TEST_CASE("points on one another: a failure with a figure") {
  for (const auto& [name, mechanism] : test::every_topology()) {
    const bike::Layout layout = test::bike_around(mechanism);
    const std::vector<Target> targets = test::every_target(layout);
    const Packaging packaging;
    const bike::Model model = bike::make_model(layout);
    const Demands demands(model, targets, packaging);
    Screening<double> screening(demands);
    for (std::size_t a = 0; a < mechanism.points.size(); ++a) {
      for (std::size_t b = a + 1; b < mechanism.points.size(); ++b) {
        INFO(name << ": " << mechanism.point_names[a] << " on " << mechanism.point_names[b]);
        std::vector<linkage::Point> points = mechanism.points;
        points[b] = points[a];
        Block block;
        block.resize(1, points.size());
        for (std::size_t p = 0; p < points.size(); ++p) {
          block.at(0, p, 0) = points[p].x;
          block.at(0, p, 1) = points[p].y;
        }
        Screened screened;
        screening.screen(block, {}, std::numeric_limits<double>::infinity(), std::span(&screened, 1));
        CHECK(std::isfinite(screened.figure));
        if (!screened.assembles) CHECK(screened.figure >= unassembled);
        if (!screened.assembles) CHECK(screened.joint >= 0);
      }
    }
  }
}
