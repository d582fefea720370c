// Random numbers by address: the i-th number of a stream is a function of (seed, unit, purpose, i) and of nothing else.
//
// No state is shared or carried along, so work units give the same numbers on any thread and in any order. The
// generator is Philox4x32-10: Salmon, Moraes, Dror & Shaw, "Parallel random numbers: as easy as 1, 2, 3", Proc. SC'11
// (ACM, 2011), sec. 3.3 and fig. 4.
#pragma once

#include <array>
#include <cstdint>

namespace trammel::search {

/// What a stream is for. Two uses of randomness never share a stream.
enum class Purpose : std::uint32_t {
  sobol_shift = 1,  ///< the digital shift of the sampling sequence
  optimiser = 2,    ///< seeds of the optimiser's own generator, one a start
  built_frame = 3,  ///< errors of a built frame; its "unit" is the frame's number
};

/// One block of Philox4x32-10: a bijection of the counter for each key.
constexpr std::array<std::uint32_t, 4> philox(std::array<std::uint32_t, 4> counter, std::array<std::uint32_t, 2> key) {
  for (int round = 0; round < 10; ++round) {
    const std::uint64_t a = std::uint64_t{0xD2511F53} * counter[0];
    const std::uint64_t b = std::uint64_t{0xCD9E8D57} * counter[2];
    counter = {static_cast<std::uint32_t>(b >> 32) ^ counter[1] ^ key[0], static_cast<std::uint32_t>(b),
               static_cast<std::uint32_t>(a >> 32) ^ counter[3] ^ key[1], static_cast<std::uint32_t>(a)};
    key = {key[0] + 0x9E3779B9U, key[1] + 0xBB67AE85U};
  }
  return counter;
}

/// The top 53 of 64 random bits as a number in [0, 1).
constexpr double unit_interval(std::uint64_t bits) {
  return static_cast<double>(bits >> 11) * 0x1p-53;
}

/// The stream of (seed, unit, purpose).
class Stream {
 public:
  constexpr Stream(std::uint64_t seed, std::uint64_t unit, Purpose purpose)
      : seed_(seed), unit_(unit), purpose_(purpose) {}

  /// 64 random bits, number `index` of the stream.
  constexpr std::uint64_t bits(std::uint32_t index) const {
    const std::array<std::uint32_t, 4> block =
        philox({index, static_cast<std::uint32_t>(purpose_), low(unit_), high(unit_)}, {low(seed_), high(seed_)});
    return (std::uint64_t{block[1]} << 32) | block[0];
  }
  /// Uniform in [0, 1), number `index` of the stream; made from the same bits.
  constexpr double uniform(std::uint32_t index) const { return unit_interval(bits(index)); }

 private:
  static constexpr std::uint32_t low(std::uint64_t x) { return static_cast<std::uint32_t>(x); }
  static constexpr std::uint32_t high(std::uint64_t x) { return static_cast<std::uint32_t>(x >> 32); }

  std::uint64_t seed_;
  std::uint64_t unit_;
  Purpose purpose_;
};

}  // namespace trammel::search
