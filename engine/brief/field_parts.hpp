// Parts of the field table that stand in files of their own.
#pragma once

#include <vector>

#include "brief/fields.hpp"

namespace trammel::brief {

/// What stands under `shock.spring`.
void add_spring(std::vector<Field>& table);
/// `set_up` and `loads`.
void add_loads(std::vector<Field>& table);

}  // namespace trammel::brief
