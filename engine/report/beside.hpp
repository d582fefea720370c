// What a layout's page needs to show another one beside it.
#pragma once

#include <string>

#include "brief/brief.hpp"
#include "search/sheet.hpp"

namespace trammel::report {

/// Of a layout, in its folder.
inline constexpr const char* beside_file = "beside.js";
/// Of a reference, numbered from 0, seen from the study's folder.
std::string reference_beside_file(std::size_t number);

/// A script that hands a layout to a page that has asked for it (page/beside.js): its linkage at every station, its
/// travel and its curves.
std::string beside_script(const search::Sheet& sheet, const brief::Brief& brief);

}  // namespace trammel::report
