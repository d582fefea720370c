// A linkage read off a picture against the same one in millimetres.
#include <catch2/catch.hpp>
#include <cmath>
#include <complex>

#include "brief/read.hpp"

namespace trammel::test {
namespace {

using Complex = std::complex<double>;

/// How a side view came about: a millimetre is `scale` pixels, the picture is turned by `turn` rad counter-clockwise,
/// and the bottom bracket lies at `centre`.
struct View {
  double scale = 0.8;
  double turn = 0.03;
  Complex centre{1400.0, 1250.0};
  bool left = false;

  std::string operator()(double x, double y) const {
    const Complex seen = Complex(left ? -x : x, y) * std::polar(scale, turn);
    const Complex pixel = centre + std::conj(seen);  // rows are counted downwards
    return "[" + std::to_string(pixel.real()) + ", " + std::to_string(pixel.imag()) + "]";
  }
};

std::string layout(const View& at, double length = 230.0, const std::string& more = "", double other = 1000.0) {
  return "trammel: 1\n"
         "title: Read off a picture\n"
         "bike:\n"
         "  wheels: { rear: { radius: 371 }, front: { radius: 371 } }\n"
         "  front: { axle: [806, 30], head_angle: 64.8, travel: 160 }\n"
         "  cg: { x: 20, height: 1120 }\n"
         "linkage:\n"
         "  picture:\n"
         "    points: { pivot: " +
         at(10, 70) + ", axle: " + at(-437, 30) + ", eye: " + at(-50, 232) + ", mount: " + at(176.5, 271.94) +
         " }\n"
         "    bottom_bracket: " +
         at(0, 0) +
         "\n"
         "    level: [" +
         at(-437, 30) + ", " + at(806, 30) +
         "]\n"
         "    lengths:\n"
         "      - { from: " +
         at(-437, 30) + ", to: " + at(806, 30) +
         ", length: 1243 }\n"
         "      - { from: " +
         at(0, 0) + ", to: " + at(0, 1000) + ", length: " + std::to_string(other) + " }\n" + more +
         "  members: { frame: [pivot, mount], swingarm: [pivot, axle, eye] }\n"
         "  axle: { point: axle, member: swingarm }\n"
         "shock: { between: [mount, eye], length: " +
         std::to_string(length) + ", stroke: 57.5 }\n";
}

brief::Reading read(const std::string& text) {
  return brief::read_text(text, "picture.yaml");
}

}  // namespace

TEST_CASE("pixels become millimetres in frame axes, whichever way the bike faces") {
  for (const bool left : {false, true})
    for (const double turn : {0.0, 0.03, -0.2}) {
      View view;
      view.left = left;
      view.turn = turn;
      const auto reading = read(layout(view, 230.0, left ? "    faces: left\n" : ""));
      INFO(reading.message());
      REQUIRE(reading.ok());
      const auto& points = reading.brief.layout.mechanism.points;
      // Six decimals of a pixel were written.
      CHECK(points[0].x == Approx(10.0).margin(1e-5));
      CHECK(points[0].y == Approx(70.0).margin(1e-5));
      CHECK(points[1].x == Approx(-437.0).margin(1e-5));
      CHECK(points[1].y == Approx(30.0).margin(1e-5));
      CHECK(points[2].x == Approx(-50.0).margin(1e-5));
      CHECK(points[2].y == Approx(232.0).margin(1e-5));
      CHECK(norm(points[3] - points[2]) == Approx(230.0).margin(1e-9));
      CHECK(reading.brief.layout.reading == Approx(1.0 / 0.8).epsilon(1e-6));
    }
}

TEST_CASE("the shock's eye on the frame is moved within the error of reading, and no further") {
  const View view;
  // The eyes are 230 mm apart; readings within 1 px are off by up to 2 √2/0.8 mm and half a millimetre.
  const double slack = 2.0 * std::sqrt(2.0) / 0.8 + 0.5;
  const auto near = read(layout(view, 230.0 + slack - 0.02));
  INFO(near.message());
  REQUIRE(near.ok());
  const auto& points = near.brief.layout.mechanism.points;
  CHECK(norm(points[3] - points[2]) == Approx(230.0 + slack - 0.02).margin(1e-9));
  CHECK(points[2].x == Approx(-50.0).margin(1e-5));
  const auto far = read(layout(view, 230.0 + slack + 0.02));
  REQUIRE(far.problems.size() == 1);
  CHECK(far.problems[0].where == "shock.length");
  CHECK(far.problems[0].what.find("within the error of reading") != std::string::npos);
  CHECK(read(layout(view, 232.0, "    reading: 0.1\n")).problems.size() == 1);
}

TEST_CASE("two known lengths are fitted by least squares, and refused when they contradict each other") {
  const View view;
  // A millimetre is 0.8 px over the wheelbase; the other length says 0.8/1.02: Σ length·pixels/Σ pixels².
  const auto reading = read(layout(view, 230.0, "    reading: 5\n", 1020.0));
  INFO(reading.message());
  REQUIRE(reading.ok());
  const double a = 1243.0 * 0.8, b = 1000.0 * 0.8;
  const double scale = (1243.0 * a + 1020.0 * b) / (a * a + b * b);
  CHECK(reading.brief.layout.mechanism.points[1].x == Approx(-437.0 * 0.8 * scale).epsilon(1e-6));
  const auto refused = read(layout(view, 230.0, "    reading: 50\n", 1200.0));
  REQUIRE_FALSE(refused.ok());
  CHECK(refused.problems[0].where.find("linkage.picture.lengths[") == 0);
  CHECK(refused.problems[0].what.find("look for a slip") != std::string::npos);
}

TEST_CASE("a shock without its length, or with a flawed one, is told of and nothing else") {
  const std::string sound = layout(View{}, 230.0);
  const std::string given = "length: " + std::to_string(230.0) + ", stroke";
  REQUIRE(sound.find(given) != std::string::npos);
  for (const auto& [instead, says, problems] : {std::tuple{"stroke", "key 'length' is missing", 1},
                                                {"lenght: 230, stroke", "did you mean 'length'?", 2},
                                                {"length: long, stroke", "is not a number", 1}}) {
    std::string text = sound;
    text.replace(text.find(given), given.size(), instead);
    const auto reading = read(text);
    INFO(reading.message());
    CHECK(reading.problems.size() == static_cast<std::size_t>(problems));
    CHECK(reading.message().find(says) != std::string::npos);
  }
}

}  // namespace trammel::test
