#include "report/html.hpp"

#include <catch2/catch.hpp>

using namespace trammel::report;

TEST_CASE("text cannot become markup") {
  // The five characters of the HTML standard's escaping rules (WHATWG HTML, 13.3).
  CHECK(text("<script>alert(\"x\") & 'y'</script>").str() ==
        "&lt;script&gt;alert(&quot;x&quot;) &amp; &#39;y&#39;&lt;/script&gt;");
  CHECK(element("td", std::string_view("a<b")).str() == "<td>a&lt;b</td>");
  CHECK(closed("rect", {{"data-name", "\"><script>"}}).str() == "<rect data-name=\"&quot;&gt;&lt;script&gt;\"/>");
}

TEST_CASE("control characters are replaced, letters of any script kept") {
  CHECK(escape(std::string("a\x01") + '\0' + "b\x7f") == "a\uFFFD\uFFFDb\uFFFD");
  CHECK(escape("Größe\tµ\n") == "Größe\tµ\n");
}

TEST_CASE("markup nests without being escaped again") {
  const Html inside = element("b", std::string_view("1 < 2"));
  CHECK(element("p", {{"class", "x"}}, text("so ") + inside).str() == "<p class=\"x\">so <b>1 &lt; 2</b></p>");
}

TEST_CASE("a title stands in the margins of a print, and nothing in it ends the style sheet or its string") {
  const std::string whole = page("a\"b\\</style><script>\n}é", Html());
  // CSS Syntax Module Level 3, 4.3.7: a hexadecimal number and a space for a character.
  CHECK(whole.find("content:\"a\\22 b\\5C \\3C \\2F style\\3E \\3C script\\3E \\0A \\7D é\"") != std::string::npos);
  CHECK(whole.find("</style><script>") == std::string::npos);
}
