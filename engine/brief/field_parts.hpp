// Parts of the field table that stand in files of their own.
#pragma once

#include <vector>

#include "brief/fields.hpp"

namespace trammel::brief {

/// What stands under `shock.spring`.
void add_spring(std::vector<Field>& table);
/// `linkage.picture`.
void add_picture(std::vector<Field>& table);
/// `set_up` and `loads`.
void add_loads(std::vector<Field>& table);
/// `settings` and `sizes`.
void add_cases(std::vector<Field>& table);
/// `tolerances`.
void add_tolerances(std::vector<Field>& table);
/// `linkages`, what they are built to, and `templates`.
void add_linkages(std::vector<Field>& table);
/// Members, sliders, axle and brake under `path`.
void add_members(std::vector<Field>& table, const std::string& path);
/// What stands under `packaging` about bodies, regions and lengths, and which of its keys go together.
void add_room(std::vector<Field>& table);
void add_room_choices(std::vector<Choice>& all);
/// A wheel at `path`, by its radius or by rim and tyre.
void add_wheel(std::vector<Field>& table, const std::string& path, const std::string& meaning, bool required);
/// The keys under `path` that say where the front axle is.
void add_front_place(std::vector<Field>& table, const std::string& path);

}  // namespace trammel::brief
