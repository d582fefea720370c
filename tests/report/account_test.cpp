// What a layout is best at and what it costs, as a sentence.
#include "report/account.hpp"

#include <catch2/catch.hpp>

#include "report/pages.hpp"
#include "tests/report/fixture.hpp"

using namespace trammel;

namespace {

search::Sheet sheet_with(const search::Account& account) {
  search::Sheet sheet;
  sheet.layout = test::invented_layout();
  sheet.account = account;
  sheet.assessment.margin = 0.05;
  for (double achieved : {104.2, 18.2, 0.21}) {
    objectives::Verdict verdict;
    verdict.achieved = achieved;
    verdict.margin = 0.05;
    verdict.met = true;
    sheet.assessment.targets.push_back(verdict);
  }
  return sheet;
}

std::vector<objectives::Target> three_targets() {
  std::vector<objectives::Target> targets(3);
  targets[0] = {"climbing", {bike::Curve::anti_squat, 2}, {}, {}, {}, {}, {}, 2.0};
  targets[0].wish = {objectives::Wish::Kind::floor, 95, 0, {}};
  targets[1] = {"chain", {bike::Curve::chain_growth, 0}, {}, {objectives::Station::Kind::bottomed}, {}, {}, {}, 1.0};
  targets[1].wish = {objectives::Wish::Kind::ceiling, 0, 22, {}};
  targets[2].name = "support";
  targets[2].curve = {bike::Curve::leverage};
  targets[2].measure = objectives::Measure::progressivity;
  targets[2].tolerance = 0.01;
  targets[2].wish = {objectives::Wish::Kind::band, 0.16, 0.24, {}};
  return targets;
}

}  // namespace

TEST_CASE("an account names leads, costs and the narrowest margin") {
  search::Account account;
  account.best = {0, 1};
  account.narrowest = 2;
  account.narrowest_margin = true;
  CHECK(report::account_sentence(sheet_with(account), three_targets()) ==
        "The most anti-squat 32x50 at sag (104.2 %) and the least chain growth 32x18 bottomed (18.2 mm); the narrowest "
        "margin, 0.05 on support.");

  account = {};
  account.best = {2};
  account.worst = {1};
  account.narrowest = 0;
  CHECK(report::account_sentence(sheet_with(account), three_targets()) ==
        "Progressivity nearest the middle of its band (0.210); the most chain growth 32x18 bottomed (18.2 mm) and a "
        "margin of 0.05 on climbing.");
}

TEST_CASE("an account of a layout that leads in nothing, misses something or is alone says so") {
  const auto sentence = [](const search::Account& account) {
    return report::account_sentence(sheet_with(account), three_targets());
  };
  search::Account account;
  account.narrowest = 1;
  CHECK(sentence(account) == "In no target ahead of most others; a margin of 0.05 on chain.");
  account.near_best = {{0, 2}};
  CHECK(sentence(account) == "Third in anti-squat 32x50 at sag (104.2 %); a margin of 0.05 on chain.");
  account.near_best = {{0, 0}};
  CHECK(sentence(account) == "Level with the best in anti-squat 32x50 at sag (104.2 %); a margin of 0.05 on chain.");
  account = {};
  account.narrowest = 1;
  account.alone = true;
  CHECK(sentence(account) == "Alone on the shortlist; a margin of 0.05 on chain.");
  account.missed = {1};
  search::Sheet sheet = sheet_with(account);
  sheet.assessment.targets[1].met = false;
  sheet.assessment.targets[1].violation = 3.0;
  CHECK(report::account_sentence(sheet, three_targets()) ==
        "Alone on the shortlist; misses chain, 18.2 mm (out by 3.0).");
}

TEST_CASE("of several linkages the best layout of each is told as such") {
  search::Account account;
  account.best = {1};
  account.widest_margin = true;
  account.narrowest = 0;
  account.first_of_linkage = true;
  search::Sheet sheet = sheet_with(account);
  sheet.linkage = "Rail slider";
  CHECK(
      report::account_sentence(sheet, three_targets()) ==
      "First of its linkage (rail slider): the least chain growth 32x18 bottomed (18.2 mm) and the widest margin, 0.05 "
      "on climbing.");
}

TEST_CASE("accounts stand on both pages") {
  const search::StudyReport study = test::invented_study();
  const std::string index = report::index_page(study);
  for (std::size_t i = 0; i < study.shortlist.size(); ++i) {
    const std::string words = report::escape(report::account_sentence(study.shortlist[i], study.brief.targets));
    CHECK(index.find(words) != std::string::npos);
    CHECK(test::page_of(study, i).find(words) != std::string::npos);
  }
}
