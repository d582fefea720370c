// The linkages of a study side by side: on the first page, and as a table.
#pragma once

#include <string>

#include "report/html.hpp"
#include "search/sheet.hpp"

namespace trammel::report {

/// Folder of a linkage's best layout: "linkages/six_bar".
std::string linkage_folder(const search::LinkageSheet& linkage);

/// Which linkages can meet the brief, which cannot and why, and what each one costs.
Html linkages_section(const search::StudyReport& study);

/// One record a linkage: counts, its best layout, and what that achieves of each target.
std::string linkages_csv(const search::StudyReport& study);

}  // namespace trammel::report
