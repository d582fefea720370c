// Small moving drawings on the study's page: of the layout that a link leads to, while it is pointed at.
#pragma once

#include "report/html.hpp"
#include "search/sheet.hpp"

namespace trammel::report {

/// The places of every shortlisted linkage at some stations of its motion, to a tenth of a millimetre, and the script
/// that shows them. Without scripts the links stay what they are.
Html previews(const search::StudyReport& study);

}  // namespace trammel::report
