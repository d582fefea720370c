// The places of the study page's small drawings against the motion that they show.
#include "report/previews.hpp"

#include <catch2/catch.hpp>
#include <nlohmann/json.hpp>

#include "fixture.hpp"

using namespace trammel;

TEST_CASE("a small drawing has every joint where the motion puts it, from topped out to bottomed") {
  const auto study = test::invented_study();
  const std::string markup = report::previews(study).str();
  const std::size_t from = markup.find('>') + 1;
  const auto data = nlohmann::json::parse(markup.substr(from, markup.find("</script>") - from));
  REQUIRE(data.size() == study.shortlist.size());
  for (const auto& sheet : study.shortlist) {
    const auto& one = data["0" + std::to_string(sheet.rank)];
    CHECK(one["id"] == sheet.id);
    REQUIRE(one["stations"].size() == 25);  // of 101
    const auto& joints = one["parts"]["joints"];
    REQUIRE(joints.size() == sheet.layout.mechanism.points.size());
    for (std::size_t k = 0; k < 25; ++k) {
      const bike::Pose& pose = sheet.motion.poses[k * 100 / 24];
      CHECK(one["travel"][k].get<double>() == Approx(pose.travel).margin(0.051));
      const auto& places = one["stations"][k];
      for (std::size_t j = 0; j < joints.size(); ++j) {
        const std::size_t at = places.size() - 2 * (joints.size() - j);
        CHECK(places[at].get<double>() == Approx(pose.points[j].x).margin(0.051));
        CHECK(places[at + 1].get<double>() == Approx(pose.points[j].y).margin(0.051));
      }
    }
    CHECK(one["travel"][24].get<double>() == Approx(sheet.bottomed.travel).margin(0.051));
    const std::size_t sag = one["sag"].get<std::size_t>();
    CHECK(sheet.motion.poses[sag * 100 / 24].travel <= sheet.at_sag.travel);
    CHECK(sheet.motion.poses[(sag + 1) * 100 / 24].travel > sheet.at_sag.travel);
  }
}
