// Briefs that name linkage templates: what the templates become on a bike, and what is said of flawed ones.
#include <algorithm>
#include <catch2/catch.hpp>
#include <cmath>
#include <filesystem>
#include <fstream>

#include "bike/table.hpp"
#include "brief/meaning.hpp"
#include "brief/read.hpp"
#include "brief/scaled.hpp"
#include "brief/shipped_templates.hpp"
#include "corpus.hpp"
#include "tests/support/close.hpp"

namespace trammel::test {
namespace {

/// A bike by its sizes in mm.
struct Bike {
  double travel, chainstay, rear, front, length, stroke, axle_y;
};

/// A brief that has all shipped linkages on a bike. `times` enlarges the whole bike.
std::string brief_for(const Bike& b, double times = 1.0) {
  const auto n = [&](double x) { return std::to_string(times * x); };
  return "trammel: 1\ntitle: All\nbike:\n  wheels: { rear: { radius: " + n(b.rear) +
         " }, front: { radius: " + n(b.front) + " } }\n  front: { axle: [" + n(600 + 0.57 * b.rear) + ", " +
         n(b.axle_y) +
         "], head_angle: 65, travel: 100 }\n  cg: { x: 20, height: 1000 }\ndrivetrain: { chainring: 32, gears: [18, "
         "50] "
         "}\nlinkages: all\ntravel: " +
         n(b.travel) + "\nchainstay: " + n(b.chainstay) + "\nchoose: { shock: [ { length: " + n(b.length) +
         ", stroke: " + n(b.stroke) + " } ] }\ntargets: [ { curve: travel, at: bottomed, floor: 1 } ]\n";
}

brief::Brief sound_brief(const std::string& text, const std::string& file = "case.yaml") {
  brief::Reading reading = brief::read_text(text, file);
  INFO(reading.message());
  REQUIRE(reading.ok());
  return std::move(reading.brief);
}

/// Sizes of mountain bikes, from 20-inch wheels to downhill: common practice, no source. Shock sizes as sold.
const std::vector<Bike> bikes{{100, 430, 371, 371, 190, 45, 40},   {120, 435, 371, 371, 190, 45, 38},
                              {150, 437, 371, 371, 230, 57.5, 32}, {170, 440, 371, 371, 230, 65, 33},
                              {200, 445, 355, 371, 250, 75, 28},   {140, 430, 350, 350, 210, 50, 8},
                              {110, 360, 254, 254, 165, 40, -35},  {100, 340, 254, 254, 165, 38, -35}};

TEST_CASE("every template moves through its travel on small bikes and large ones") {
  // The middle of every range is a start, not an answer: near the travel asked for, and far from any dead point. The
  // least angle that the common rule of a transmission of 30° or more would leave is not asked of it, hence 25°.
  for (const Bike& b : bikes) {
    const brief::Brief brief = sound_brief(brief_for(b));
    REQUIRE(brief.linkages.size() == brief::shipped_templates().size());
    for (const brief::Brief& one : brief.linkages) {
      INFO(one.linkage << ", " << b.travel << " mm, wheel " << b.rear);
      const bike::Motion motion = bike::trace(one.layout, 41, false);
      CHECK(motion.poses.back().travel == Approx(b.travel).epsilon(0.25));
      CHECK(motion.least_transmission > 25.0);
      const auto& points = one.layout.mechanism.points;
      const auto axle = points[static_cast<std::size_t>(one.layout.axle.point)];
      CHECK(std::hypot(axle.x, axle.y) == Approx(b.chainstay).margin(0.002));
      CHECK(axle.y - b.rear == Approx(b.axle_y - b.front).margin(0.001));  // both wheels stand on one level
      CHECK(one.layout.shock->length == b.length);
      CHECK(norm(points[static_cast<std::size_t>(one.layout.mechanism.drive.a)] -
                 points[static_cast<std::size_t>(one.layout.mechanism.drive.b)]) == Approx(b.length).margin(0.002));
    }
  }
}

TEST_CASE("twice the bike is twice the linkage") {
  const brief::Brief once = sound_brief(brief_for(bikes[7])), twice = sound_brief(brief_for(bikes[7], 2.0));
  for (std::size_t l = 0; l < once.linkages.size(); ++l) {
    INFO(once.linkages[l].linkage);
    const auto& a = once.linkages[l].layout.mechanism.points;
    const auto& b = twice.linkages[l].layout.mechanism.points;
    // Every number is on a grid of a thousandth, and a point placed from a point from a point adds up three of them.
    for (std::size_t p = 0; p < a.size(); ++p) CHECK(norm(b[p] - 2.0 * a[p]) < 0.01);
    REQUIRE(once.linkages[l].vary.size() == twice.linkages[l].vary.size());
    for (std::size_t v = 0; v < once.linkages[l].vary.size(); ++v) {
      const auto* polar = std::get_if<brief::Polar>(&once.linkages[l].vary[v].place);
      if (polar == nullptr) continue;
      const auto& larger = std::get<brief::Polar>(twice.linkages[l].vary[v].place);
      CHECK(larger.angle.lo == polar->angle.lo);
      CHECK(larger.length.hi == Approx(2.0 * polar->length.hi).margin(0.003));
    }
  }
}

TEST_CASE("lengths in multiples") {
  const brief::Scale scale{150, 430, 370, 230, 60, 2.5, -429, 30};
  const auto read = [&](const std::string& text) {
    brief::Node node;
    node.kind = brief::Node::Kind::scalar;
    node.text = text;
    return brief::read_scaled(node, scale);
  };
  CHECK(*read("40").value == 40.0);
  CHECK(*read("-2.5e1").value == -25.0);
  CHECK(*read("travel").value == 150.0);
  CHECK(*read("-travel").value == -150.0);
  CHECK(*read("0.5 wheel").value == 185.0);
  CHECK(*read(".5wheel").value == 185.0);
  CHECK(*read("axle_x + 0.1 wheel - 3").value == -429.0 + 37.0 - 3.0);
  CHECK(*read("0.8 chainstay / leverage").value == Approx(0.8 * 430 / 2.5));
  CHECK(*read("2*stroke*3/shock").value == Approx(2.0 * 60 * 3 / 230));

  for (const std::string wrong : {"", "wheel wheel", "2 3", "wheel 2", "+ 3", "- 3 - -4", "3 +", "(3)", "wheel^2", "-",
                                  "3 / 0", "0x10", "012", ".", "1e", "wheels", "Travel"}) {
    INFO(wrong);
    CHECK_FALSE(read(wrong).value.has_value());
    CHECK_FALSE(read(wrong).flaw.empty());
  }
  CHECK(read("0.1 whel").flaw.find("did you mean 'wheel'?") != std::string::npos);
}

TEST_CASE("each linkage keeps what it has, and shares the rest") {
  const brief::Brief brief = sound_brief(base_text("linkages"));
  REQUIRE(brief.linkages.size() == 2);
  const brief::Brief &plain = brief.linkages[0], &driven = brief.linkages[1];
  CHECK(plain.linkage == "plain");
  CHECK(plain.linkage_title == "Single pivot");
  CHECK(driven.linkage_title == "driven");
  CHECK_FALSE(plain.layout.drivetrain.idler);
  REQUIRE(driven.layout.drivetrain.idler);
  CHECK(plain.idlers.empty());
  CHECK(driven.idlers == std::vector<int>{14, 16});
  CHECK(plain.packaging.boxes.size() == 1);
  CHECK(driven.packaging.boxes.size() == 2);
  CHECK(plain.layout.drivetrain.clear_of.size() == 1);
  CHECK(driven.layout.drivetrain.clear_of.size() == 2);
  CHECK(plain.shocks.size() == 2);
  CHECK(plain.targets.size() == driven.targets.size());
  CHECK(brief.layout.mechanism.point_names == plain.layout.mechanism.point_names);
  CHECK(brief.text == base_text("linkages"));
  CHECK(plain.layout.title == "Two linkages");
  // The middle of [0.1 wheel, 0.3 wheel] with a wheel of 360 mm.
  CHECK(plain.layout.mechanism.points[0].y == Approx(72.0));
  CHECK(std::get<brief::Cartesian>(plain.vary[0].place).x.hi == Approx(36.0));
}

TEST_CASE("a study's text holds the templates it was made from") {
  const std::string text = brief_for(bikes[2]);
  const brief::Brief brief = sound_brief(text);
  CHECK(brief.text.starts_with(text));
  const brief::Brief again = sound_brief(brief.text);
  CHECK(again.text == brief.text);
  REQUIRE(again.linkages.size() == brief.linkages.size());
  for (std::size_t l = 0; l < again.linkages.size(); ++l) {
    CHECK(again.linkages[l].linkage == brief.linkages[l].linkage);
    CHECK(again.linkages[l].linkage_title == brief.linkages[l].linkage_title);
    const auto &a = again.linkages[l].layout.mechanism.points, &b = brief.linkages[l].layout.mechanism.points;
    REQUIRE(a.size() == b.size());
    for (std::size_t p = 0; p < a.size(); ++p) CHECK((a[p].x == b[p].x && a[p].y == b[p].y));
  }
  // Another template under the same name is another brief.
  const auto changed = brief::differences(brief.text, edited(brief.text, "angle: [75, 145]", "angle: [75, 146]"));
  REQUIRE(changed.size() == 1);
  CHECK(changed[0].path == "templates.single_pivot.points.eye.angle");
}

class OwnFile {
 public:
  explicit OwnFile(const std::string& text) {
    folder_ = std::filesystem::temp_directory_path() / ("trammel-linkages-" + std::to_string(std::rand()));
    std::filesystem::create_directories(folder_ / "mine");
    std::ofstream(folder_ / "mine" / "own.yaml") << text;
  }
  ~OwnFile() {
    std::error_code ignored;
    std::filesystem::remove_all(folder_, ignored);
  }
  brief::Reading read(const std::string& list) const {
    return brief::read_text(edited(brief_for(bikes[2]), "linkages: all", "linkages: " + list),
                            (folder_ / "brief.yaml").string());
  }
  std::string path() const { return (folder_ / "mine/own.yaml").string(); }

