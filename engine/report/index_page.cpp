#include <span>

#include "report/account.hpp"
#include "report/chart_data.hpp"
#include "report/choices.hpp"
#include "report/digits.hpp"
#include "report/drawing.hpp"
#include "report/embedded.hpp"
#include "report/field_picture.hpp"
#include "report/guidance_table.hpp"
#include "report/linkages.hpp"
#include "report/notes.hpp"
#include "report/pages.hpp"
#include "report/parts.hpp"
#include "report/previews.hpp"
#include "report/room_words.hpp"
#include "report/tolerance_tables.hpp"
#include "report/trade_offs.hpp"
#include "report/wording.hpp"

namespace trammel::report {

namespace {

std::string counted(std::int64_t n, const char* one, const char* many) {
  return grouped(n) + " " + (n == 1 ? one : many);
}

/// ", and 3 of a closer look".
std::string closer_words(const search::StudyReport& study) {
  if (!study.conflict || study.conflict->found.empty()) return "";
  return ", and " + std::to_string(study.conflict->found.size()) + " of a closer look";
}

Html summary(const search::StudyReport& study) {
  const auto& s = study.summary;
  std::string words = "In " + counted(s.units, "work unit", "work units") + ", " +
                      counted(s.screened, "layout was screened and ", "layouts were screened and ") +
                      counted(s.refined, "refinement run; ", "refinements run; ") +
                      counted(s.kept, "refined layout was kept, of which ", "refined layouts were kept, of which ") +
                      grouped(s.feasible) + (s.feasible == 1 ? " meets" : " meet") + " every requirement. ";
  if (const std::string families = families_in_short(study.families); !families.empty()) words += families + " ";
  if (study.shortlist.empty()) {
    words += "None is shortlisted.";
  } else if (study.shortlist.front().closer_look) {
    words += "A closer look found layouts that do: they are below. ";
  } else if (s.feasible == 0) {
    words += "Nothing meets every requirement: the layouts below are the nearest, with what each one misses.";
  } else {
    words += "The " + std::to_string(study.shortlist.size()) +
             " shortlisted below are the best ones that differ enough from each other, in their pivots and in what the "
             "targets look at.";
  }
  if (const std::string room = room_words(study); !room.empty()) words += " " + room;
  words += " Seed " + std::to_string(s.seed) + ", engine " + s.engine_version + ".";
  return element("p", {{"class", "lead"}}, text(words)) +
         element("p", {{"class", "digest"}}, text("Digest of all committed results: ") + element("code", s.digest));
}

Html target_head(const objectives::Target& target) {
  Html out = text(target.name);
  if (target.must) out += Html(" ") + element("span", {{"class", "must"}}, text("required"));
  return out + element("span", {{"class", "wish"}}, text(wish(target) + " " + place(target)));
}

/// How many remarks there are on what is unusual; which, for whoever points at it.
Html remarks_cell(const search::Sheet& sheet) {
  std::string words;
  const std::vector<std::string> remarks = unusual(sheet);
  for (const std::string& remark : remarks) words += (words.empty() ? "" : " ") + remark;
  return element("td", {{"class", "n"}, {"title", words}}, text(std::to_string(remarks.size())));
}

Html ranking(const search::StudyReport& study) {
  const auto& targets = study.brief.targets;
  std::vector<Heading> head;
  const auto add = [&](const std::string& name) { head.emplace_back(name, text(name)); };
  for (const char* title :
       {"Rank", "Layout", "Drawing", "Score", "Required margin", "Preferred margin", "Requirements met", "Remarks"})
    add(title);
  const bool built = study.brief.tolerances.has_value();
  if (built) add("Yield");
  const bool linkages = !study.linkages.empty();
  if (linkages) add("Linkage");
  for (const std::string& list : offered(study.brief)) add("Chosen " + list);
  const std::size_t own = own_targets(targets);
  for (const auto& target : std::span(targets).first(own)) head.emplace_back(target.name, target_head(target));

  Html accounts;
  std::vector<std::vector<Html>> rows;
  for (const auto& sheet : study.shortlist) {
    const auto& a = sheet.assessment;
    const std::string address = "layouts/" + folder_of(sheet) + "/index.html";
    std::vector<Html> row{head_cell(link_to(address, std::to_string(sheet.rank))),
                          element("td", link_to(address, sheet.id) + text(sheet.closer_look ? " (closer look)" : "")),
                          element("td", {{"class", "thumbnail"}},
                                  element("a", {{"href", address}}, thumbnail(sheet, std::to_string(sheet.rank)))),
                          number_cell(significant(a.score, 4)),
                          number_cell(shown(a.must_margin, 3)),
                          number_cell(shown(a.wish_margin, 3)),
                          element("td", {{"class", "n"}},
                                  text(std::to_string(a.musts_met) + " of " + std::to_string(a.musts)) +
                                      (a.feasible() ? Html() : text(" ✗"))),
                          remarks_cell(sheet)};
    if (built) {
      const std::string flag = yield_flag(sheet, study.brief.search.yield);
      row.push_back(element("td", {{"class", flag.empty() ? "n" : "n missed"}},
                            text(yield_words(sheet) + (flag.empty() ? "" : " " + flag))));
    }
    if (linkages) row.push_back(cell(sheet.linkage));
    for (const std::string& choice : chosen(study.brief, sheet)) row.push_back(cell(choice));
    for (std::size_t i = 0; i < own && i < a.targets.size(); ++i) {
      const bool met = a.targets[i].met;
      row.push_back(element("td", {{"class", met ? "n" : "n missed"}},
                            text((met ? "✓ " : "✗ ") + outcome(targets[i], a.targets[i]))));
    }
    rows.push_back(std::move(row));
    accounts += element("li", link_to(address, "Layout " + sheet.id) + text(": " + account_sentence(sheet, targets)));
  }
  return element("ol", {{"class", "accounts"}}, accounts) + wide_table("Shortlist", "ranking shortlist", head, rows) +
         element(
             "p", {{"class", "fine"}},
             text(
                 "Score: weighted sum of squared misses, each over its tolerance; 0 = every preference met. Margin: "
                 "least distance to a limit, 1 = middle of the band or a tolerance inside, negative = outside; of the "
                 "requirements, which a workshop has to keep, and of the other targets. ✓ met, ✗ not met, with how far "
                 "out. Remarks: on what is unusual for the kind of bike, on the layout's page under Guidance." +
                 (built ? " Yield: frames built with errors by chance that keep " + search::what_is_kept(targets) +
                              ", with 95 % interval" +
                              (study.brief.search.yield ? "; ✗ where they are fewer than the brief asks for." : ".")
                        : "")));
}

Html charts(const search::StudyReport& study) {
  const std::string count = "Showing " + grouped(static_cast<long long>(study.marks.size())) + " of " +
                            grouped(study.summary.kept) + " kept layouts, best first.";
  Html out = element("p", {{"class", "count"}}, text(count));
  out +=
      element("noscript", element("p", "The charts need scripts; the table above holds the shortlist without them."));
  out +=
      element("div", {{"id", "charts"}, {"hidden", ""}},
              element("h3", "Any against any") +
                  element("p", {{"class", "controls"}},
                          element("label", text("Across ") + element("select", {{"id", "across"}}, Html())) +
                              element("label", text("Up ") + element("select", {{"id", "up"}}, Html()))) +
                  element("div", {{"id", "scatter"}}, Html()) +
                  element("p", {{"class", "fine"}},
                          text("Numbered discs: shortlist, press one to open it. Small dots: meets every requirement. "
                               "Hollow triangles: does not. Dashed lines: what is asked for, or the range of a varied "
                               "value.")) +
                  element("h3", "All at once") +
                  element("details", element("summary", "Axes") + element("p", {{"id", "axes"}}, Html())) +
                  element("div", {{"class", "scroll"}}, element("div", {{"id", "parallel"}}, Html())) +
                  element("p", {{"id", "picked"}, {"aria-live", "polite"}}, Html()) +
                  element("p", {{"class", "fine"}},
                          text("Drag along an axis to keep the layouts within that stretch; press the axis to drop "
                               "it. Solid: meets every requirement. Dashed: does not. Thick: shortlist.")));
  return out;
}

Html failures(const search::StudyReport& study) {
  const auto& counts = study.summary.failures;
  if (counts.empty()) return element("p", "No layout was lost.");
  std::int64_t all = 0;
  for (const auto& f : counts) all += f.count;
  std::vector<std::vector<Html>> rows;
  for (const auto& f : counts) {
    const double share = all > 0 ? 100.0 * static_cast<double>(f.count) / static_cast<double>(all) : 0.0;
    rows.push_back({cell(f.cause), number_cell(grouped(f.count)), number_cell(shown(share, 1) + " %")});
  }
  return table("", {"Cause", "Layouts", "Share of losses"}, rows) +
         element("p",
                 "“Outdone”: the best samples of its work unit were already better by what had been looked at, so the "
                 "rest of the layout was not computed.");
}

}  // namespace

std::string index_page(const search::StudyReport& study) {
  const auto& s = study.summary;
  const auto& layout = study.brief.layout;
  const std::string title = layout.title.empty() ? s.study : layout.title;
  Html body = title_block(
      "Rear-suspension study", title,
      {{"Study", text(s.study)},
       {"Brief", text(study.brief.file)},
       {"Layouts screened", text(grouped(s.screened))},
       {"Meet every requirement", text(grouped(s.feasible) + " of " + grouped(s.kept) + " kept" + closer_words(study))},
       {"Seed", text(std::to_string(s.seed))},
       {"Engine", text(s.engine_version)}});
  Html main = summary(study) + notes_section(study.brief);
  if (!study.linkages.empty()) main += linkages_section(study);
  main += section("Shortlist", study.shortlist.empty()
                                   ? element("p", "No layout came far enough to be listed; see the failures below.")
                                   : ranking(study) + element("p", link_to("shortlist.csv", "shortlist.csv")));
  if (!study.families.families.empty()) main += families_section(study);
  if (study.conflict) main += conflict_section(study);
  if (!study.references.layouts.empty() || !study.references.left_out.empty())
    main += section("Against the references", reference_section(study));
  if (!study.trade_offs.empty()) main += section("Trade-offs", trade_offs(study));
  if (const Html pictures = field_pictures(study); !pictures.empty())
    main += section("Where their points lie", pictures);
  if (!study.marks.empty()) main += section("The field", charts(study));
  main += section("Where layouts were lost", failures(study));
  main += section("Brief", element("details", element("summary", study.brief.file.empty() ? "Text" : study.brief.file) +
                                                  element("pre", std::string_view(study.brief.text))));
  bike::Layout common = layout;
  // Not every layout has it, or that one; their pages say so.
  if (!study.linkages.empty() || !study.brief.idlers.empty()) common.drivetrain.idler.reset();
  main += conventions_block(common) + cautions_block();
  body += element("main", main);
  if (!study.marks.empty()) {
    body += element("script", {{"type", "application/json"}, {"id", "data"}}, chart_data(study));
    body += element("script", {{"src", "assets/echarts.min.js"}}, Html());
    body += element("script", Html(std::string(embedded::index_script())));
  }
  if (!study.shortlist.empty())
    body += element("script", Html(std::string(embedded::shortlist_script()))) + previews(study);
  return page(title, body + scroll_script());
}

}  // namespace trammel::report
