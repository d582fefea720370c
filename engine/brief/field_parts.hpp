// Parts of the field table that stand in files of their own.
#pragma once

#include <string>
#include <vector>

#include "brief/fields.hpp"

namespace trammel::brief {

// Limits that many fields share.

inline constexpr Limits coordinate{-3000.0, 3000.0};  ///< mm, in frame axes
inline constexpr Limits distance{0.0, 3000.0, true};  ///< mm
inline constexpr Limits part{0.0, 1.0};               ///< of a whole
inline constexpr Limits above_zero{0.0, 1e6, true};
inline constexpr Limits teeth{6.0, 120.0};
constexpr Limits up_to(double most, double least = 0.0) {
  return {least, most};
}

/// `targets`, and which of its keys go together.
void add_targets(std::vector<Field>& table);
void add_target_choices(std::vector<Choice>& all);
/// `search`.
void add_search(std::vector<Field>& table);
/// `sound`.
void add_sound(std::vector<Field>& table);
/// `references`.
void add_references(std::vector<Field>& table);
/// The keys of an idler, under `path`.
void add_idler(std::vector<Field>& table, const std::string& path);
/// What stands under a spring at `path`.
void add_spring(std::vector<Field>& table, const std::string& path);
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
/// Bodies and their clearances under `path`.
void add_bodies(std::vector<Field>& table, const std::string& path);
void add_room_choices(std::vector<Choice>& all);
/// A wheel at `path`, by its radius or by rim and tyre.
void add_wheel(std::vector<Field>& table, const std::string& path, const std::string& meaning, bool required);
/// The keys under `path` that say where the front axle is.
void add_front_place(std::vector<Field>& table, const std::string& path);

}  // namespace trammel::brief
