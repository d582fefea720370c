// Compiling a mechanism that may be none.
#pragma once

#include <variant>

#include "linkage/program.hpp"

namespace trammel::linkage {

/// As `compile`, but hands back what is wrong instead of raising it.
std::variant<Program, CompileFailure> try_compile(const Mechanism& mechanism);

}  // namespace trammel::linkage
