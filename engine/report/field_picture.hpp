// Where in the brief's ranges layouts lie that meet every requirement.
#pragma once

#include "report/html.hpp"
#include "search/sheet.hpp"

namespace trammel::report {

/// For each linkage of the shortlist a side view with the places that its points have in the study's marks; empty where
/// nothing is shortlisted.
Html field_pictures(const search::StudyReport& study);

}  // namespace trammel::report
