#include "report/conflict_words.hpp"
#include "report/pages.hpp"
#include "report/parts.hpp"
#include "report/wording.hpp"

namespace trammel::report {

namespace {

/// What every nearest layout misses, a row each.
Html nearest(const search::StudyReport& study) {
  std::vector<std::vector<Html>> rows;
  for (const search::Sheet& sheet : study.shortlist)
    for (const MissWords& m : missed_in_words(study, sheet))
      rows.push_back({element("td", link_to("layouts/" + folder_of(sheet) + "/index.html", sheet.id)),
                      cell(m.demand + (m.where.empty() ? "" : ", " + m.where)), cell(m.demanded),
                      number_cell(m.achieved), number_cell(m.by), number_cell(quantity(m.at_travel, 1, "mm"))});
  if (rows.empty()) return {};
  return element("h3", "What the nearest layouts miss") +
         element("div", {{"class", "scroll"}},
                 table("", {"Layout", "Demand", "Demanded", "Achieved", "Missed by", "At wheel travel"}, rows));
}

Html searched(const search::StudyReport& study) {
  Html items;
  for (const Sentence& sentence : conflict_sentences(study)) {
    Html line = text(sentence.words + ".");
    if (!sentence.folder.empty())
      line += text(" ") + link_to(sentence.folder + "/brief.yaml", sentence.folder + "/brief.yaml") + text(", ") +
              link_to(sentence.folder + "/layout.yaml", "a layout that its search found") + text(".");
    items += element("li", line);
  }
  return element("ul", items);
}

}  // namespace

Html conflict_section(const search::StudyReport& study) {
  const search::Conflict& conflict = *study.conflict;
  Html content;
  if (!conflict.proven.empty()) {
    Html items;
    for (const std::string& sentence : conflict.proven) items += element("li", sentence);
    content += element("p", "Proven from the brief alone, whatever is searched:") + element("ul", items);
  }
  if (!study.linkages.empty())
    content += element(
        "p", "Looked at closely for the linkage that came nearest: " + study.linkages[conflict.linkage].title + ".");
  const char* title = conflict.found.empty() ? "Why nothing meets every requirement" : "What the study missed";
  return section(title, content + searched(study) + nearest(study));
}

}  // namespace trammel::report
