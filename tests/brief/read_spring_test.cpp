// Springs, set-up, loads and the chain's rules as the reader takes them.
#include <catch2/catch.hpp>
#include <fstream>

#include "brief/read.hpp"
#include "corpus.hpp"
#include "folder.hpp"
#include "tests/support/close.hpp"

namespace trammel::test {
namespace {

const std::string shock = "shock: { between: [mount, eye], length: 230, stroke: 57.5 }";

std::string layout_with(const std::string& spring) {
  return edited(base_text("layout"), shock,
                "shock: { between: [mount, eye], length: 230, stroke: 57.5, spring: { " + spring + " } }");
}

brief::Brief read(const std::string& text, const std::string& file = "case.yaml") {
  const auto reading = brief::read_text(text, file);
  INFO(reading.message());
  REQUIRE(reading.ok());
  return reading.brief;
}

}  // namespace

TEST_CASE("an air spring with all its numbers, and what it has when they are left out") {
  const auto full = read(layout_with(
      "air: { bore: 46, shaft: 10, positive: 150, negative: 60, transfer: 5, pressure: 12, spacer: 8, spacers: 1, "
      "exponent: 1.2 }, bump_stop: { length: 9, force: 1500 }, breakaway: 35"));
  const spring::Spring& spring = *full.layout.shock->spring;
  const auto& air = std::get<spring::Air>(spring.kind);
  CHECK(air.bore == 46.0);
  CHECK(air.shaft == 10.0);
  CHECK(air.positive == 150.0);
  CHECK(air.negative == 60.0);
  CHECK(air.transfer == 5.0);
  CHECK(air.pressure == 12.0);
  CHECK(air.spacer == 8.0);
  CHECK(air.spacers == 1);
  CHECK(air.exponent == 1.2);
  CHECK(spring.bump_stop->length == 9.0);
  CHECK(spring.bump_stop->force == 1500.0);
  CHECK(spring.breakaway == 35.0);
  CHECK(spring.stroke == 57.5);

  const auto bare = read(layout_with("air: { bore: 46, positive: 150, pressure: 12 }"));
  const auto& plain = std::get<spring::Air>(bare.layout.shock->spring->kind);
  CHECK(plain.negative == 0.0);
  CHECK(plain.spacers == 0);
  CHECK(plain.exponent == spring::Air{}.exponent);
}

TEST_CASE("a measured spring's file is read beside the brief and kept in the brief's text") {
  const Folder folder;
  std::ofstream(folder.path / "measured.csv", std::ios::binary)
      << "\xEF\xBB\xBF"
      << "compression_mm,force_n\r\n0,12.5\r\n\"20\", 900\r\n57.5,4100\r\n";
  for (const std::string& spring :
       {std::string("table: { file: measured.csv }"), std::string("table: { file: \"measured.csv\" }")}) {
    const std::string text = layout_with(spring);
    const std::string file = (folder.path / "bike.yaml").string();
    const auto brief = read(text, file);
    const auto& table = std::get<spring::Table>(brief.layout.shock->spring->kind);
    CHECK(table.points() == std::vector<spring::Table::Point>{{0.0, 12.5}, {20.0, 900.0}, {57.5, 4100.0}});
    CHECK(brief.text.find("measured.csv") == std::string::npos);
    // The text alone, far from the file, is the same brief.
    const auto again = read(brief.text, "elsewhere.yaml");
    CHECK(std::get<spring::Table>(again.layout.shock->spring->kind) == table);
    CHECK(again.text == brief.text);
  }
  // In block style, with a word that looks like the key in front.
  const auto block = read(edited(base_text("layout"), shock,
                                 "shock:\n  between: [mount, eye]\n  length: 230\n  stroke: 57.5\n  spring:\n"
                                 "    table:  # the file of the test bench\n      file: measured.csv  # mm and N"),
                          (folder.path / "bike.yaml").string());
  CHECK(std::get<spring::Table>(read(block.text).layout.shock->spring->kind).points().size() == 3);
}

TEST_CASE("a file that is no table of readings is refused at its name, with the line") {
  const Folder folder;
  const auto problem_of = [&](const std::string& content) {
    std::ofstream(folder.path / "measured.csv", std::ios::binary) << content;
    const auto reading =
        brief::read_text(layout_with("table: { file: measured.csv }"), (folder.path / "bike.yaml").string());
    REQUIRE(reading.problems.size() == 1);
    CHECK(reading.problems[0].where == "shock.spring.table.file");
    return reading.problems[0].what;
  };
  CHECK(problem_of("c,F\n0,0\n20;900\n57.5,4000\n").find("line 3 of measured.csv is '20;900'") == 0);
  CHECK(problem_of("c,F\n0,0\n20,900,1\n").find("line 3") == 0);
  CHECK(problem_of("c,F\n0,0\n20,nan\n").find("line 3") == 0);
  CHECK(problem_of("c,F\n").find("the measured spring has 0 readings") == 0);
  CHECK(problem_of("0,0\n50,900\n").find("the measured spring ends at 50 mm") == 0);
  std::string many = "c,F\n";
  for (int i = 0; i <= 400; ++i) many += std::to_string(i) + "," + std::to_string(i * 10) + "\n";
  CHECK(problem_of(many).find("the measured spring has 401 readings; at most 400") == 0);
}

TEST_CASE("set-up and loads, rising whatever their order") {
  const auto brief = read(edited(base_text("brief"), "riders: [60, 78, 100]", "riders: [100, 60, 78]"));
  const bike::SetUpRange& range = brief.layout.set_up;
  CHECK(range.riders == std::vector<double>{60.0, 78.0, 100.0});
  CHECK(range.coil_rates == std::vector<double>{70.0, 80.0, 90.0});
  CHECK_FALSE(range.pressures);
  const bike::Loads& loads = brief.layout.loads;
  CHECK(*loads.landing == 3000.0);
  REQUIRE(loads.cases.size() == 3);
  CHECK(loads.cases[1].name == "stop");
  CHECK(loads.cases[1].braking == 350.0);
  CHECK(loads.cases[2].driving == 250.0);
  CHECK(brief.layout.drivetrain.gears[static_cast<std::size_t>(loads.cases[2].gear)].name() == "32x50");
  CHECK(*brief.layout.seat_angle == 76.5);
  CHECK(brief.idlers == std::vector<int>{14, 16});
}

TEST_CASE("every chainring with every cog is a gear, and a cassette alone gives the cogs") {
  const std::string both = edited(base_text("layout"), "chainring: 32", "chainrings: [30, 34]");
  const auto brief = read(both);
  REQUIRE(brief.layout.drivetrain.gears.size() == 6);
  CHECK(brief.layout.drivetrain.gears[2].name() == "30x50");
  CHECK(brief.layout.drivetrain.gears[3].name() == "34x18");
  const auto cassette = read(edited(base_text("layout"), "gears: [18, 28, 50]", "cassette: [10, 50]"));
  CHECK(cassette.layout.drivetrain.gears.size() == 2);
  CHECK(cassette.layout.drivetrain.cassette == std::vector<int>{10, 50});
}

TEST_CASE("the chain's rules are musts on its curves") {
  const auto brief = read(base_text("brief"));
  std::vector<const objectives::Target*> clearance, capacity;
  for (const auto& target : brief.targets) {
    if (target.measure) continue;
    if (target.curve.curve == bike::Curve::chain_clearance) clearance.push_back(&target);
    if (target.curve.curve == bike::Curve::total_chain_growth) capacity.push_back(&target);
  }
  REQUIRE(clearance.size() == 3);  // one a gear
  CHECK(clearance[0]->must);
  CHECK(clearance[0]->wish.lo == 5.0);
  CHECK(clearance[0]->over->to == 1.0);
  REQUIRE(capacity.size() == 1);
  CHECK(capacity[0]->must);
  CHECK(brief.layout.drivetrain.gears[static_cast<std::size_t>(capacity[0]->curve.gear)].cog == 50);
  // 60 teeth less the cassette's 40 leave 20, at half a pitch of 12.7 mm each.
  CHECK(capacity[0]->wish.hi == test::within(20 * 6.35, 1e-12));
}

}  // namespace trammel::test
