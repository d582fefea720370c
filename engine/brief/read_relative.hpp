// Targets that are told by what another layout has. The layout is looked at once, when the brief is read, and what it
// has is written into the brief's text, so that a study does not depend on its file.
#pragma once

#include <string_view>

#include "brief/parts.hpp"

namespace trammel::brief {

/// What `of` says for the brief's own layout.
inline constexpr std::string_view drawn_word = "drawn";

/// `of` and what goes with it, into `target.relative` and the kind of the wish; the rest of the target has been read.
void read_relative(const Node& node, const Brief& brief, objectives::Target& target, Problems& problems);

/// Fills in what the layouts have, and the wishes that come of it; after all else has been read. Files are read even
/// when the brief has problems, so that theirs are told as well.
void look_up_references(const Node& root, Brief& brief, Problems& problems);

/// Writes what was found into the brief's text, beside the files' names. The brief has no problems.
void keep_references(const Node& root, Brief& brief, Problems& problems);

}  // namespace trammel::brief
