// What a fuzzer's bytes say: decisions and numbers, taken from them in turn.
#pragma once

#include <cstddef>
#include <cstdint>
#include <cstring>
#include <string>

namespace trammel::test {

class Bytes {
 public:
  Bytes(const std::uint8_t* data, std::size_t size) : data_(data), left_(size) {}

  bool empty() const { return left_ == 0; }
  /// The next byte; 0 once there are none.
  std::uint8_t byte() {
    if (left_ == 0) return 0;
    --left_;
    return *data_++;
  }
  /// One of 0 … n − 1; n > 0.
  std::size_t below(std::size_t n) { return byte() % n; }
  bool flip() { return byte() % 2 != 0; }
  /// In [lo, hi], in steps of 1/65535 of that.
  double number(double lo, double hi) {
    const unsigned high = byte(), low = byte();
    return lo + (hi - lo) * static_cast<double>(256 * high + low) / 65535.0;
  }
  /// All that is left.
  std::string rest() {
    std::string text(reinterpret_cast<const char*>(data_), left_);
    left_ = 0;
    return text;
  }

  /// As a source of random numbers, for code that takes one.
  using result_type = std::uint32_t;
  static constexpr result_type min() { return 0; }
  static constexpr result_type max() { return 0xFFFFFFFF; }
  result_type operator()() {
    result_type out = 0;
    for (int i = 0; i < 4; ++i) out = out << 8 | byte();
    return out;
  }

 private:
  const std::uint8_t* data_;
  std::size_t left_;
};

/// Ends the program: what must hold does not.
inline void demand(bool holds) {
  if (!holds) __builtin_trap();
}

}  // namespace trammel::test
