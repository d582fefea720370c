// Briefs drafted from a few answers: each must read, and find layouts that meet every must as it is.
#include <algorithm>
#include <catch2/catch.hpp>
#include <iostream>

#include "brief/read.hpp"
#include "brief/shipped_templates.hpp"
#include "draft/first_brief.hpp"
#include "search/preflight.hpp"
#include "search/unit.hpp"

using namespace trammel;

namespace {

/// A small budget: so many work units at most.
constexpr int most_units = 6;

draft::Answers answers(bike::Kind kind, const std::string& linkage, const std::string& wheels) {
  draft::Answers out;
  out.kind = kind;
  out.wheels = *draft::read_wheels(wheels).value;
  out.travel = draft::usual_travel(draft::usual(kind), out.wheels);
  out.linkage = linkage;
  out.shock = draft::usual_shock(out.travel);
  return out;
}

/// In how many units a layout is found that meets every must; 0 = in none.
int units_to_a_layout(const draft::Answers& a) {
  const std::string text = draft::first_brief(a);
  const brief::Reading reading = brief::read_text(text, "draft.yaml");
  INFO(reading.message());
  REQUIRE(reading.ok());
  CHECK(search::proven_conflicts(reading.brief).empty());
  const search::Setup setup(reading.brief);
  for (int unit = 0; unit < most_units; ++unit) {
    const auto row = search::run_unit(setup, unit, nullptr);
    if (std::any_of(row->layouts.begin(), row->layouts.end(),
                    [](const store::LayoutRow& layout) { return layout.musts_met == layout.musts; }))
      return unit + 1;
  }
  return 0;
}

/// One kind with every linkage on every size of wheel, travel and shock as is usual; where guidance says between which
/// travels a kind lies, every linkage with the least and the greatest of them as well.
void try_kind(bike::Kind kind) {
  for (const brief::ShippedTemplate& linkage : brief::shipped_templates()) {
    for (const std::string wheels : {"29", "27.5", "26", "24", "20", "29/27.5"}) {
      INFO(bike::record(kind).key << ", " << linkage.name << ", " << wheels);
      CHECK(units_to_a_layout(answers(kind, linkage.name, wheels)) > 0);
    }
    const auto guided = draft::guided_travel(kind);
    if (!guided) continue;
    for (const double travel : {guided->lo, guided->hi}) {
      INFO(bike::record(kind).key << ", " << linkage.name << ", " << travel << " mm");
      draft::Answers a = answers(kind, linkage.name, "29");
      a.travel = travel;
      a.shock = draft::usual_shock(travel);
      CHECK(units_to_a_layout(a) > 0);
    }
  }
}

}  // namespace

// Every kind × every linkage that ships × every size of wheel finds a layout that meets every must in a small budget.
TEST_CASE("a drafted brief of a cross-country bike finds layouts") {
  try_kind(bike::Kind::cross_country);
}
TEST_CASE("a drafted brief of a trail bike finds layouts") {
  try_kind(bike::Kind::trail);
}
TEST_CASE("a drafted brief of an enduro bike finds layouts") {
  try_kind(bike::Kind::enduro);
}
TEST_CASE("a drafted brief of a downhill bike finds layouts") {
  try_kind(bike::Kind::downhill);
}
TEST_CASE("a drafted brief of an e-bike finds layouts") {
  try_kind(bike::Kind::e_bike);
}
TEST_CASE("a drafted brief of a children's bike finds layouts") {
  try_kind(bike::Kind::kids);
}

TEST_CASE("the table of usual values has every kind once") {
  for (const bike::KindRecord& record : bike::kind_table) {
    const auto all = draft::usual_kinds();
    CHECK(std::count_if(all.begin(), all.end(), [&](const auto& one) { return one.kind == record.kind; }) == 1);
    // What it takes by itself is what the command line takes.
    const draft::UsualKind& usual = draft::usual(record.kind);
    CHECK(draft::read_wheels(usual.wheels).value);
    CHECK(draft::read_linkage(usual.linkage).value);
    const auto guided = draft::guided_travel(record.kind);
    const double travel = draft::usual_travel(usual, *draft::read_wheels(usual.wheels).value);
    if (guided) CHECK((travel >= guided->lo && travel <= guided->hi));
  }
}

