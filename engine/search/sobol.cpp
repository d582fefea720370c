#include "search/sobol.hpp"

#include <array>
#include <boost/random/sobol.hpp>
#include <stdexcept>
#include <string>

namespace trammel::search {

Sobol::Sobol(int dimension, std::optional<std::uint64_t> seed) {
  if (dimension < 1 || dimension > most_dimensions) {
    throw std::invalid_argument("a sample point has 1 to " + std::to_string(most_dimensions) + " numbers, asked for " +
                                std::to_string(dimension));
  }
  // The library starts one past the origin: its point j is ours j + 1. Ours number 2ʳ⁺¹ − 1 has the Gray code 2ʳ, so
  // it is the direction r itself.
  boost::random::sobol library(static_cast<std::size_t>(dimension));
  for (int r = 0; r < index_bits; ++r) {
    library.seed((std::uint64_t{2} << r) - 2);
    for (int k = 0; k < dimension; ++k) directions_.push_back(library());
  }
  for (int k = 0; k < dimension; ++k) {
    shift_.push_back(seed ? Stream(*seed, 0, Purpose::sobol_shift).bits(static_cast<std::uint32_t>(k)) : 0);
  }
}

void Sobol::bits_of(std::uint64_t index, std::span<std::uint64_t> bits) const {
  if (index >> index_bits != 0) throw std::out_of_range("sample " + std::to_string(index) + " is past the sequence");
  const std::uint64_t gray = index ^ (index >> 1);
  for (std::size_t k = 0; k < bits.size(); ++k) {
    bits[k] = shift_[k];
    const std::uint64_t* direction = &directions_[k];
    for (std::uint64_t rest = gray; rest != 0; rest >>= 1, direction += bits.size())
      if (rest & 1) bits[k] ^= *direction;
  }
}

void Sobol::point(std::uint64_t index, std::span<double> x) const {
  if (x.size() != shift_.size()) throw std::invalid_argument("a sample point has one number a dimension");
  std::array<std::uint64_t, most_dimensions> bits;
  const std::span<std::uint64_t> used(bits.data(), x.size());
  bits_of(index, used);
  for (std::size_t k = 0; k < x.size(); ++k) x[k] = unit_interval(used[k]);
}

}  // namespace trammel::search
