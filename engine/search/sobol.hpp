// Evenly spread sample points, addressed by index.
//
// The Sobol sequence with the direction numbers of Joe & Kuo, "Constructing Sobol sequences with better
// two-dimensional projections", SIAM J. Sci. Comput. 30 (2008), in Gray-code order, the origin first, so that every
// aligned block of 2ᵏ points is a net. A digital shift moves it by the seed without loss of evenness: Lemieux, Monte
// Carlo and Quasi-Monte Carlo Sampling (Springer, 2009), sec. 6.2 (from memory).
#pragma once

#include <cstdint>
#include <optional>
#include <span>
#include <vector>

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

 private:
  std::vector<std::uint64_t> directions_;  // index_bits rows of one number a dimension
  std::vector<std::uint64_t> shift_;
};

}  // namespace trammel::search
