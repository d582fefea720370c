// A number that counts what is done with it.
#pragma once

#include <cmath>
#include <cstdint>

namespace trammel::bench {

struct Operations {
  std::int64_t sums = 0, products = 0, divisions = 0, roots = 0;  ///< + and −, ×, ÷, √
};

struct Counted {
  static inline Operations count;  ///< of all numbers since it was last set

  double value = 0.0;
  Counted() = default;
  Counted(double x) : value(x) {}

  friend Counted operator+(const Counted& a, const Counted& b) { return ++count.sums, a.value + b.value; }
  friend Counted operator-(const Counted& a, const Counted& b) { return ++count.sums, a.value - b.value; }
  friend Counted operator*(const Counted& a, const Counted& b) { return ++count.products, a.value * b.value; }
  friend Counted operator/(const Counted& a, const Counted& b) { return ++count.divisions, a.value / b.value; }
  friend bool operator<(const Counted& a, const Counted& b) { return a.value < b.value; }
  friend Counted sqrt(const Counted& x) { return ++count.roots, std::sqrt(x.value); }
};

}  // namespace trammel::bench
