// Inches beside mm; worked out by hand from 25.4 mm to the inch (NIST Special Publication 811, appendix B.8).
#include "report/inches.hpp"

#include <catch2/catch.hpp>

namespace trammel::test {
namespace {

using report::page_with_inches;
using report::with_inches;

TEST_CASE("report: a length in mm is followed by the same in inches", "[report]") {
  CHECK(with_inches("at 25.4 mm") == "at 25.4 mm (1.000 in)");
  CHECK(with_inches("127 mm of travel, 12.70 mm of it") == "127 mm (5.00 in) of travel, 12.70 mm (0.5000 in) of it");
  CHECK(with_inches("−2.54 mm") == "−2.54 mm (-0.1000 in)");
  CHECK(with_inches("mm, and 5 mm") == "mm, and 5 mm (0.20 in)");
}

TEST_CASE("report: numbers that share a unit are turned together", "[report]") {
  CHECK(with_inches("254 to 508 mm") == "254 to 508 mm (10.00 to 20.00 in)");
  CHECK(with_inches("210 × 55 mm") == "210 × 55 mm (8.27 × 2.17 in)");
  CHECK(with_inches("50.8 ± 2.54 mm") == "50.8 ± 2.54 mm (2.000 ± 0.1000 in)");
  CHECK(with_inches("± 0.5 mm") == "± 0.5 mm (± 0.020 in)");
  CHECK(with_inches("sag to 127 mm") == "sag to 127 mm (5.00 in)");
}

TEST_CASE("report: what is per mm, a power, or has no number stays", "[report]") {
  for (const char* words :
       {"50 N/mm", "3 mm² of it", "0.2 1/mm", "4 %/mm", "3 mm/s", "0.7 mm per mm", "a mm", "length mm", "A3 mm"})
    CHECK(with_inches(words) == words);
}

TEST_CASE("report: on a page only what is read gets inches", "[report]") {
  CHECK(page_with_inches("<p title=\"25.4 mm\">25.4 mm</p>") == "<p title=\"25.4 mm\">25.4 mm (1.000 in)</p>");
  CHECK(page_with_inches("<script>\"25.4 mm\"</script><pre>25.4 mm</pre><b>5 mm</b>") ==
        "<script>\"25.4 mm\"</script><pre>25.4 mm</pre><b>5 mm (0.20 in)</b>");
  CHECK(page_with_inches("<style>a{}</style>1 mm<br") == "<style>a{}</style>1 mm (0.04 in)<br");
}

}  // namespace
}  // namespace trammel::test
