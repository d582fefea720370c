// Markup that cannot be confused with text: plain text becomes Html only through `text`, which escapes it.
#pragma once

#include <initializer_list>
#include <string>
#include <string_view>
#include <utility>
#include <vector>

namespace trammel::report {

/// Finished markup (HTML or SVG).
class Html {
 public:
  Html() = default;
  /// Markup written by us. Never pass anything that a user wrote.
  explicit Html(std::string markup) : markup_(std::move(markup)) {}
  const std::string& str() const { return markup_; }
  bool empty() const { return markup_.empty(); }
  Html& operator+=(const Html& more) {
    markup_ += more.markup_;
    return *this;
  }
  friend Html operator+(Html a, const Html& b) { return a += b; }

 private:
  std::string markup_;
};

/// Attributes in order; values are plain text.
using Attributes = std::vector<std::pair<std::string_view, std::string>>;

/// `&`, `<`, `>` and both quotes as entities; control characters that HTML and XML forbid become U+FFFD.
std::string escape(std::string_view plain);
/// Plain text as markup.
Html text(std::string_view plain);
/// <name attributes>content</name>
Html element(std::string_view name, const Attributes& attributes, const Html& content);
Html element(std::string_view name, const Html& content);
Html element(std::string_view name, std::string_view plain);
/// <name attributes/>, for void HTML elements and empty SVG elements.
Html closed(std::string_view name, const Attributes& attributes);

/// A finished element with one more attribute in its opening tag.
Html with_attribute(const Html& element, std::string_view name, std::string_view value);

/// What a page has in its head beside title and style sheet.
struct Head {
  Html first = {};  ///< before all that it may forbid
  Html last = {};
};

/// A whole page. The style sheet is inside, so that a page goes on looking right when it is sent alone.
std::string page(std::string_view title, const Html& body, const Head& more = {});

/// A table from its cells. The first row is the head; a cell is any finished <th> or <td>.
/// The table scrolls within its own box when it is wider than the page.
Html table(std::string_view caption, const std::vector<std::string>& head, const std::vector<std::vector<Html>>& rows);

/// A heading of a column: its name in a word or a few, and what its cell shows.
using Heading = std::pair<std::string, Html>;

/// A table of many columns, called `name`: on a screen it scrolls within its own box, which keys reach, too; on paper,
/// where it has more columns than a sheet is wide for, each row is a block of cells under their headings' names.
Html wide_table(std::string_view name, std::string_view classes, const std::vector<Heading>& head,
                const std::vector<std::vector<Html>>& rows);

}  // namespace trammel::report
