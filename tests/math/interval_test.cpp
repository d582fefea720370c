// Intervals and Taylor forms hold what they must. Reference: Boost.Multiprecision's binary floating point with 100
// digits, whose elementary functions are its own.
#include "math/taylor_form.hpp"

#include <boost/multiprecision/cpp_bin_float.hpp>
#include <catch2/catch.hpp>
#include <random>

using namespace trammel;
using math::Interval;
using Exact = boost::multiprecision::cpp_bin_float_100;
using Form = math::TaylorForm<4>;

namespace {

bool holds(const Interval& in, const Exact& x) {
  return (std::isinf(in.lo) || Exact(in.lo) <= x) && (std::isinf(in.hi) || x <= Exact(in.hi));
}

class Draw {
 public:
  explicit Draw(unsigned seed) : engine_(seed) {}
  double number(double from, double to) { return std::uniform_real_distribution<double>(from, to)(engine_); }
  /// Of any size, its middle at most so large.
  Interval interval(double size) {
    const double a = number(-size, size), width = std::pow(10.0, number(-16.0, 0.5)) * size;
    return {a, a + width};
  }
  double within(const Interval& x) {
    const double share = number(-0.1, 1.1);  // the ends themselves, now and then
    return std::clamp(x.lo + share * (x.hi - x.lo), x.lo, x.hi);
  }

 private:
  std::mt19937_64 engine_;
};

}  // namespace

TEST_CASE("every operation on intervals holds every exact result") {
  Draw draw(1);
  namespace mp = boost::multiprecision;
  for (int i = 0; i < 20000; ++i) {
    const double size = std::pow(10.0, draw.number(-8.0, 8.0));
    const Interval a = draw.interval(size), b = draw.interval(size);
    const double x = draw.within(a), y = draw.within(b);
    const Exact ex(x), ey(y);
    REQUIRE(holds(a + b, ex + ey));
    REQUIRE(holds(a - b, ex - ey));
    REQUIRE(holds(a * b, ex * ey));
    if (y != 0.0) REQUIRE(holds(a / b, ex / ey));
    REQUIRE(holds(-a, -ex));
    REQUIRE(holds(math::square(a), ex * ex));
    REQUIRE(holds(math::max(a, b), ex < ey ? ey : ex));
    REQUIRE(holds(math::min(a, b), ex < ey ? ex : ey));
    REQUIRE(holds(math::hull(a, b), ex));
    if (x >= 0.0) REQUIRE(holds(math::sqrt(a), mp::sqrt(ex)));
    const math::Known less = a < b;
    REQUIRE((x < y ? less.may_hold : less.may_fail));
    if (i % 20 != 0) continue;  // elementary functions of 100 digits take their time
    REQUIRE(holds(math::atan2(a, b), mp::atan2(ex, ey)));
    if (x > 0.0) {
      REQUIRE(holds(math::log(a), mp::log(ex)));
      REQUIRE(holds(math::pow(a, 1.3), mp::pow(ex, Exact(1.3))));
      REQUIRE(holds(math::pow(a, -0.7), mp::pow(ex, Exact(-0.7))));
    }
  }
}

TEST_CASE("exact ends stay exact enough: an interval grows by a few units of the last place") {
  const Interval third = Interval(1.0) / Interval(3.0);
  CHECK(third.hi - third.lo <= 2e-16);
  CHECK(third.lo < third.hi);
  CHECK((Interval(1.0, 2.0) / Interval(-1.0, 1.0)).lo == -std::numeric_limits<double>::infinity());
  CHECK(math::atan2(Interval(-1.0, 1.0), Interval(-2.0, -1.0)).hi >= math::pi);
}

TEST_CASE("every operation on Taylor forms holds every exact result, for every place in the box") {
  Draw draw(2);
  namespace mp = boost::multiprecision;
  for (int i = 0; i < 3000; ++i) {
    const double width = std::pow(10.0, draw.number(-6.0, 0.3));
    Interval box[2];
    double at[2];
    for (int v = 0; v < 2; ++v) {
      const double middle = draw.number(-3.0, 3.0);
      box[v] = {middle - width, middle + width};
      at[v] = draw.within(box[v]);
    }
    const Form u = Form::variable(box[0], 0), v = Form::variable(box[1], 1);
    const Exact eu(at[0]), ev(at[1]);
    // Something of both, so that operands hang together.
    const Form a = u * v + u, b = v - u * Form(0.5) + Form(0.1);
    const Exact ea = eu * ev + eu, eb = ev - eu * Exact(0.5) + Exact(0.1);
    REQUIRE(holds(a.range(), ea));
    REQUIRE(holds((a * b).range(), ea * eb));
    if (eb != 0) REQUIRE(holds((a / b).range(), ea / eb));
    REQUIRE(holds(math::square(a).range(), ea * ea));
    REQUIRE(holds(math::max(a, b).range(), ea < eb ? eb : ea));
    REQUIRE(holds(math::min(a, b).range(), ea < eb ? ea : eb));
    REQUIRE(holds(math::abs(a).range(), mp::abs(ea)));
    if (ea >= 0) REQUIRE(holds(math::sqrt(a).range(), mp::sqrt(ea)));
    REQUIRE(holds(math::atan2(a, b).range(), mp::atan2(ea, eb)));
    REQUIRE(holds(math::cos_sin(a).first.range(), mp::cos(ea)));
    REQUIRE(holds(math::cos_sin(a).second.range(), mp::sin(ea)));
    if (ea > 0) {
      REQUIRE(holds(math::log(a).range(), mp::log(ea)));
      REQUIRE(holds(math::pow(a, 1.3).range(), mp::pow(ea, Exact(1.3))));
    }
    // The linear part by itself: what a row of a proof is made of.
    const Form y = a / (math::square(b) + Form(1.0));
    const Exact off = ea / (eb * eb + 1) - Exact(y.mid()) -
                      Exact(y.slope(0)) * (eu - Exact(0.5 * (box[0].lo + box[0].hi))) / Exact(width) -
                      Exact(y.slope(1)) * (ev - Exact(0.5 * (box[1].lo + box[1].hi))) / Exact(width);
    const Interval beyond = y.beyond_linear();
    REQUIRE(holds(Interval(beyond.lo - 1e-14 - 1e-9 * beyond.size(), beyond.hi + 1e-14 + 1e-9 * beyond.size()), off));
  }
}

TEST_CASE("the width of an interval falls with a box's, a Taylor form's error with its third power") {
  const auto formula = [](const auto& x, const auto& y) {
    using T = std::decay_t<decltype(x)>;
    return x * y / (x + y) - math::sqrt(T(x * x + y * y)) * y;
  };
  double interval = 0.0, taylor = 0.0;
  for (const double width : {1e-1, 1e-2, 1e-3}) {
    const Interval x(1.0 - width, 1.0 + width), y(2.0 - width, 2.0 + width);
    const double wide = formula(x, y).width(), err = formula(Form::variable(x, 0), Form::variable(y, 1)).err();
    if (interval > 0.0) {
      CHECK(wide / interval == Approx(0.1).epsilon(0.2));
      CHECK(err / taylor == Approx(0.001).epsilon(0.2));
    }
    interval = wide;
    taylor = err;
  }
}