TEST_CASE("every point of a template that ships is named in words") {
  for (const brief::ShippedTemplate& linkage : brief::shipped_templates()) {
    const std::string text = draft::first_brief(answers(bike::Kind::trail, linkage.name, "29"));
    const brief::Reading reading = brief::read_text(text, "draft.yaml");
    REQUIRE(reading.ok());
    for (const std::string& point : reading.brief.layout.mechanism.point_names) {
      INFO(linkage.name << ": " << point);
      CHECK_FALSE(draft::point_words(point).empty());
    }
  }
}

TEST_CASE("a drafted brief has what was answered, and stands level") {
  draft::Answers a = answers(bike::Kind::enduro, "six_bar", "29/27.5");
  a.travel = 162;
  a.shock = *draft::read_shock("205 x 62.5 mm", a.travel).value;
  a.title = "Quarry \"two\": a try";
  const brief::Reading reading = brief::read_text(draft::first_brief(a), "draft.yaml");
  REQUIRE(reading.ok());
  const bike::Layout& layout = reading.brief.layout;
  CHECK(layout.title == a.title);
  CHECK(layout.kind == bike::Kind::enduro);
  CHECK(layout.shock->length == 205.0);
  CHECK(layout.shock->stroke == 62.5);
  CHECK(reading.brief.targets.front().wish.lo + reading.brief.targets.front().wish.hi == Approx(2 * 162));
  // ISO 5775: 622 and 584 are the bead seats of what the trade calls 29 and 27.5 inches.
  CHECK(layout.front_radius == 622 / 2.0 + 60);
  CHECK(layout.rear_radius == 584 / 2.0 + 62);
  const auto axle = layout.mechanism.points[static_cast<std::size_t>(layout.axle.point)];
  CHECK(axle.y - layout.rear_radius == Approx(layout.front.axle.y - layout.front_radius).margin(0.01));
}

TEST_CASE("answers that are none are refused with what is allowed") {
  CHECK(draft::read_kind("cross-country").value == bike::Kind::cross_country);
  CHECK(draft::read_kind("e bike").value == bike::Kind::e_bike);
  CHECK(draft::read_kind("endruo").flaw.find("did you mean 'enduro'?") != std::string::npos);
  CHECK(draft::read_travel("150 mm").value == 150.0);
  for (const std::string wrong : {"", "mm", "150,5", "nan", "inf", "39", "301", "1e2", "15 cm", "-150", "0x96"}) {
    INFO(wrong);
    CHECK_FALSE(draft::read_travel(wrong).value);
    CHECK(draft::read_travel(wrong).flaw.find("from 40 to 300") != std::string::npos);
  }
  CHECK(draft::read_wheels("29\"").value->name() == "29");
  CHECK(draft::read_wheels("29 / 27.5").value->name() == "29/27.5");
  for (const std::string wrong : {"", "28", "29/", "/29", "29/27", "29/29/29", "622"})
    CHECK_FALSE(draft::read_wheels(wrong).value);
  CHECK(draft::read_linkage("six-bar").value == "six_bar");
  CHECK(draft::read_linkage("sixbar").flaw.find("did you mean 'six_bar'?") != std::string::npos);
  CHECK(draft::read_shock("210×55", 150).value->stroke == 55.0);
  CHECK(draft::shock_name(*draft::read_shock(" 230 X 57.5 ", 150).value) == "230x57.5");
  for (const std::string wrong :
       {"", "210", "x55", "210x", "55x210", "210x55x3", "210x0", "210-55", "nanx55", "2000x55"}) {
    INFO(wrong);
    CHECK_FALSE(draft::read_shock(wrong, 150).value);
  }
  // 150 mm over 37 mm is a leverage above 4, over 126 mm one below 1.2: neither is sound, and no search would find any.
  CHECK(draft::read_shock("210x37", 150).flaw.find("a stroke from 37.5 to 125 mm") != std::string::npos);
  CHECK_FALSE(draft::read_shock("400x126", 150).value);
  CHECK(draft::read_title("Trail").value);
  CHECK_FALSE(draft::read_title(std::string(81, 'a')).value);
  CHECK_FALSE(draft::read_title("  ").value);
}
