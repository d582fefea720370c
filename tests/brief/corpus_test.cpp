// Each case of the corpus: what is wrong is said once, at its place, with the words that help.
#include <algorithm>
#include <catch2/catch.hpp>

#include "brief/read.hpp"
#include "corpus.hpp"

namespace trammel::test {
namespace {

std::string place(const brief::Problem& problem) {
  return std::to_string(problem.line) + ":" + std::to_string(problem.column);
}

bool says_all(const brief::Problem& problem, const nlohmann::json& phrases) {
  return std::all_of(phrases.begin(), phrases.end(), [&](const auto& phrase) {
    return problem.what.find(phrase.template get<std::string>()) != std::string::npos;
  });
}

TEST_CASE("sound files are accepted, unsound ones refused with place and words") {
  int accepted = 0, refused = 0;
  for (const auto& entry : corpus()) {
    const auto reading = brief::read_text(case_text(entry), "case.yaml");
    INFO(entry.at("name").get<std::string>() << "\n" << reading.message());
    if (entry.contains("accepted")) {
      CHECK(reading.ok());
      ++accepted;
      continue;
    }
    ++refused;
    CHECK(reading.problems.size() == entry.at("problems").get<std::size_t>());
    CHECK(std::any_of(reading.problems.begin(), reading.problems.end(), [&](const auto& problem) {
      return place(problem) == entry.at("at").get<std::string>() && says_all(problem, entry.at("says"));
    }));
  }
  CHECK(accepted > 10);
  CHECK(refused > 80);
}

}  // namespace
}  // namespace trammel::test
