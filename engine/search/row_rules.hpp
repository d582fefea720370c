// What a brief says of the rows of its study.
#pragma once

#include "search/setup.hpp"
#include "store/row_rules.hpp"

namespace trammel::search {

/// The rows that units of this setup leave, whatever they find.
store::RowRules row_rules(const Setup& setup);

}  // namespace trammel::search
