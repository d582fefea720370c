// The tests are written for Catch2's version 2. Where version 3 is installed, this stands in for the one header of
// version 2: it includes what the tests use and gives it the older names.
#pragma once

#include <catch2/catch_approx.hpp>
#include <catch2/catch_template_test_macros.hpp>
#include <catch2/catch_test_macros.hpp>
#include <catch2/generators/catch_generators_all.hpp>
#include <catch2/matchers/catch_matchers.hpp>
#include <catch2/matchers/catch_matchers_string.hpp>
#include <string>

using Catch::Approx;

namespace Catch::Detail {
using Catch::Approx;
}  // namespace Catch::Detail

namespace Catch::Matchers {

/// Version 3 has given this name to a matcher for elements of a range.
inline StringContainsMatcher Contains(const std::string& part) {
  return ContainsSubstring(part);
}

}  // namespace Catch::Matchers
