// What is told of a shortlisted layout, on verdicts made by hand.
#include "search/account.hpp"

#include <catch2/catch.hpp>

using namespace trammel;
using objectives::Assessment;
using objectives::Target;
using objectives::Wish;

namespace {

Target target(Wish::Kind kind, double lo, double hi, double tolerance) {
  Target out;
  out.wish = {kind, lo, hi, {}};
  out.tolerance = tolerance;
  return out;
}

const std::vector<Target> targets{target(Wish::Kind::ceiling, 0, 20, 1), target(Wish::Kind::floor, 90, 0, 2),
                                  target(Wish::Kind::band, 0, 10, 1)};

/// A layout by its three values.
Assessment layout(double ceiling, double floor, double band) {
  Assessment out;
  const double margins[] = {std::min(1.0, 20 - ceiling), std::min(1.0, (floor - 90) / 2),
                            std::min(band, 10 - band) / 5};
  const double values[] = {ceiling, floor, band};
  out.margin = 1.0;
  for (int t = 0; t < 3; ++t) {
    objectives::Verdict verdict;
    verdict.achieved = values[t];
    verdict.margin = margins[t];
    verdict.met = margins[t] >= 0.0;
    out.targets.push_back(verdict);
    out.margin = std::min(out.margin, margins[t]);
  }
  return out;
}

search::Account of(const std::vector<Assessment>& all, std::size_t which) {
  std::vector<const Assessment*> pointers;
  for (const Assessment& a : all) pointers.push_back(&a);
  return search::account_of(targets, pointers, which);
}

using Numbers = std::vector<std::size_t>;

}  // namespace

TEST_CASE("a layout is best where it leads all others, the greatest lead in tolerances first") {
  // Leads of the first: ceiling 3 tolerances, floor (96 − 94)/2 = 1, band behind.
  const std::vector<Assessment> all{layout(10, 96, 1), layout(13, 94, 4), layout(19.5, 90.5, 3)};
  const search::Account first = of(all, 0);
  CHECK(first.best == Numbers{0, 1});
  CHECK(first.worst == Numbers{2});
  CHECK(first.missed.empty());
  CHECK(first.narrowest == std::size_t{2});
  CHECK_FALSE(first.widest_margin);
  CHECK(of(all, 1).best == Numbers{2});
  CHECK(of(all, 1).worst.empty());
  CHECK(of(all, 1).widest_margin);
  // Behind by 6.5 tolerances in the ceiling, by 1.75 in the floor: the first is the one named.
  CHECK(of(all, 2).best.empty());
  CHECK(of(all, 2).worst == Numbers{0});
}

TEST_CASE("a lead that nobody could tell is none, and a missed target is no achievement") {
  const std::vector<Assessment> near{layout(10.0, 96, 4), layout(10.05, 96, 4)};
  CHECK(of(near, 0).best.empty());
  CHECK(of(near, 1).worst.empty());
  const std::vector<Assessment> missed{layout(22, 96, 4), layout(25, 96, 4)};
  CHECK(of(missed, 0).best.empty());
  CHECK(of(missed, 0).missed == Numbers{0});
  CHECK(of(missed, 1).worst.empty());
  CHECK(of(missed, 1).narrowest_margin);
}

TEST_CASE("one layout has nothing to be compared with") {
  const search::Account account = of({layout(10, 96, 1)}, 0);
  CHECK(account.alone);
  CHECK(account.best.empty());
  CHECK(account.worst.empty());
  CHECK_FALSE(account.widest_margin);
  CHECK(account.narrowest == std::size_t{2});
}

TEST_CASE("a layout that leads in nothing is told by where the fewest are ahead") {
  // Third of five in the ceiling, second in the floor, last in the band.
  const std::vector<Assessment> all{layout(10, 99, 4), layout(11, 92, 4), layout(12, 97, 1), layout(13, 91, 4),
                                    layout(14, 93, 4)};
  const search::Account account = of(all, 2);
  CHECK(account.best.empty());
  REQUIRE(account.near_best);
  CHECK(account.near_best->first == 1);
  CHECK(account.near_best->second == 1);
  CHECK_FALSE(of(all, 0).near_best);  // it leads
  // Fourth, last and among those that share the lead: ahead of one, behind none by what can be told.
  const search::Account shares = of(all, 3);
  REQUIRE(shares.near_best);
  CHECK(shares.near_best->first == 2);
  CHECK(shares.near_best->second == 0);
  // As many as half ahead are not few.
  const std::vector<Assessment> three{layout(10, 96, 4), layout(12, 94, 4), layout(14, 92, 4)};
  CHECK_FALSE(of(three, 1).near_best);
}
