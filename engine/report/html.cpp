#include "report/html.hpp"

#include <cctype>

#include "report/embedded.hpp"

namespace trammel::report {

std::string escape(std::string_view plain) {
  std::string out;
  out.reserve(plain.size());
  for (const char c : plain) {
    switch (c) {
      case '&':
        out += "&amp;";
        break;
      case '<':
        out += "&lt;";
        break;
      case '>':
        out += "&gt;";
        break;
      case '"':
        out += "&quot;";
        break;
      case '\'':
        out += "&#39;";
        break;
      default: {
        const auto code = static_cast<unsigned char>(c);
        const bool forbidden = (code < 0x20 && c != '\n' && c != '\t' && c != '\r') || code == 0x7f;
        out += forbidden ? std::string("\xEF\xBF\xBD") : std::string(1, c);
      }
    }
  }
  return out;
}

Html text(std::string_view plain) {
  return Html(escape(plain));
}

namespace {

std::string opening(std::string_view name, const Attributes& attributes) {
  std::string out = "<" + std::string(name);
  for (const auto& [key, value] : attributes) out += " " + std::string(key) + "=\"" + escape(value) + "\"";
  return out;
}

}  // namespace

Html element(std::string_view name, const Attributes& attributes, const Html& content) {
  return Html(opening(name, attributes) + ">" + content.str() + "</" + std::string(name) + ">");
}

Html element(std::string_view name, const Html& content) {
  return element(name, {}, content);
}

Html element(std::string_view name, std::string_view plain) {
  return element(name, {}, text(plain));
}

Html closed(std::string_view name, const Attributes& attributes) {
  return Html(opening(name, attributes) + "/>");
}

Html with_attribute(const Html& element, std::string_view name, std::string_view value) {
  std::string out = element.str();  // the first > ends the opening tag: in attributes it is an entity
  out.insert(out.find('>'), " " + std::string(name) + "=\"" + escape(value) + "\"");
  return Html(std::move(out));
}

namespace {

/// As a string of a style sheet, in which nothing ends it (CSS Syntax 3, 4.3.7).
std::string style_string(std::string_view plain) {
  constexpr char digits[] = "0123456789ABCDEF";
  std::string out = "\"";
  for (const char c : plain) {
    const auto byte = static_cast<unsigned char>(c);
    const bool letter = byte >= 0x80 || std::isalnum(byte) != 0;
    if (letter || c == ' ')
      out += c;
    else
      out += std::string("\\") + digits[byte / 16] + digits[byte % 16] + " ";
  }
  return out + "\"";
}

/// What every sheet of a print has in its margins.
Html sheet_margins(std::string_view title) {
  return element("style", Html("@page{@top-left{content:" + style_string(title) +
                               ";font:7pt system-ui,sans-serif;color:#4a5560}@bottom-right{content:counter(page) \" of "
                               "\" counter(pages);font:7pt system-ui,sans-serif;color:#4a5560}}"));
}

}  // namespace

std::string page(std::string_view title, const Html& body, const Head& more) {
  const Html head = closed("meta", {{"charset", "utf-8"}}) + more.first +
                    closed("meta", {{"name", "viewport"}, {"content", "width=device-width, initial-scale=1"}}) +
                    element("title", title) + element("style", Html(std::string(embedded::style()))) +
                    sheet_margins(title) + more.last;
  return "<!DOCTYPE html>\n" +
         element("html", {{"lang", "en-GB"}}, element("head", head) + element("body", body)).str() + "\n";
}

Html table(std::string_view caption, const std::vector<std::string>& head, const std::vector<std::vector<Html>>& rows) {
  Html head_cells;
  for (const auto& title : head) head_cells += element("th", {{"scope", "col"}}, text(title));
  Html body_rows;
  for (const auto& row : rows) {
    Html cells;
    for (const auto& cell : row) cells += cell;
    body_rows += element("tr", cells) + Html("\n");
  }
  Html inside;
  if (!caption.empty()) inside += element("caption", caption);
  inside += element("thead", element("tr", head_cells)) + element("tbody", body_rows);
  return element("div", {{"class", "scroll"}}, element("table", inside));
}

Html wide_table(std::string_view name, std::string_view classes, const std::vector<Heading>& head,
                const std::vector<std::vector<Html>>& rows) {
  constexpr std::size_t on_a_sheet = 11;  // columns of A4 upright
  Html head_cells, body_rows;
  for (const auto& [_, content] : head) head_cells += element("th", {{"scope", "col"}}, content);
  for (const auto& row : rows) {
    Html cells;
    for (std::size_t c = 0; c < row.size(); ++c) cells += with_attribute(row[c], "data-of", head[c].first);
    body_rows += element("tr", cells) + Html("\n");
  }
  const std::string folds = head.size() > on_a_sheet ? " folds" : "";
  return element("div", {{"class", "scroll"}, {"role", "region"}, {"tabindex", "0"}, {"aria-label", std::string(name)}},
                 element("table", {{"class", std::string(classes) + folds}},
                         element("thead", element("tr", head_cells)) + element("tbody", body_rows)));
}

}  // namespace trammel::report
