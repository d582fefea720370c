// A target that is asked of one layout, as another can be judged by it.
#pragma once

#include <optional>

#include "bike/layout.hpp"
#include "objectives/target.hpp"

namespace trammel::objectives {

/// A target as a reference can be judged by it; nothing where the reference lacks what the target's curve needs.
/// Gears are matched by their teeth, where the study chooses the chainring by those of the cog; one that the reference
/// does not list is added to it, since its chain would run alike. Points are matched by their names. In which setting
/// or size the target holds is left out of account.
std::optional<Target> target_for(const Target& target, const bike::Layout& asked, bike::Layout& reference);

}  // namespace trammel::objectives
