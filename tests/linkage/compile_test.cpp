// What `compile` refuses, and how it says so.
#include <algorithm>
#include <catch2/catch.hpp>

#include "linkage/program.hpp"
#include "tests/support/builder.hpp"

using namespace trammel;
using Catch::Matchers::Contains;
using test::MechanismBuilder;

namespace {

std::vector<std::string> problems_of(const linkage::Mechanism& mechanism) {
  try {
    linkage::compile(mechanism);
  } catch (const linkage::CompileFailure& failure) {
    return failure.problems;
  }
  return {};
}

std::string only_problem(const MechanismBuilder& builder) {
  const auto problems = problems_of(builder.build());
  REQUIRE(problems.size() == 1);
  return problems.front();
}

MechanismBuilder four_bar() {
  return MechanismBuilder()
      .point("main", -8, 55)
      .point("stay", -392, 20)
      .point("axle", -437, 30)
      .point("tail", -105, 345)
      .point("rocker", -45, 305)
      .point("mount", 165, 205)
      .member("frame", {"main", "rocker", "mount"})
      .member("chainstay", {"main", "stay"})
      .member("seatstay", {"stay", "axle", "tail"});
}

}  // namespace

TEST_CASE("a linkage that is locked: no degree of freedom, and which members cannot move") {
  const std::string text = only_problem(
      four_bar().member("rocker", {"rocker", "tail"}).member("brace", {"mount", "axle"}).shock("mount", "tail", 50));
  CHECK_THAT(text, Contains("exactly one degree of freedom"));
  CHECK_THAT(text, Contains("has 0"));
  CHECK_THAT(text, Contains("locked: chainstay, seatstay, rocker, brace"));
}

TEST_CASE("a linkage that is loose: two degrees of freedom, and which members the drive leaves moving") {
  // A link too many between seatstay and rocker makes a five-bar; the shock holds the rocker alone.
  const std::string text = only_problem(four_bar()
                                            .point("knee", -60, 340)
                                            .member("link", {"tail", "knee"})
                                            .member("rocker", {"rocker", "knee"})
                                            .shock("mount", "knee", 50));
  CHECK_THAT(text, Contains("has 2"));
  CHECK_THAT(text, Contains("loose with the drive held: chainstay, seatstay, link"));
  CHECK_THAT(text, !Contains("rocker"));
}

TEST_CASE("a member hung on one pivot is loose by itself") {
  const std::string text = only_problem(four_bar()
                                            .member("rocker", {"rocker", "tail"})
                                            .point("end", 0, 400)
                                            .member("pendulum", {"rocker", "end"})
                                            .shock("mount", "tail", 50));
  CHECK_THAT(text, Contains("has 2"));
  CHECK_THAT(text, Contains("loose with the drive held: pendulum"));
}

TEST_CASE("a member of one point cannot be seen to turn") {
  // Found by tests/fuzz: its second point was read where there was none.
  const auto problems = problems_of(test::MechanismBuilder()
                                        .point("main", 0, 60)
                                        .point("axle", -430, 30)
                                        .member("frame", {"main"})
                                        .member("swingarm", {"main", "axle"})
                                        .member("hub", {"axle"})
                                        .turn("hub", 0.2)
                                        .build());
  REQUIRE_FALSE(problems.empty());
  CHECK_THAT(problems.front(), Contains("'hub' has one point, so that nothing shows how it turns"));
}

TEST_CASE("two members that share two points are welded") {
  const auto problems =
      problems_of(four_bar().member("rocker", {"rocker", "tail", "axle"}).shock("mount", "tail", 50).build());
  REQUIRE_FALSE(problems.empty());
  CHECK_THAT(problems.front(), Contains("'seatstay' and 'rocker' share axle, tail") ||
                                   Contains("'seatstay' and 'rocker' share tail, axle"));
  CHECK_THAT(problems.front(), Contains("weld"));
}

