#include "app/study_text.hpp"

#include <algorithm>

#include "app/print.hpp"
#include "report/conflict_words.hpp"
#include "report/inches.hpp"
#include "report/room_words.hpp"

namespace trammel::app {
namespace {

/// The conflict in the sentences of the report.
void print_conflict(const search::StudyReport& report, const std::filesystem::path& folder) {
  const auto told = [&](const std::string& words) {
    return report.brief.inches_too ? report::with_inches(words) : words;
  };
  if (const std::string nearest = report::nearest_in_words(report); !nearest.empty()) print_out("{}\n", told(nearest));
  for (const std::string& sentence : report.conflict->proven) print_out("proven: {}\n", told(sentence));
  for (const report::Sentence& sentence : report::conflict_sentences(report)) {
    const std::string where = sentence.folder.empty() ? "" : ": " + (folder / sentence.folder / "brief.yaml").string();
    print_out("{}{}\n", told(sentence.words), where);
  }
}

/// How many of the shortlist miss the yield that the brief asks for.
void print_yield(const search::StudyReport& report) {
  const std::optional<double>& asked = report.brief.search.yield;
  if (!asked || !report.brief.tolerances) return;
  const auto under = std::count_if(report.shortlist.begin(), report.shortlist.end(), [&](const search::Sheet& sheet) {
    return sheet.tolerance && sheet.tolerance->yield.share() < *asked;
  });
  if (under > 0)
    print_out("yield: {} of {} shortlisted do not reach the {:.4g} % asked for\n", under, report.shortlist.size(),
              100.0 * *asked);
}

/// How a linkage came out, in a line.
void print_linkage(const search::LinkageSheet& linkage) {
  if (!linkage.best) {
    print_out("  {}: no layout\n", linkage.name);
    return;
  }
  const objectives::Assessment& a = linkage.best->assessment;
  print_out("  {}: {} of {} kept meet every requirement; best {}, score {:.3g}, margin {:.2f}{}\n", linkage.name,
            linkage.feasible, linkage.kept, linkage.best->id, a.score, a.margin,
            a.feasible() ? "" : fmt::format(", {} of {} requirements", a.musts_met, a.musts));
}

}  // namespace

void print_report(const search::StudyReport& report, const std::filesystem::path& folder) {
  const auto meet = [](const search::Sheet& sheet) { return sheet.assessment.feasible(); };
  print_out("{}: {} layouts shortlisted, {} of them meet every requirement\n", report.summary.study,
            report.shortlist.size(), std::count_if(report.shortlist.begin(), report.shortlist.end(), meet));
  print_yield(report);
  for (const search::LinkageSheet& linkage : report.linkages) print_linkage(linkage);
  if (const std::string words = report::room_words(report); !words.empty()) print_out("{}\n", words);
  if (report.conflict) print_conflict(report, folder);
  print_out("report: {}\n", (folder / "index.html").string());
}

}  // namespace trammel::app
