// Targets, places and conventions in words.
#pragma once

#include <string>
#include <vector>

#include "bike/layout.hpp"
#include "objectives/target.hpp"
#include "objectives/verdict.hpp"
#include "report/html.hpp"
#include "search/sheet.hpp"

namespace trammel::report {

/// What a drawing is called: its layout's title, with the id where that is not in it.
std::string drawing_name(const search::Sheet& sheet);

/// "Anti-squat 32x18", "Leverage ratio", "Progressivity".
std::string subject(const objectives::Target& target, const bike::Layout& layout);
std::string curve_title(bike::CurveKey key, const bike::Layout& layout);
/// "Anti-squat [%]"; the bare name for a ratio.
std::string with_unit(const std::string& name, std::string_view unit);
/// A number with its unit: "103.2 %", "2.61", "64.8°".
std::string quantity(double value, int decimals, std::string_view unit);

/// "at sag", "at 60 mm", "over 20–90 % of travel", "topped out to bottomed".
std::string place(const objectives::Target& target);
/// "98 to 108 %", "at most 22 mm", "at least 0.16", "2.5 ± 0.05", "path of 3 points ± 0.05".
std::string wish(const objectives::Target& target);
/// Where the wish of a target that another layout tells comes from: "20 more than shed/current.yaml's 81.3 %", "0.8
/// times the curve of the layout as drawn".
std::string told_by(const objectives::Target& target);
/// "103.2 %", or "111.0 % (3.0 over)" when the wish is not met, with enough digits to see the excess; with the
/// case that comes out worst, where there are several.
std::string outcome(const objectives::Target& target, const objectives::Verdict& verdict);

/// Every convention in force for a layout, one sentence each.
std::vector<std::string> conventions(const bike::Layout& layout);
/// The foot of every page: conventions and what the numbers do not say.
Html conventions_block(const bike::Layout& layout);
Html cautions_block();

}  // namespace trammel::report
