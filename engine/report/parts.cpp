#include "report/parts.hpp"

#include "report/embedded.hpp"

namespace trammel::report {

Html title_block(std::string_view kicker, std::string_view title,
                 const std::vector<std::pair<std::string, Html>>& boxes) {
  Html cells;
  for (const auto& [label, value] : boxes) {
    cells += element("div", element("dt", std::string_view(label)) + element("dd", value));
  }
  return element(
      "header", {{"class", "title-block"}},
      element("div", {{"class", "name"}}, element("p", {{"class", "kicker"}}, text(kicker)) + element("h1", title)) +
          element("dl", cells));
}

Html met_mark(bool met) {
  return element("span", {{"class", met ? "met" : "unmet"}}, text(met ? "✓ met" : "✗ not met"));
}

Html link_to(const std::string& address, std::string_view words) {
  return element("a", {{"href", address}}, text(words));
}

Html scroll_script() {
  return element("script", Html(std::string(embedded::scroll_script())));
}

Html section(std::string_view title, const Html& content) {
  return element("section", element("h2", title) + content) + Html("\n");
}

Html screen_section(std::string_view title, const Html& content) {
  return element("section", {{"class", "screen"}}, element("h2", title) + content) + Html("\n");
}

Html cell(std::string_view plain) {
  return element("td", plain);
}
Html number_cell(std::string_view plain) {
  return element("td", {{"class", "n"}}, text(plain));
}
Html head_cell(const Html& content) {
  return element("th", {{"scope", "row"}}, content);
}

}  // namespace trammel::report
