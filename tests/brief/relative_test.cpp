// Targets that are told by what another layout has.
#include <catch2/catch.hpp>
#include <cmath>
#include <fstream>

#include "bike/reading.hpp"
#include "bike/table.hpp"
#include "brief/read.hpp"
#include "corpus.hpp"
#include "folder.hpp"
#include "objectives/wish.hpp"

namespace trammel::test {
namespace {

using Kind = objectives::Wish::Kind;

/// The shipped single pivot with something to vary and these targets.
std::string asking(const std::string& targets) {
  return base_text("layout") + "vary:\n  pivot: { x: [0, 20], y: [60, 80] }\ntargets:\n" + targets;
}

/// A folder with current.yaml: the same bike with its pivot elsewhere and other gears.
struct Shed {
  Folder folder;
  std::string current =
      edited(edited(base_text("layout"), "pivot: [10, 70]", "pivot: [-4, 52]"), "[18, 28, 50]", "[24]");

  brief::Reading read(const std::string& targets) const { return read_text(asking(targets)); }
  brief::Reading read_text(const std::string& text) const {
    std::filesystem::create_directory(folder.path / "shed");
    std::ofstream(folder.path / "shed/current.yaml", std::ios::binary) << current;
    return brief::read_text(text, (folder.path / "bike.yaml").string());
  }
  objectives::Target only(const std::string& target) const {
    const auto reading = read("  - " + target + "\n");
    INFO(reading.message());
    REQUIRE(reading.ok());
    REQUIRE_FALSE(reading.brief.targets.empty());  // before those that are sound by default
    return reading.brief.targets.front();
  }
  /// The layout's curves, by the way that the curves CSV goes.
  bike::CurveTable curves() const {
    const auto reading = brief::read_text(edited(current, "[24]", "[24, 50]"), "current.yaml");
    INFO(reading.message());
    REQUIRE(reading.ok());
    return bike::trace(reading.brief.layout, 401, true).table;
  }
  std::string problem(const std::string& target) const {
    const auto reading = read("  - " + target + "\n");
    INFO(reading.message());
    REQUIRE(reading.problems.size() == 1);
    return reading.message();
  }
};

double value_in(const bike::CurveTable& table, bike::CurveKey key, double fraction) {
  return bike::value_at(table, key, fraction * bike::whole_travel(table)).value();
}

}  // namespace

TEST_CASE("so much more than a layout has, and a share of it") {
  const Shed shed;
  const auto target = shed.only("{ curve: chainstay, at: topped_out, of: shed/current.yaml, times: 0.9, plus: 5 }");
  // Pythagoras: the axle is drawn at (−437, 12).
  CHECK(target.wish.kind == Kind::value);
  CHECK(target.wish.lo == Approx(0.9 * std::hypot(437.0, 12.0) + 5.0).epsilon(1e-12));
  CHECK(target.wish.hi == target.wish.lo);
  REQUIRE(target.relative);
  CHECK(target.relative->of == "shed/current.yaml");
  CHECK(target.relative->found.front().second == Approx(std::hypot(437.0, 12.0)).epsilon(1e-12));
}

TEST_CASE("sag, travel and gears are the other layout's own, gears by their teeth") {
  const Shed shed;
  const bike::CurveTable table = shed.curves();
  // Linear interpolation between 401 stations is good to about 1e-5 of the curve's range.
  const auto sag = shed.only("{ curve: anti_squat, gear: 32x50, at: sag, of: shed/current.yaml, plus: 20 }");
  CHECK(sag.wish.lo == Approx(value_in(table, {bike::Curve::anti_squat, 1}, 0.3) + 20.0).epsilon(1e-4));
  const auto low = shed.only("{ curve: leverage, at: { fraction: 0.75 }, of: shed/current.yaml, plus: -0.1 }");
  CHECK(low.wish.lo == Approx(value_in(table, {bike::Curve::leverage}, 0.75) - 0.1).epsilon(1e-4));
}

TEST_CASE("a curve over a stretch is the other layout's own, shifted and scaled") {
  const Shed shed;
  const bike::CurveTable table = shed.curves();
  for (const auto& [as, kind] :
       {std::pair{"", Kind::follow}, {", as: ceiling", Kind::under}, {", as: floor", Kind::over}}) {
    const auto target = shed.only("{ curve: anti_rise, over: [0.2, 0.8], of: shed/current.yaml, times: 0.8, plus: 3" +
                                  std::string(as) + " }");
    CHECK(target.wish.kind == kind);
    REQUIRE(target.wish.path.size() >= 13);
    CHECK(target.wish.path.front().first == 0.2);
    CHECK(target.wish.path.back().first == 0.8);
    for (const auto& [fraction, wished] : target.wish.path)
      CHECK(wished == Approx(0.8 * value_in(table, {bike::Curve::anti_rise}, fraction) + 3.0).epsilon(1e-4));
  }
  CHECK(shed.only("{ curve: leverage, of: shed/current.yaml }").over.has_value());
}

TEST_CASE("what is allowed above or below a curve has one end") {
  objectives::Target target;
  target.tolerance = 2.0;
  target.wish = {Kind::under, 0.0, 0.0, {{0.0, 10.0}, {1.0, 20.0}}};
  CHECK(objectives::margin(allowed_at(target, 0.5), 15.0) == 0.0);
  CHECK(objectives::margin(allowed_at(target, 0.5), 14.0) == 0.5);
  CHECK(objectives::margin(allowed_at(target, 0.5), -1e9) == 1.0);
  CHECK(objectives::margin(allowed_at(target, 0.5), 17.0) == -1.0);
  target.wish.kind = Kind::over;
  CHECK(objectives::margin(allowed_at(target, 1.0), 20.0) == 0.0);
  CHECK(objectives::margin(allowed_at(target, 1.0), 16.0) == -2.0);
  CHECK(objectives::margin(allowed_at(target, 1.0), 1e9) == 1.0);
}

TEST_CASE("ranges make bands, and a measure is told like a value") {
  const Shed shed;
  const double length = std::hypot(437.0, 12.0);
  const auto band = shed.only("{ curve: chainstay, at: topped_out, of: shed/current.yaml, plus: [-10, 5] }");
  CHECK(band.wish.kind == Kind::band);
  CHECK(band.wish.lo == Approx(length - 10.0));
  CHECK(band.wish.hi == Approx(length + 5.0));
  // The axle moves back as the pivot lies above it: chainstay less its own value topped out is 0, rearward travel not.
  const auto share = shed.only("{ curve: axle_x, at: topped_out, of: shed/current.yaml, times: [0.9, 1.1] }");
  CHECK(share.wish.lo == Approx(-437.0 * 1.1));
  CHECK(share.wish.hi == Approx(-437.0 * 0.9));
  const auto measure = shed.only("{ measure: progressivity, of: shed/current.yaml, plus: 0.05, as: floor }");
  const bike::CurveTable table = shed.curves();
  const double first = value_in(table, {bike::Curve::leverage}, 0.0),
               last = value_in(table, {bike::Curve::leverage}, 1.0);
  CHECK(measure.wish.kind == Kind::floor);
  CHECK(measure.wish.lo == Approx((first - last) / first + 0.05).epsilon(1e-9));
}

TEST_CASE("the layout as drawn tells a target without a file") {
  const auto reading = brief::read_text(
      asking("  - { curve: axle_y, at: topped_out, of: drawn, plus: 4, as: ceiling }\n"), "elsewhere.yaml");
  INFO(reading.message());
  REQUIRE(reading.ok());
  CHECK(reading.brief.targets[0].wish.hi == Approx(16.0));
  CHECK(reading.brief.targets[0].relative->of.empty());
  CHECK(reading.brief.text.find("found") == std::string::npos);
}

TEST_CASE("a setting or size is looked at in the one that in names") {
  const std::string sizes = "sizes: [{ name: short }, { name: long, chainstay: 10 }]\n";
  const auto wished = [&](const std::string& in) {
    const auto reading = brief::read_text(
        asking("  - { curve: axle_x, at: topped_out, of: drawn" + in + " }\n") + sizes, "elsewhere.yaml");
    INFO(reading.message());
    REQUIRE(reading.ok());
    CHECK(reading.brief.targets[0].relative->in == (in.find("long") == in.npos ? "short" : "long"));
    return reading.brief.targets[0].wish.lo;
  };
  CHECK(wished("") == Approx(-437.0));
  CHECK(wished(", in: short") == Approx(-437.0));
  CHECK(wished(", in: long") == Approx(-447.0));
}

TEST_CASE("what was found is kept in the brief, which then needs no file") {
  const std::string targets =
      "  - { name: as long, curve: chainstay, at: topped_out, of: shed/current.yaml, plus: 5 }\n"
      "  - curve: leverage\n"
      "    over: [0, 1]\n"
      "    of: \"shed/current.yaml\"  # the one in the shed\n"
      "    times: 0.98\n"
      "  - { curve: axle_y, at: bottomed, of: drawn }\n"
      "  - { curve: anti_rise, at: sag, of: shed/current.yaml }\n";
  const auto reading = Shed().read(targets);  // whose folder goes
  INFO(reading.message());
  REQUIRE(reading.ok());
  const auto again = brief::read_text(reading.brief.text, "elsewhere.yaml");
  INFO(reading.brief.text << again.message());
  REQUIRE(again.ok());
  CHECK(again.brief.text == reading.brief.text);
  for (std::size_t t = 0; t < 4; ++t) {
    CHECK(again.brief.targets[t].wish.lo == reading.brief.targets[t].wish.lo);
    CHECK(again.brief.targets[t].wish.path == reading.brief.targets[t].wish.path);
    CHECK(again.brief.targets[t].relative->of == reading.brief.targets[t].relative->of);
  }
}

TEST_CASE("linkage templates are told by a layout's file") {
  Shed shed;
  const std::string text = edited(base_text("linkages"), "targets:\n",
                                  "targets:\n  - { curve: chainstay, at: sag, of: shed/current.yaml, plus: 1 }\n");
  const auto reading = shed.read_text(text);
  INFO(reading.message());
  REQUIRE(reading.ok());
  REQUIRE(reading.brief.linkages.size() > 1);
  for (const brief::Brief& one : reading.brief.linkages)
    CHECK(one.targets.front().wish.lo == reading.brief.targets.front().wish.lo);
  const auto again = brief::read_text(reading.brief.text, "elsewhere.yaml");
  INFO(again.message());
  REQUIRE(again.ok());
  CHECK(again.brief.linkages.back().targets.front().wish.lo == reading.brief.targets.front().wish.lo);
  const auto drawn = shed.read_text(edited(text, "shed/current.yaml", "drawn"));
  CHECK(drawn.message().find("with linkages no layout is drawn") != std::string::npos);
}

TEST_CASE("what a layout cannot tell is refused where it is asked for") {
  Shed shed;
  const auto says = [&](const std::string& target, const std::string& words) {
    const std::string message = shed.problem(target);
    INFO(message);
    CHECK(message.find(words) != std::string::npos);
  };
  says("{ curve: leverage, at: sag, of: shed/gone.yaml }", "give the word drawn or a layout's file beside the brief");
  says("{ curve: leverage, at: sag, of: drawm }", "give the word drawn or a layout's file beside the brief");
  says("{ curve: leverage, at: { travel: 400 }, of: shed/current.yaml }",
       "mm of wheel travel, and the target looks beyond");
  says("{ curve: anti_squat, gears: all, at: sag, of: drawn }", "is about one gear");
  says("{ curve: leverage, at: sag, of: drawn, plus: [1, 2], as: floor }", "a band of its own");
  says("{ curve: leverage, over: [0, 1], of: drawn, plus: [1, 2] }", "at one place or for a measure");
  says("{ curve: leverage, at: sag, of: drawn, found: 3 }", "not with the layout as drawn");
  says("{ curve: leverage, at: sag, of: shed/current.yaml, found_curve: [[0, 1], [1, 2]] }", "one number, found");
  says("{ curve: leverage, over: [0, 1], of: shed/current.yaml, found: 3 }", "is a found_curve");
  says("{ measure: path_deviation, path: [[-437, 12], [-440, 90]], of: drawn }", "give curve: rearward");
  says("{ curve: leverage, at: sag, of: drawn, band: [2, 3] }", "the keys given are band, of");
  says("{ curve: point_x, point: eye, at: sag, of: shed/current.yaml, plus: 3, times: 0 }", "out of range");
  shed.current = edited(shed.current, "eye: [-50, 232]", "boss: [-50, 232]");
  shed.current = edited(shed.current, "axle, eye]", "axle, boss]");
  shed.current = edited(shed.current, "[mount, eye]", "[mount, boss]");
  says("{ curve: point_x, point: eye, at: sag, of: shed/current.yaml }", "has no point or pivot of the name");
  shed.current = edited(shed.current, "stroke: 57.5", "stroke: 257.5");
  says("{ curve: leverage, at: sag, of: shed/current.yaml }", "current.yaml:");
  shed.current = edited(shed.current, "stroke: 257.5", "stroke: 199");
  says("{ curve: leverage, at: sag, of: shed/current.yaml }", "was given, but shed/current.yaml ");
  shed.current = "linkages: all\n";
  says("{ curve: leverage, at: sag, of: shed/current.yaml }", "names linkage templates");
}

}  // namespace trammel::test