TEST_CASE("a point on no member, and all problems at once") {
  const auto problems = problems_of(four_bar()
                                        .member("rocker", {"rocker", "tail"})
                                        .point("stray", 0, 0)
                                        .point("lost", 1, 1)
                                        .point("twin", -105, 345)
                                        .member("link", {"tail", "twin"})
                                        .shock("mount", "tail", 50)
                                        .build());
  const auto mentions = [&](const std::string& text) {
    return std::any_of(problems.begin(), problems.end(),
                       [&](const std::string& p) { return p.find(text) != std::string::npos; });
  };
  CHECK(mentions("point 'stray' is on no member"));
  CHECK(mentions("point 'lost' is on no member"));
  CHECK(mentions("points 'tail' and 'twin' of member 'link' lie on the same spot"));
  CHECK(problems.size() == 3);
}

TEST_CASE("a drive that moves nothing") {
  // A shock between two points of the frame, and one between two points of one moving member.
  for (const auto& [a, b] : {std::pair{"mount", "main"}, std::pair{"axle", "stay"}}) {
    INFO("shock between " << a << " and " << b);
    const std::string text = only_problem(four_bar().member("rocker", {"rocker", "tail"}).shock(a, b, 50));
    CHECK_THAT(text, Contains("has 1, but the drive does not hold it"));
    CHECK_THAT(text, Contains("still moving with the drive held: chainstay, seatstay, rocker"));
  }
}

TEST_CASE("the degree of freedom does not depend on a special drawn position") {
  // Rocker and seatstay drawn in one line, both links of a parallelogram drawn level: one freedom all the same.
  const linkage::Mechanism parallelogram = MechanismBuilder()
                                               .point("low", 0, 0)
                                               .point("lowend", -100, 0)
                                               .point("high", 0, 100)
                                               .point("highend", -100, 100)
                                               .member("frame", {"low", "high"})
                                               .member("lower", {"low", "lowend"})
                                               .member("upper", {"high", "highend"})
                                               .member("rear", {"lowend", "highend"})
                                               .travel("highend", 30)
                                               .build();
  const linkage::Mobility mobility = linkage::mobility(parallelogram);
  CHECK(mobility.freedoms == 1);
  CHECK(mobility.moves == std::vector<bool>{false, true, true, true});
  CHECK(mobility.loose == std::vector<bool>{false, false, false, false});
}

TEST_CASE("every topology has one degree of freedom by the count of Chebyshev, Grübler and Kutzbach") {
  // F = 3·(members − 1) − 2·pivots − sliders; a point that j members share counts as j − 1 pivots. Norton, Design of
  // Machinery, ch. 2 (from memory). A shoe on a rail is a half joint: it takes one freedom.
  for (const auto& [name, m] : test::every_topology()) {
    INFO(name);
    int pivots = 0;
    for (std::size_t p = 0; p < m.points.size(); ++p) {
      const auto on = std::count_if(m.members.begin(), m.members.end(), [&](const linkage::Member& member) {
        return std::find(member.points.begin(), member.points.end(), static_cast<int>(p)) != member.points.end();
      });
      pivots += static_cast<int>(on) - 1;
    }
    const int counted = 3 * (static_cast<int>(m.members.size()) - 1) - 2 * pivots - static_cast<int>(m.sliders.size());
    CHECK(counted == 1);
    CHECK(linkage::mobility(m).freedoms == counted);
  }
}

TEST_CASE("a shoe on a part that is rigid to its own takes no freedom") {
  // The cover is welded to the plate by two shared points, so that the shoe stands still on the plate's line whatever
  // moves: the arm's turn and the plate's are left, as without the shoe.
  const auto plate = [] {
    return MechanismBuilder()
        .point("O", 0, 0)
        .point("a", -100, 20)
        .point("b", -180, 60)
        .point("c", -220, -30)
        .point("shoe", -150, 90)
        .member("frame", {"O"})
        .member("arm", {"O", "a"})
        .member("plate", {"a", "b", "c"})
        .member("cover", {"a", "b", "shoe"})
        .turn("arm", 0.2);
  };
  CHECK(linkage::mobility(plate().build()).freedoms == 2);
  CHECK(linkage::mobility(plate().slider("shoe", "plate", "b", "c").build()).freedoms == 2);
}
