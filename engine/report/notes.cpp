#include "report/notes.hpp"

#include <algorithm>

#include "brief/notes.hpp"
#include "brief/title.hpp"
#include "report/parts.hpp"

namespace trammel::report {

Html notes_text(std::string_view notes) {
  return notes.empty() ? Html() : element("p", {{"class", "said"}}, text(notes));
}

Html notes_section(const brief::Brief& brief) {
  const brief::Notes notes = brief::notes_of(brief);
  Html content = notes_text(notes.layout);
  for (std::size_t t = 0; t < brief.targets.size(); ++t)
    if (const std::string own = notes.of_target(t); !own.empty())
      content += element("p", {{"class", "said"}}, element("b", brief.targets[t].name + ": ") + text(own));
  return content.empty() ? Html() : section("Notes", content);
}

std::string notes_in_short(std::string_view notes) {
  constexpr std::size_t room = 90;  // two lines of the summary, which is one sheet
  std::string line(notes);
  std::replace(line.begin(), line.end(), '\n', ' ');
  return brief::shortened(line, room);
}

}  // namespace trammel::report
