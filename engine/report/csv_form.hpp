// How tables are written: with commas, or for spreadsheets that take the comma for the decimal sign.
#pragma once

#include <string>
#include <string_view>

namespace trammel::report {

enum class TableForm {
  commas,      ///< fields parted by commas, decimal points
  semicolons,  ///< fields parted by semicolons, decimal commas
};

/// A table in a form, of its text with commas (RFC 4180). Only fields that are numbers as a whole change.
std::string in_form(const std::string& csv, TableForm form);

/// Whether a field is a number as a whole.
bool is_number(std::string_view field);
/// A field in quotes where it must be, RFC 4180, section 2; also where it has what parts fields in another form.
std::string quoted(const std::string& field);

}  // namespace trammel::report
