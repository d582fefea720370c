// Files that the program carries inside itself, so that it stays one file.
#pragma once

#include <string_view>

namespace trammel::report::embedded {

std::string_view echarts();          ///< the chart library, minified JavaScript
std::string_view echarts_licence();  ///< its licence …
std::string_view zrender_licence();  ///< … and those of what it contains
std::string_view d3_licence();
std::string_view echarts_notice();    ///< its notice, which must stay beside every copy
std::string_view style();             ///< the pages' style sheet
std::string_view index_script();      ///< the charts of index.html
std::string_view shortlist_script();  ///< sorting and choosing among its rows
std::string_view motion_script();     ///< the moving drawing of a layout's page

}  // namespace trammel::report::embedded
