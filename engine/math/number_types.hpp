// All number types. To be included before any template that calls math::sqrt and its like by their full names: such a
// name is looked up where the template is written, not where it is used.
#pragma once

#include "math/dual.hpp"
#include "math/tape.hpp"
