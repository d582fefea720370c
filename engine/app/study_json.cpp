#include "app/study_json.hpp"

#include "app/verdicts_json.hpp"
#include "report/account.hpp"
#include "report/choices.hpp"
#include "report/conflict_words.hpp"
#include "report/guidance_table.hpp"
#include "report/pages.hpp"
#include "report/room_words.hpp"

namespace trammel::app {
namespace {

Json share_json(const search::Share& share) {
  return {{"share", json_number(share.share())}, {"from", json_number(share.lo)}, {"to", json_number(share.hi)}};
}

Json varied_json(const std::vector<search::VariedValue>& varied) {
  Json out = Json::array();
  for (const search::VariedValue& v : varied)
    out.push_back({{"name", v.name},
                   {"unit", v.unit},
                   {"least", json_number(v.lo)},
                   {"greatest", json_number(v.hi)},
                   {"value", json_number(v.value)}});
  return out;
}

Json choices_json(const brief::Brief& brief, const search::Sheet& sheet) {
  Json out = Json::object();
  const std::vector<std::string> lists = report::offered(brief), taken = report::chosen(brief, sheet);
  for (std::size_t i = 0; i < lists.size() && i < taken.size(); ++i) out[lists[i]] = text_or_null(taken[i]);
  return out;
}

Json sheet_json(const search::Sheet& sheet, const brief::Brief& brief, const std::filesystem::path& folder) {
  Json out{{"rank", sheet.rank},
           {"id", sheet.id},
           {"linkage", text_or_null(sheet.linkage)},
           {"folder", (folder / "layouts" / report::folder_of(sheet)).string()},
           {"summary", report::account_sentence(sheet, brief.targets)},
           {"remarks", report::unusual(sheet).size()},
           {"closer_look", sheet.closer_look},
           {"chosen", choices_json(brief, sheet)},
           {"varied", varied_json(sheet.varied)},
           {"yield", sheet.tolerance ? share_json(sheet.tolerance->yield) : Json(nullptr)}};
  out.update(assessment_json(brief.targets, sheet.assessment, sheet.layout));
  return out;
}

Json linkages_json(const search::StudyReport& report) {
  Json out = Json::array();
  for (const search::LinkageSheet& linkage : report.linkages) {
    Json one{{"name", linkage.name},     {"title", linkage.title},
             {"kept", linkage.kept},     {"meet_every_requirement", linkage.feasible},
             {"proven", linkage.proven}, {"best", nullptr}};
    if (linkage.best) {
      const objectives::Assessment& a = linkage.best->assessment;
      one["best"] = {{"id", linkage.best->id},
                     {"score", json_number(a.score)},
                     {"required_margin", json_number(a.must_margin)},
                     {"requirements", a.musts},
                     {"requirements_met", a.musts_met}};
    }
    out.push_back(std::move(one));
  }
  return out;
}

Json conflict_json(const search::StudyReport& report, const std::filesystem::path& folder) {
  if (!report.conflict) return nullptr;
  Json sentences = Json::array();
  for (const report::Sentence& sentence : report::conflict_sentences(report)) {
    Json brief = nullptr;
    if (!sentence.folder.empty()) brief = (folder / sentence.folder / "brief.yaml").string();
    sentences.push_back({{"words", sentence.words}, {"brief", std::move(brief)}});
  }
  return {{"nearest", text_or_null(report::nearest_in_words(report))},
          {"proven", report.conflict->proven},
          {"sentences", std::move(sentences)}};
}

Json failures_json(const std::vector<search::FailureCount>& failures) {
  Json out = Json::array();
  for (const search::FailureCount& failure : failures)
    out.push_back({{"cause", failure.cause}, {"layouts", failure.count}});
  return out;
}

}  // namespace

Json study_json(const search::StudyReport& report, const std::filesystem::path& folder) {
  Json shortlist = Json::array();
  for (const search::Sheet& sheet : report.shortlist) shortlist.push_back(sheet_json(sheet, report.brief, folder));
  return {{"title", report.brief.layout.title},
          {"notes", notes_json(report.brief)},
          {"seed", std::to_string(report.summary.seed)},
          {"digest", report.summary.digest},
          {"refined", report.summary.refined},
          {"kept", report.summary.kept},
          {"yield_asked", json_number(report.brief.search.yield)},
          {"room", text_or_null(report::room_words(report))},
          {"linkages", linkages_json(report)},
          {"conflict", conflict_json(report, folder)},
          {"lost", failures_json(report.summary.failures)},
          {"shortlist", std::move(shortlist)}};
}

}  // namespace trammel::app
