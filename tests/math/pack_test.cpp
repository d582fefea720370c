// Numbers side by side: every lane is what a plain number would be, to the last bit.
#include "math/pack.hpp"

#include <array>
#include <bit>
#include <catch2/catch.hpp>
#include <cstdint>
#include <random>

#include "math/trigonometry.hpp"

using namespace trammel;

namespace {

constexpr int width = 8;
using Pack = math::Pack<width>;

std::uint64_t bits(double x) {
  return std::bit_cast<std::uint64_t>(x);
}

/// Runs a formula on plain numbers and on packs of the same numbers.
template <class Formula>
void same_bits(Formula formula) {
  std::mt19937_64 random(5);
  std::uniform_real_distribution<double> number(-1e3, 1e3);
  for (int trial = 0; trial < 200; ++trial) {
    Pack a, b;
    for (std::size_t i = 0; i < width; ++i) {
      math::set_lane(a, i, number(random));
      math::set_lane(b, i, trial % 7 == 0 ? math::lane(a, i) : number(random));
    }
    const Pack out = formula(a, b);
    for (std::size_t i = 0; i < width; ++i)
      CHECK(bits(math::lane(out, i)) == bits(formula(math::lane(a, i), math::lane(b, i))));
  }
}

}  // namespace

TEST_CASE("a lane has the bits of the plain number") {
  same_bits([](auto a, auto b) { return a + b; });
  same_bits([](auto a, auto b) { return a - b; });
  same_bits([](auto a, auto b) { return a * b; });
  same_bits([](auto a, auto b) { return a / b; });
  same_bits([](auto a, auto b) { return -a + b * 0.5; });
  same_bits([](auto a, auto b) { return math::sqrt(a * a + b * b); });
  same_bits([](auto a, auto b) { return math::max(a, b) - math::min(a, b); });
  same_bits([](auto a, auto b) { return math::abs(a) * b; });
  same_bits([](auto a, auto b) { return math::select(a < b, a * b, a - b); });
  same_bits([](auto a, auto b) { return math::select((a <= b) & (b > decltype(a)(0.0)), a, b); });
  same_bits([](auto a, auto b) { return math::select(!((a >= b) | (b < decltype(a)(0.0))), a, b); });
  same_bits([](auto a, auto b) { return math::atan2(a, b); });
  same_bits([](auto a, auto b) { return math::unit_angle(a / (math::abs(a) + math::abs(b)), b / 1e3); });
  same_bits([](auto a, auto b) { return math::sin(a) + math::cos(b); });
  same_bits([](auto a, auto b) { return decltype(a)(-0.0) * (a + b); });
  // A product and a sum are rounded each by itself, also where the processor could do both at once.
  same_bits([](auto a, auto b) { return a * b + a * a - b * b; });
}

TEST_CASE("any and all lanes") {
  Pack x(1.0);
  CHECK(math::all(x < Pack(2.0)));
  CHECK_FALSE(math::any(x > Pack(2.0)));
  for (std::size_t i = 0; i < width; ++i) {
    Pack one(1.0);
    math::set_lane(one, i, 3.0);
    CHECK(math::any(one > Pack(2.0)));
    CHECK_FALSE(math::all(one < Pack(2.0)));
    CHECK(math::lane(one > Pack(2.0), i));
  }
  CHECK(math::all(math::Mask<width>(true)));
  CHECK_FALSE(math::any(math::Mask<width>(false)));
}

TEST_CASE("an element picked in each lane by itself") {
  const std::array<double, 4> numbers{10.0, 11.0, 12.0, 13.0};
  Pack index;
  for (std::size_t i = 0; i < width; ++i) math::set_lane(index, i, static_cast<double>((3 * i) % 4));
  const Pack plain = math::pick(index, [&](std::size_t i) -> const double& { return numbers[i]; });
  std::array<Pack, 4> packs;
  for (std::size_t i = 0; i < 4; ++i)
    for (std::size_t lane = 0; lane < width; ++lane)
      math::set_lane(packs[i], lane, 100.0 * static_cast<double>(lane) + numbers[i]);
  const Pack wide = math::pick(index, [&](std::size_t i) -> const Pack& { return packs[i]; });
  for (std::size_t i = 0; i < width; ++i) {
    CHECK(math::lane(plain, i) == numbers[(3 * i) % 4]);
    CHECK(math::lane(wide, i) == 100.0 * static_cast<double>(i) + numbers[(3 * i) % 4]);
  }
}

TEST_CASE("sine, cosine and arctangent against the C library's") {
  // The C library's are good to about one unit of the last place; so many units apart are allowed in all.
  const auto units = [](double x, double reference) {
    return std::abs(x - reference) / (std::nextafter(std::abs(reference), 1e300) - std::abs(reference));
  };
  std::mt19937_64 random(17);
  std::uniform_real_distribution<double> angle(-400.0, 400.0), side(-1.0, 1.0);
  for (int i = 0; i < 20000; ++i) {
    const double a = i % 2 == 0 ? angle(random) : 4.0 * side(random);
    // Near a zero what is left is the rounding of the angle's reduction, in units of 1.
    CHECK(std::abs(math::sin(a) - std::sin(a)) <= 2.3e-16);
    CHECK(std::abs(math::cos(a) - std::cos(a)) <= 2.3e-16);
    const double y = side(random), x = i % 3 == 0 ? 1e-3 * side(random) : side(random);
    CHECK(units(math::atan2(y, x), std::atan2(y, x)) <= 3.0);
    // Of a unit vector, whose own rounding is a few units of 1.
    const double turn = 2.0 * side(random);
    CHECK(std::abs(math::unit_angle(std::sin(turn), std::cos(turn)) - turn) <= 1e-15);
  }
  for (int quarter = -8; quarter <= 8; ++quarter) {
    const double a = quarter * 0.5 * math::pi;
    CHECK(std::abs(math::sin(a) - std::sin(a)) <= 2.3e-16);
    CHECK(std::abs(math::cos(a) - std::cos(a)) <= 2.3e-16);
  }
  CHECK(math::unit_angle(0.0, -1.0) == math::pi);
  CHECK(math::unit_angle(0.0, 1.0) == 0.0);
  CHECK(math::atan2(0.0, 0.0) == 0.0);
  CHECK(math::atan2(0.0, 1.0) == 0.0);
  CHECK(math::atan2(0.0, -1.0) == math::pi);
  CHECK(math::atan2(1.0, 0.0) == 0.5 * math::pi);
  CHECK(math::atan2(-1.0, 0.0) == -0.5 * math::pi);
}
