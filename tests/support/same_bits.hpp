// Equal to the last bit.
#pragma once

#include <bit>
#include <cstdint>

#include "math/pack.hpp"

namespace trammel::test {

template <int W>
bool same_bits(const math::Pack<W>& a, const math::Pack<W>& b) {
  for (std::size_t i = 0; i < W; ++i)
    if (std::bit_cast<std::uint64_t>(math::lane(a, i)) != std::bit_cast<std::uint64_t>(math::lane(b, i))) return false;
  return true;
}

}  // namespace trammel::test
