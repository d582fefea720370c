// Evenly spread sample points, addressed by index.
//
// The Sobol sequence with the direction numbers of Joe & Kuo, "Constructing Sobol sequences with better
// two-dimensional projections", SIAM J. Sci. Comput. 30 (2008), in Gray-code order, the origin first, so that every
// aligned block of 2ᵏ points is a net. A digital shift moves it by the seed without loss of evenness: Lemieux, Monte
// Carlo and Quasi-Monte Carlo Sampling (Springer, 2009), sec. 6.2 (from memory).
#pragma once

#include <bit>
#include <cstdint>
#include <optional>
#include <span>
#include <vector>

#include "search/stream.hpp"

namespace trammel::search {

class Sobol {
 public:
  static constexpr int most_dimensions = 64;
  static constexpr int index_bits = 40;  ///< the sequence has 2⁴⁰ points

  /// `seed` sets the shift of each dimension; without one the sequence is not shifted.
  /// Throws std::invalid_argument unless 1 ≤ dimension ≤ 64.
  explicit Sobol(int dimension, std::optional<std::uint64_t> seed = {});

  int dimension() const { return static_cast<int>(shift_.size()); }

  /// Writes point `index` (< 2⁴⁰, else std::out_of_range) into `x`, one number in [0, 1) a dimension. Reads only, so
  /// that threads may share a sequence.
  void point(std::uint64_t index, std::span<double> x) const;

  /// Hands the points first … first + n − 1 to take(i, x), i from 0 on: in this order each differs from the last by one
  /// direction. `bits` and `x` are room to work in, one number a dimension.
  template <class Take>
  void points(std::uint64_t first, std::uint64_t n, std::vector<std::uint64_t>& bits, std::vector<double>& x,
              Take take) const {
    bits.resize(shift_.size());
    x.resize(shift_.size());
    bits_of(first, bits);
    for (std::uint64_t i = 0; i < n; ++i) {
      if (i > 0) {
        const auto changed = static_cast<std::size_t>(std::countr_zero(first + i));
        for (std::size_t k = 0; k < bits.size(); ++k) bits[k] ^= directions_[changed * bits.size() + k];
      }
      for (std::size_t k = 0; k < bits.size(); ++k) x[k] = unit_interval(bits[k]);
      take(i, static_cast<const std::vector<double>&>(x));
    }
  }

 private:
  void bits_of(std::uint64_t index, std::span<std::uint64_t> bits) const;

  std::vector<std::uint64_t> directions_;  // index_bits rows of one number a dimension
  std::vector<std::uint64_t> shift_;
};

}  // namespace trammel::search
