// Lengths in inches beside those in mm, for briefs that ask for both.
#pragma once

#include <string>
#include <string_view>

namespace trammel::report {

/// A length in mm as inches with their unit, such as "4.016 in": two decimals more than `decimals` of the mm, which is
/// the least that loses nothing.
std::string inches(double mm, int decimals);

/// Words in which every length in mm is followed by the same in inches: "10 to 12.5 mm (0.39 to 0.492 in)". What is
/// per mm, squared or without a number stays as it is.
std::string with_inches(std::string_view words);

/// The same in what a page shows; markup, scripts, styles and preformatted text stay.
std::string page_with_inches(std::string_view page);

}  // namespace trammel::report
