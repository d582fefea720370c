// Guidance: which remarks apply, and what they say. Its ranges are common practice without a source, so that there is
// nothing to check them against.
#include "objectives/guidance.hpp"

#include <algorithm>
#include <catch2/catch.hpp>

#include "tests/objectives/judged.hpp"
#include "tests/objectives/single_pivot.hpp"
#include "tests/support/close.hpp"

using namespace trammel;
using namespace trammel::objectives;

namespace {

const Remark* on(const std::vector<Remark>& all, std::string_view topic) {
  const auto found = std::find_if(all.begin(), all.end(), [&](const Remark& r) { return r.record->topic == topic; });
  return found == all.end() ? nullptr : &*found;
}

}  // namespace

TEST_CASE("records have a range, a sentence for each end of it, and one general record a topic at most") {
  for (const GuidanceRecord& r : guidance_table()) {
    INFO(r.what);
    CHECK((r.least || r.greatest));
    CHECK(r.below.ends_with('.') == r.least.has_value());
    CHECK(r.above.ends_with('.') == r.greatest.has_value());
    const auto same = [&](const GuidanceRecord& o) { return o.topic == r.topic && o.kinds.empty(); };
    CHECK(std::count_if(guidance_table().begin(), guidance_table().end(), same) <= 1);
  }
}

TEST_CASE("a range is open on one side only where nothing is wrong there") {
  // A leverage that never rises, and a chainstay that never grows, are nobody's error.
  for (const GuidanceRecord& r : guidance_table()) {
    INFO(r.what);
    const bool nothing_wrong_below = r.topic == "falling_leverage" || r.topic == "chainstay_growth";
    CHECK(r.greatest.has_value());
    CHECK(r.least.has_value() == !nothing_wrong_below);
  }
}

TEST_CASE("without a kind only general remarks apply; a kind's own take their place") {
  const test::SinglePivot pivot;
  bike::Layout layout = pivot.layout();
  for (const Remark& r : remarks(layout)) CHECK(r.record->kinds.empty());
  CHECK(on(remarks(layout), "travel") == nullptr);
  CHECK(on(remarks(layout), "chainstay_growth") == nullptr);
  for (const bike::KindRecord& kind : bike::kind_table) {
    INFO(kind.name);
    layout.kind = kind.kind;
    std::vector<std::string_view> topics;
    for (const Remark& r : remarks(layout)) {
      topics.push_back(r.record->topic);
      const auto& kinds = r.record->kinds;
      CHECK((kinds.empty() || std::find(kinds.begin(), kinds.end(), kind.kind) != kinds.end()));
    }
    std::sort(topics.begin(), topics.end());
    CHECK(std::adjacent_find(topics.begin(), topics.end()) == topics.end());
  }
  layout.kind = bike::Kind::downhill;
  REQUIRE(on(remarks(layout), "travel") != nullptr);
  CHECK(*on(remarks(layout), "progressivity")->record->least == 0.10);
}

TEST_CASE("a remark has the curve's own value and speaks only outside the range") {
  const test::SinglePivot pivot;
  bike::Layout layout = pivot.layout();
  layout.kind = bike::Kind::downhill;
  const std::vector<Remark> all = remarks(layout);
  const Remark& travel = *on(all, "travel");
  CHECK(travel.verdict.achieved == test::within(pivot.whole(), 1e-9));
  CHECK(travel.verdict.met == (pivot.whole() >= 180.0 && pivot.whole() <= 220.0));
  CHECK(travel.words() == (pivot.whole() < 180.0 ? travel.record->below : std::string_view()));

  const Remark& progressivity = *on(all, "progressivity");
  const double first = pivot.leverage(0.0), last = pivot.leverage(pivot.stroke);
  CHECK(progressivity.verdict.achieved == test::within((first - last) / first, 1e-9));

  layout.sag = {0.30, bike::SagOf::wheel};
  CHECK(on(remarks(layout), "sag")->verdict.achieved == test::within(0.30, 1e-9));
  layout.sag = {0.6, bike::SagOf::shock};
  const Remark much = *on(remarks(layout), "sag");
  CHECK(much.verdict.achieved == test::within(pivot.travel(0.6 * pivot.stroke) / pivot.whole(), 1e-9));
  CHECK(much.words() == much.record->above);

  // The lowest gear is the large cog's.
  CHECK(lowest_gear(layout.drivetrain) == 1);
  Target by_hand;
  by_hand.curve = {bike::Curve::anti_squat, 1};
  by_hand.wish = {Wish::Kind::band, -1e6, 1e6, {}};
  CHECK(on(remarks(layout), "anti_squat")->verdict.achieved == test::Judged(layout, {by_hand}).verdict().achieved);
}

TEST_CASE("a layout without gears or shock has the remarks that it can have; one that does not assemble has none") {
  bike::Layout layout = test::SinglePivot().layout();
  layout.drivetrain = {};
  CHECK(on(remarks(layout), "anti_squat") == nullptr);
  CHECK(on(remarks(layout), "anti_rise") != nullptr);
  test::SinglePivot jammed;
  jammed.stroke = jammed.drawn() - std::abs(jammed.arm() - jammed.base()) + 20.0;
  CHECK(remarks(jammed.layout()).empty());
}

TEST_CASE("remarks of several cases are said once where they are alike, with the span of what is achieved") {
  bike::Layout usual = test::SinglePivot().layout();
  bike::Layout firm = usual, soft = usual, softer = usual;
  usual.sag.fraction = 0.30;
  firm.sag.fraction = 0.25;
  soft.sag.fraction = 0.40;
  softer.sag.fraction = 0.45;
  const std::vector<SharedRemark> all = shared({remarks(usual), remarks(soft), remarks(firm), remarks(softer)});
  std::vector<SharedRemark> sag;
  for (const SharedRemark& one : all)
    if (one.remark.record->topic == "sag") sag.push_back(one);
  REQUIRE(sag.size() == 2);
  CHECK(sag[0].remark.verdict.met);
  CHECK(sag[0].cases == std::vector<std::size_t>{0, 2});
  CHECK(sag[0].least == test::within(0.25, 1e-9));
  CHECK(sag[0].greatest == test::within(0.30, 1e-9));
  CHECK(sag[1].remark.words() == sag[1].remark.record->above);
  CHECK(sag[1].cases == std::vector<std::size_t>{1, 3});
  CHECK(sag[1].greatest == test::within(0.45, 1e-9));
  CHECK(sag[1].differs(4));
  // What does not hang on the sag is alike in all of them.
  const auto leverage = std::find_if(
      all.begin(), all.end(), [](const SharedRemark& one) { return one.remark.record->topic == "mean_leverage"; });
  REQUIRE(leverage != all.end());
  CHECK_FALSE(leverage->differs(4));
  CHECK(leverage->least == leverage->greatest);
  CHECK(shared({}).empty());
}
