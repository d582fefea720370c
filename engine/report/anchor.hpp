// Where a text's point lies on its base line.
#pragma once

namespace trammel::report {

enum class Anchor { start, middle, end };

}  // namespace trammel::report
