// The fronts of a study: plot, table and figures on the first page, and a CSV file each.
#pragma once

#include <string>

#include "report/html.hpp"
#include "search/sheet.hpp"

namespace trammel::report {

/// "climbing against calm pedals, feet".
std::string trade_off_name(const search::StudyReport& study, const search::TradeOffSheet& sheet);
/// Folder of a trade-off's layouts, numbered from 0: "trade_offs/1"; its table is the same with ".csv".
std::string trade_off_folder(std::size_t number);
/// Folder of a point of it, from 0, below that: "01".
std::string trade_off_point_folder(std::size_t point);

/// All trade-offs; empty when the brief asks for none.
Html trade_offs(const search::StudyReport& study);

/// Point, each group's figure in tolerances, each target's achieved value, each varied value.
std::string trade_off_csv(const search::StudyReport& study, const search::TradeOffSheet& sheet);

}  // namespace trammel::report
