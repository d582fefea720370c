#include "report/write.hpp"

#include "brief/edit.hpp"
#include "brief/notes.hpp"
#include "brief/title.hpp"
#include "report/beside.hpp"
#include "report/case_tables.hpp"
#include "report/conflict_words.hpp"
#include "report/csv.hpp"
#include "report/drawing.hpp"
#include "report/dxf.hpp"
#include "report/embedded.hpp"
#include "report/files.hpp"
#include "report/inches.hpp"
#include "report/linkages.hpp"
#include "report/pages.hpp"
#include "report/scene.hpp"
#include "report/tolerance_tables.hpp"
#include "report/trade_offs.hpp"
#include "report/wording.hpp"
#include "report/workshop_drawing.hpp"
#include "search/references.hpp"

namespace trammel::report {

namespace {

/// One line of a YAML comment: a line break in a name must not end it.
std::string comment(const std::string& words) {
  std::string out = "# ";
  for (const char c : words) out += static_cast<unsigned char>(c) < 0x20 ? ' ' : c;
  return out + "\n";
}

void write_table(const std::filesystem::path& path, const std::string& csv, TableForm tables) {
  write_file(path, in_form(csv, tables));
}

void write_page(const std::filesystem::path& path, const std::string& page, const brief::Brief& brief) {
  write_file(path, brief.inches_too ? page_with_inches(page) : page);
}

/// The linkages of a study: a table, and the best layout of each.
void write_linkages(const search::StudyReport& study, const std::filesystem::path& folder, TableForm tables) {
  if (study.linkages.empty()) return;
  make_folder(folder / "linkages");
  for (const search::LinkageSheet& linkage : study.linkages) {
    if (!linkage.best) continue;
    const search::Sheet& best = *linkage.best;
    const auto place = folder / linkage_folder(linkage);
    make_folder(place);
    write_file(place / "layout.yaml",
               comment("study " + study.summary.study + ", the best layout of linkage " + linkage.name + ", layout " +
                       best.id + ", engine " + study.summary.engine_version) +
                   layout_yaml(best.whole(), brief::notes_of(study.brief).layout));
    write_table(place / "curves.csv", curves_csv(best.motion.table), tables);
    write_file(place / "drawing.svg", drawing_svg(best, drawn_gear(best.layout, study.brief.targets)));
  }
  write_table(folder / "linkages.csv", linkages_csv(study), tables);
}

/// A line in front of a text, past the mark that some editors put there.
std::string headed(const std::string& line, const std::string& text) {
  const std::size_t at = text.starts_with("\xEF\xBB\xBF") ? 3 : 0;
  return text.substr(0, at) + line + text.substr(at);
}

/// The briefs that show what giving way is enough, each with a layout that a search of it finds.
void write_ways_out(const search::StudyReport& study, const std::filesystem::path& folder) {
  clear_layouts(folder / "conflict");
  std::error_code ignored;
  std::filesystem::remove(folder / "conflict", ignored);  // only when nothing else is in it
  if (!study.conflict) return;
  for (std::size_t n = 0; n < study.conflict->ways.size(); ++n) {
    const search::WayOut& way = study.conflict->ways[n];
    const auto place = folder / way_folder(n);
    bike::Layout layout = way.shown.layout;
    layout.title =
        brief::made_title(study.brief.layout.title, "conflict " + std::to_string(n + 1) + ", layout " + way.id);
    // Seen from there the study's own copies lie two folders up.
    std::string brief = way.brief_text;
    if (!study.brief.references.empty())
      brief = brief::with_changes(brief,
                                  {{"references.folder", "\"../../" + std::string(search::references_folder) + "\""}});
    make_folder(folder / "conflict");
    make_folder(place);
    write_file(place / "brief.yaml",
               headed(comment("study " + study.summary.study + ", with " + gives_words(way)), brief));
    write_file(place / "layout.yaml",
               comment("study " + study.summary.study + ", layout " + way.id +
                       " of a search of the brief beside it, engine " + study.summary.engine_version) +
                   layout_yaml(layout, brief::notes_of(study.brief).layout));
  }
}

/// A layout's pages, tables and drawings. `which`: what its file calls it.
void write_layout(const search::StudyReport& study, const search::Sheet& sheet, const Standing& standing,
                  const std::string& which, const std::filesystem::path& place, TableForm tables) {
  const auto* gear = drawn_gear(sheet.layout, study.brief.targets);
  const std::string yaml =
      comment("study " + study.summary.study + ", " + which + ", engine " + study.summary.engine_version) +
      comment(
          "lengths in mm, angles in degrees; frame axes: origin at the bottom bracket, x "
          "forward, y up, topped out") +
      layout_yaml(sheet.whole(), brief::notes_of(study.brief).layout);
  make_folder(place);
  write_file(place / "layout.yaml", yaml);
  write_table(place / "curves.csv", curves_csv(sheet.motion.table), tables);
  write_table(place / "pivots.csv", pivots_csv(sheet, study.brief.inches_too), tables);
  write_table(place / "geometry.csv", geometry_csv(sheet), tables);
  for (const search::CaseSheet& one : sheet.cases)
    write_table(place / curves_file(one), curves_csv(one.curves), tables);
  if (!sheet.set_up.empty()) write_table(place / "set_up.csv", set_up_csv(sheet), tables);
  if (!sheet.loads.empty()) write_table(place / "loads.csv", loads_csv(sheet), tables);
  if (sheet.tolerance) write_table(place / "sensitivity.csv", sensitivity_csv(sheet, study.brief.targets), tables);
  if (!yield_words(sheet).empty()) {
    write_table(place / "tolerances.csv", tolerances_csv(sheet, study.brief.targets), tables);
    write_table(place / "bands.csv", bands_csv(sheet), tables);
  }
  write_file(place / "drawing_mm.dxf", drawing_dxf(sheet, gear));
  write_file(place / "drawing.svg", drawing_svg(sheet, gear));
  const std::vector<DraftingSheet> drawings = workshop_drawings(study, sheet, standing);
  const std::vector<std::string> names = workshop_names(sheet);
  for (std::size_t d = 0; d < drawings.size(); ++d) {
    write_file(place / (names[d] + ".svg"), drawings[d].svg(drawing_name(sheet)));
    write_file(place / (names[d] + "_mm.dxf"), drawings[d].dxf());
  }
  write_file(place / beside_file, beside_script(sheet, study.brief));
  write_page(place / "summary.html", summary_page(study, sheet, standing), study.brief);
  write_page(place / "index.html", layout_page(study, sheet, standing, yaml), study.brief);
}

/// The fronts: a table each, and its points' layouts.
void write_trade_offs(const search::StudyReport& study, const std::filesystem::path& folder, TableForm tables) {
  if (!study.trade_offs.empty()) make_folder(folder / "trade_offs");
  for (std::size_t t = 0; t < study.trade_offs.size(); ++t) {
    const auto& front = study.trade_offs[t];
    const auto place = folder / trade_off_folder(t);
    make_folder(place);
    clear_layouts(place);
    for (std::size_t i = 0; i < front.points.size(); ++i)
      write_layout(study, front.points[i].sheet, on_front(study, t, i),
                   "trade-off " + std::to_string(t + 1) + ", point " + std::to_string(i + 1),
                   place / trade_off_point_folder(i), tables);
    write_table(folder / (trade_off_folder(t) + ".csv"), trade_off_csv(study, front), tables);
  }
}

}  // namespace

void write_report(const search::StudyReport& study, const std::filesystem::path& folder, TableForm tables) {
  make_report_folder(folder);
  clear_layouts(folder / "layouts");
  std::error_code ignored;
  std::filesystem::remove(folder / "index.pdf", ignored);  // of an earlier report
  make_folder(folder / "layouts");
  make_folder(folder / "assets");
  write_file(folder / "assets" / "echarts.min.js", embedded::echarts());
  write_file(folder / "assets" / "LICENSE", embedded::echarts_licence());
  write_file(folder / "assets" / "LICENSE.zrender", embedded::zrender_licence());
  write_file(folder / "assets" / "LICENSE.d3", embedded::d3_licence());
  write_file(folder / "assets" / "NOTICE", embedded::echarts_notice());

  for (std::size_t i = 0; i < study.shortlist.size(); ++i) {
    const search::Sheet& sheet = study.shortlist[i];
    write_layout(study, sheet, shortlisted(study, i), "rank " + std::to_string(sheet.rank) + ", layout " + sheet.id,
                 folder / "layouts" / folder_of(sheet), tables);
  }
  write_ways_out(study, folder);
  write_linkages(study, folder, tables);
  write_trade_offs(study, folder, tables);
  clear_references(folder / "assets");
  for (std::size_t i = 0; i < study.references.layouts.size(); ++i)
    write_file(folder / reference_beside_file(i), beside_script(study.references.layouts[i].sheet, study.brief));
  write_table(folder / "shortlist.csv", shortlist_csv(study), tables);
  if (!study.references.layouts.empty()) write_table(folder / "references.csv", references_csv(study), tables);
  write_page(folder / "index.html", index_page(study), study.brief);  // last: whoever sees it finds what it links to
}

void write_comparison(const std::vector<search::Sheet>& sheets, const std::filesystem::path& folder,
                      const std::vector<std::string>& notes) {
  make_report_folder(folder);
  write_file(folder / "index.html", comparison_page(sheets, notes));
}

}  // namespace trammel::report
