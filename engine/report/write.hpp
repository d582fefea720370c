// The writers' common door: a study report in, a folder out.
#pragma once

#include <filesystem>
#include <string>

#include "bike/table.hpp"
#include "report/csv_form.hpp"
#include "search/sheet.hpp"

namespace trammel::report {

/// Writes index.html, shortlist.csv, assets/ and layouts/NN/ (index.html, layout.yaml, curves.csv, pivots.csv,
/// geometry.csv, set_up.csv, loads.csv, sensitivity.csv, tolerances.csv, bands.csv, workshop.svg, workshop_mm.dxf,
/// drawing_mm.dxf, drawing.svg), and
/// conflict/NN/layout.yaml when nothing meets every must, and linkages.csv and linkages/NAME/ for a brief that names
/// linkages, into `folder`, which exists. What an earlier report left there is replaced; nothing else in the folder is
/// touched. Throws std::runtime_error naming the path when a file cannot be written.
void write_report(const search::StudyReport& study, const std::filesystem::path& folder,
                  TableForm tables = TableForm::commas);

/// The curves CSV (RFC 4180, CRLF, header with units, shortest digits that read back to the same double).
std::string curves_csv(const bike::CurveTable& table);
/// Its columns in the file's order: curves of the linkage, then each gear's, then the spring's.
std::vector<const bike::Column*> csv_columns(const bike::CurveTable& table);

/// A layout as the YAML that the brief's reader reads back to the same numbers.
std::string layout_yaml(const bike::Layout& layout, const std::string& notes = {});

/// Layouts side by side: one page with their drawings, curves overlaid, and a table of measures.
void write_comparison(const std::vector<search::Sheet>& sheets, const std::filesystem::path& folder,
                      const std::vector<std::string>& notes = {});

}  // namespace trammel::report
