// The written reference of the brief, made from the field table.
#pragma once

#include <string>

namespace trammel::brief {

/// A Markdown page: every key with type, unit, range, default and meaning, the sets of keys that go together, the
/// curves, and what is checked beyond the schema.
std::string reference();

}  // namespace trammel::brief
