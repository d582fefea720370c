// Plane vectors against std::complex, which does the same arithmetic.
#include <catch2/catch.hpp>
#include <complex>

#include "math/vec2.hpp"
#include "tests/support/close.hpp"

using namespace trammel;
using Complex = std::complex<double>;
using Vec = math::Vec2<double>;

namespace {

Complex complex(const Vec& v) {
  return {v.x, v.y};
}
void check_same(const Vec& ours, const Complex& theirs) {
  CHECK(ours.x == test::within(theirs.real(), 1e-15 * (1.0 + std::abs(theirs))));
  CHECK(ours.y == test::within(theirs.imag(), 1e-15 * (1.0 + std::abs(theirs))));
}

const Vec samples[] = {{1, 0}, {0, 1}, {-3, 4}, {0.25, -7.5}, {-1e3, -1e-3}};

}  // namespace

TEST_CASE("vectors add, turn and measure like complex numbers") {
  for (const Vec& a : samples)
    for (const Vec& b : samples) {
      INFO("(" << a.x << ", " << a.y << ") and (" << b.x << ", " << b.y << ")");
      const Complex p = complex(a), q = complex(b);
      check_same(a + b, p + q);
      check_same(a - b, p - q);
      check_same(-a, -p);
      check_same(a * 2.5, p * 2.5);
      check_same(2.5 * a, p * 2.5);
      check_same(turn(a, b), p * q);
      check_same(turn_back(a, b), p * std::conj(q));
      check_same(perp(a), p * Complex(0, 1));
      const Complex product = std::conj(p) * q;  // its parts are the dot and cross products
      const double scale = 1.0 + std::abs(p) * std::abs(q);
      CHECK(dot(a, b) == test::within(product.real(), 1e-15 * scale));
      CHECK(cross(a, b) == test::within(product.imag(), 1e-15 * scale));
      Vec sum = a;
      sum += b;
      check_same(sum, p + q);
    }
  for (const Vec& a : samples) {
    CHECK(math::squared_norm(a) == test::relative(std::norm(complex(a)), 1e-15));
    CHECK(std::sqrt(math::squared_norm(a)) == test::relative(std::abs(complex(a)), 1e-15));
  }
}

TEST_CASE("signs: counter-clockwise is positive") {
  CHECK(cross(Vec{1, 0}, Vec{0, 1}) == 1.0);
  CHECK(perp(Vec{1, 0}).y == 1.0);
  const Vec quarter = math::unit(math::pi / 2.0);
  CHECK(quarter.x == test::within(0.0, 1e-16));
  CHECK(quarter.y == 1.0);
  CHECK(math::degrees(math::radians(64.8)) == test::relative(64.8, 1e-15));
  CHECK(math::degrees(math::pi) == 180.0);
}