 private:
  std::filesystem::path folder_;
};

std::string single_pivot() {
  return std::string(brief::shipped_templates().front().text);
}

TEST_CASE("a template in a file of one's own") {
  const OwnFile file(edited(single_pivot(), "title: Single pivot", "title: Mine"));
  const brief::Reading reading = file.read("[six_bar, mine/own.yaml]");
  INFO(reading.message());
  REQUIRE(reading.ok());
  REQUIRE(reading.brief.linkages.size() == 2);
  CHECK(reading.brief.linkages[1].linkage == "own");
  CHECK(reading.brief.linkages[1].linkage_title == "Mine");
  // What is kept needs the file no more.
  CHECK(brief::read_text(reading.brief.text, "elsewhere.yaml").ok());
}

TEST_CASE("flaws of a template are told with its file, line and column, all at once") {
  std::string text = edited(single_pivot(), "0.12 wheel", "0.12 whel");
  text = edited(text, "title: Single pivot", "titel: Single pivot");
  const OwnFile file(text);
  const brief::Reading reading = file.read("[mine/own.yaml, six_bra]");
  REQUIRE(reading.problems.size() == 3);
  CHECK(reading.problems[0].file.empty());
  CHECK(reading.problems[0].what.find("did you mean 'six_bar'?") != std::string::npos);
  CHECK(reading.message().find(file.path() + ":2:1: file: unknown key 'titel'") != std::string::npos);
  CHECK(reading.message().find(file.path() + ":4:28: points.main.x[1]: 0.12 whel was given") != std::string::npos);
}

TEST_CASE("what only shows on the bike is told at its place in the template, once") {
  std::string text = edited(single_pivot(), "[-0.06 wheel, 0.12 wheel]", "[0.06 wheel, -0.12 wheel]");
  text = edited(text, "between: [mount, eye]", "between: [mount, eey]");
  const OwnFile file(text);
  const brief::Reading reading = file.read("[mine/own.yaml, single_pivot]");
  INFO(reading.message());
  REQUIRE(reading.problems.size() == 2);
  CHECK(reading.problems[0].line == 4);
  CHECK(reading.problems[0].file == file.path());
  CHECK(reading.problems[0].what.find("the first must be below the second") != std::string::npos);
  CHECK(reading.problems[1].what.find("did you mean 'eye'?") != std::string::npos);
}

TEST_CASE("points in a circle, and from a point that there is not") {
  const OwnFile circle(edited(single_pivot(), "main: { x: [-0.06 wheel, 0.12 wheel], y: [0.1 wheel, 0.3 wheel] }",
                              "main: { from: eye, length: 20, angle: 3 }"));
  const brief::Reading reading = circle.read("[mine/own.yaml]");
  INFO(reading.message());
  REQUIRE(reading.problems.size() == 3);  // main, eye and, hanging from them, mount
  CHECK(reading.problems[0].what.find("or from another point of a circle") != std::string::npos);
  const OwnFile unknown(edited(single_pivot(), "from: main", "from: mian"));
  REQUIRE(unknown.read("[mine/own.yaml]").problems.size() == 1);
  CHECK(unknown.read("[mine/own.yaml]").problems[0].what.find("did you mean 'main'?") != std::string::npos);
}

TEST_CASE("shock sizes by a word: drawn on the one that suits the travel, all of them to choose from") {
  const std::string listed = "choose: { shock: [ { length: 230.000000, stroke: 57.500000 } ] }";
  for (const auto& [word, length, stroke, sizes] :
       {std::tuple{"metric", 210.0, 55.0, 13}, {"trunnion", 185.0, 55.0, 13}, {"standard", 210.0, 55.0, 26}}) {
    // 150 mm over 2.7 is 55.6 mm of stroke.
    const brief::Brief brief =
        sound_brief(edited(brief_for(bikes[2]), listed, "choose: { shock: " + std::string(word) + " }"));
    INFO(word);
    REQUIRE(brief.linkages.size() == brief::shipped_templates().size());
    for (const brief::Brief& one : brief.linkages) {
      CHECK(one.layout.shock->length == length);
      CHECK(one.layout.shock->stroke == stroke);
      CHECK(one.shocks.size() == static_cast<std::size_t>(sizes));
      CHECK(bike::trace(one.layout, 5, false).poses.back().travel == Approx(150.0).epsilon(0.25));
    }
  }
  // Within the limits given …
  const brief::Brief limited = sound_brief(edited(
      brief_for(bikes[2]), listed, "choose: { shock: metric, shock_length: [225, 235], shock_stroke: [60, 80] }"));
  CHECK(limited.layout.shock->length == 230.0);
  CHECK(limited.layout.shock->stroke == 60.0);
  CHECK(limited.shocks.size() == 3);
  // … which may leave none, and then that is said, once.
  const brief::Reading none = brief::read_text(
      edited(brief_for(bikes[2]), listed, "choose: { shock: metric, shock_length: [100, 101] }"), "case.yaml");
  INFO(none.message());
  REQUIRE(none.problems.size() == 1);
  CHECK(none.problems[0].what.find("no usual size is within the limits") != std::string::npos);
}

TEST_CASE("a slip in what the linkages share is told once") {
  const std::string text = edited(brief_for(bikes[2]), "targets: [",
                                  "packaging: { boxes: { mont: { x: [0, 1] } } }\ntargets: [ { curve: "
                                  "anti_squat, gear: 32x19, at: sag, floor: 1 },");
  const brief::Reading reading = brief::read_text(text, "case.yaml");
  INFO(reading.message());
  REQUIRE(reading.problems.size() == 2);
  CHECK(reading.problems[0].what.find("did you mean 'mount'?") != std::string::npos);
  CHECK(reading.problems[1].what.find("did you mean '32x18'?") != std::string::npos);
}

TEST_CASE("a body on a point that a linkage lacks is left out of that linkage, wherever it is written, and no other") {
  const auto packaging = [](const std::string& bodies) {
    return "packaging: { bodies: { " + bodies +
           " }, clearances: [ { of: lug, to: [boss], least: 1 }, { of: boss, to: [strap], least: 1 } ] }\ntargets: [";
  };
  const std::string lug = "lug: { centre: foot, diameter: 20 }", boss = "boss: { centre: [-15, 60], diameter: 30 }",
                    strap = "strap: { centre: [-60, 260], diameter: 5 }";
  for (const auto& [first, then, last] : {std::tuple{lug, boss, strap}, {boss, lug, strap}, {boss, strap, lug}}) {
    const brief::Brief brief =
        sound_brief(edited(brief_for(bikes[2]), "targets: [", packaging(first + ", " + then + ", " + last)));
    INFO(first);
    int with = 0, without = 0;
    for (const brief::Brief& one : brief.linkages) {
      const auto& points = one.layout.mechanism.point_names;
      const bool has = std::find(points.begin(), points.end(), "foot") != points.end();
      (has ? with : without) += 1;
      INFO(one.linkage);
      const auto named = [&](const std::string& name) {
        const auto& bodies = one.packaging.bodies;
        return std::any_of(bodies.begin(), bodies.end(), [&](const bike::Body& body) { return body.name == name; });
      };
      CHECK(named("lug") == has);
      CHECK(named("boss"));
      CHECK(named("strap"));
    }
    CHECK(with > 0);
    CHECK(without > 0);
  }
}

TEST_CASE("a linkage that is none is told by its template") {
  const OwnFile file(edited(single_pivot(), "swingarm: [main, axle, eye]", "swingarm: [axle, eye]"));
  const brief::Reading reading = file.read("[mine/own.yaml]");
  REQUIRE(reading.problems.size() == 1);
  CHECK(reading.problems[0].file == file.path());
  CHECK(reading.problems[0].what.find("needs exactly one degree of freedom") != std::string::npos);
}

}  // namespace
}  // namespace trammel::test
