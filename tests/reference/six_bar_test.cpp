// Six-bar linkages of both classes through a whole turn of the crank.
//
// Dimensions read in a public re-working of Constans & Dyer, Introduction to Mechanism Design with Computer
// Applications (CRC, 2018) (the attribution to the book is from memory); that text plots its results. The figures below
// were computed from the dimensions by a separate program with two closed-form four-bar solutions, its velocities
// confirmed by finite differences. Lengths in m, the crank at 10 rad/s.
#include <catch2/catch.hpp>

#include "tests/support/close.hpp"
#include "tests/support/motion.hpp"
#include "tests/support/textbook.hpp"

using namespace trammel;
using math::Vec2;
using test::polar;
using test::printed;

namespace {

constexpr double speed = 10.0;

struct Row {
  double theta2, theta3, theta4, theta5, theta6;  // degrees
  double gx, gy;
  double omega3, omega4, omega5, omega6;  // rad/s
  double vgx, vgy;
};

void check_rows(const test::MechanismBuilder& builder, const std::vector<Row>& rows) {
  test::Motion motion(builder.build());
  for (const Row& row : rows) {
    INFO("crank at " << row.theta2);
    motion.to(math::radians(row.theta2));
    const auto angle = [&](const char* from, const char* to, double wanted) {
      CHECK(test::near(test::degrees_of(motion.at(from), motion.at(to)), wanted) == printed(wanted, 4));
    };
    angle("B", "C", row.theta3);
    angle("D", "C", row.theta4);
    angle("E", "G", row.theta5);
    angle("F", "G", row.theta6);
    CHECK(motion.at("G").x == printed(row.gx, 6));
    CHECK(motion.at("G").y == printed(row.gy, 6));
    CHECK(motion.rate("coupler") * speed == printed(row.omega3, 5));
    CHECK(motion.rate("rocker") * speed == printed(row.omega4, 5));
    CHECK(motion.rate("link five") * speed == printed(row.omega5, 5));
    CHECK(motion.rate("link six") * speed == printed(row.omega6, 5));
    CHECK(motion.velocity("G").x * speed == printed(row.vgx, 6));
    CHECK(motion.velocity("G").y * speed == printed(row.vgy, 6));
  }
}

test::MechanismBuilder six_bar(const Vec2<double>& b, const Vec2<double>& c, const Vec2<double>& d,
                               const Vec2<double>& e, const Vec2<double>& f, const Vec2<double>& g) {
  return test::MechanismBuilder()
      .point("A", 0, 0)
      .point("B", b.x, b.y)
      .point("C", c.x, c.y)
      .point("D", d.x, d.y)
      .point("E", e.x, e.y)
      .point("F", f.x, f.y)
      .point("G", g.x, g.y)
      .member("frame", {"A", "D"})
      .member("rocker", {"D", "C", "F"})
      .member("link five", {"E", "G"})
      .member("link six", {"F", "G"});
}

}  // namespace

TEST_CASE("Watt six-bar: the second loop stands on coupler and rocker") {
  const Vec2<double> b = polar(0.084, 0.0), d{0.132, 0.0};
  const Vec2<double> c = test::dyad(b, 0.120, d, 0.108, 1.0);
  const Vec2<double> e = b + polar(0.180, test::degrees_of(b, c) + 30.0);
  const Vec2<double> f = d + polar(0.180, test::degrees_of(d, c) - 50.0);
  const Vec2<double> g = test::dyad(e, 0.120, f, 0.120, 1.0);
  const std::vector<Row> rows{
      {0, 64.0555, 87.6120, 7.5001, 134.6588, 0.190243, 0.195213, -17.5, -17.5, -17.5, -17.5, 3.416221, -1.019256},
      {60, 15.5524, 76.2849, -0.7907, 92.5572, 0.288035, 0.199591, -2.25013, 6.24344, 7.28760, -0.59571, -0.426251,
       1.010809},
      {120, 9.5041, 121.0142, 56.3157, 103.0625, 0.163438, 0.287103, -0.13318, 7.83082, 11.60337, 4.60219, -1.870840,
       0.333753},
      {180, 17.6781, 160.2809, 126.2038, 149.4045, -0.033686, 0.229918, 3.88889, 3.88889, 3.88889, 3.88889, -0.894125,
       -0.644334},
      {240, 54.8818, 166.3920, 101.6935, 148.4403, -0.050263, 0.224046, 7.21820, -0.74580, -4.51835, 2.48283, -0.035686,
       -0.194200},
      {300, 93.4490, 154.1814, 77.1059, 170.4537, -0.030437, 0.194416, 4.50819, -3.98537, -5.02954, 2.85378, 0.638711,
       -0.161961},
  };
  check_rows(six_bar(b, c, d, e, f, g)
                 .member("crank", {"A", "B"})
                 .member("coupler", {"B", "C", "E"})
                 .turn("crank", 2.0 * math::pi),
             rows);
}

TEST_CASE("Stephenson six-bar: the second loop stands on crank and rocker") {
  const Vec2<double> b = polar(0.070, 0.0), d{0.110, 0.0};
  const Vec2<double> c = test::dyad(b, 0.100, d, 0.090, 1.0);
  const Vec2<double> e = polar(0.150, 20.0);
  const Vec2<double> f = d + polar(0.150, test::degrees_of(d, c) - 20.0);
  const Vec2<double> g = test::dyad(e, 0.120, f, 0.160, 1.0);
  const std::vector<Row> rows{
      {0, 64.0555, 87.6120, 170.8767, 205.2946, 0.022472, 0.070330, -17.5, -17.5, -24.01446, -36.32404, -0.056105,
       4.254819},
      {60, 15.5524, 76.2849, 56.9231, 129.4759, 0.091539, 0.248274, -2.25013, 6.24344, -2.12874, 3.92024, -1.263161,
       0.121057},
      {120, 9.5041, 121.0142, 66.6042, 158.2399, -0.067257, 0.206552, -0.13318, 7.83082, 4.31958, 4.83734, -1.439914,
       -0.943240},
      {180, 17.6781, 160.2809, 100.4413, 190.4949, -0.162701, 0.066710, 3.88889, 3.88889, 5.79966, 6.90917, -0.171405,
       -1.535667},
      {240, 54.8818, 166.3920, 127.7276, 238.1002, -0.099476, -0.052810, 7.21820, -0.74580, 3.97938, 7.63865, 1.099523,
       -0.552674},
      {300, 93.4490, 154.1814, 158.4879, 269.2142, 0.003266, -0.052414, 4.50819, -3.98537, 6.59081, 1.53422, 0.674161,
       0.413264},
  };
  check_rows(six_bar(b, c, d, e, f, g)
                 .member("crank", {"A", "B", "E"})
                 .member("coupler", {"B", "C"})
                 .turn("crank", 2.0 * math::pi),
             rows);
}
