// From all committed units to the study as its reader wants it.
#pragma once

#include "search/effort.hpp"
#include "search/picker.hpp"
#include "search/setup.hpp"
#include "search/sheet.hpp"
#include "store/study_file.hpp"

namespace trammel::search {

/// Ids of the shortlist that units 0 … `past` − 1 of a study make, best first; ordered by yield, of the layouts that it
/// is taken from.
std::vector<std::string> shortlist_ids(const Setup& setup, const store::StudyFile& file, std::int64_t past);

/// The whole report of a study, from its file, but for references. Takes little memory, however many layouts the file
/// holds, and the same for any number of threads. Throws Stopped.
StudyReport make_report(const Setup& setup, const store::StudyFile& file, const std::string& study_name,
                        const Effort& effort = {});

}  // namespace trammel::search
