// The written reference of the brief, made from the field table.
#pragma once

#include <string>

namespace trammel::brief {

/// A Markdown page: every key with type, unit, range, default and meaning, the sets of keys that go together, the
/// curves and measures, and what is checked beyond the schema.
std::string reference();

/// A Markdown page: what is usual, by kind of bike.
std::string guidance();

}  // namespace trammel::brief
