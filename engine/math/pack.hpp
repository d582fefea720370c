// Several numbers side by side: one operation works on all, as wide as the processor's registers are.
//
// Every lane gets exactly what a plain `double` would: + − × ÷ √ are rounded alike in every register width, and the
// build forbids fused products (-ffp-contract=off). A file compiled for a wider instruction set therefore gives the
// same digits, sooner.
#pragma once

#if defined(__SSE2__)
#include <immintrin.h>
#endif

#include <array>
#include <cstdint>
#include <cstring>

#include "math/number.hpp"

namespace trammel::math {

/// Doubles in the widest register that the file is compiled for.
#if defined(__AVX512F__)
inline constexpr int native_lanes = 8;
#elif defined(__AVX__)
inline constexpr int native_lanes = 4;
#else
inline constexpr int native_lanes = 2;
#endif

namespace detail {

template <int R>
struct Register {
  typedef double Doubles __attribute__((vector_size(R * sizeof(double))));
  typedef std::int64_t Bits __attribute__((vector_size(R * sizeof(double))));
};

/// The widest register, in lanes, that W numbers fill whole.
constexpr int register_lanes(int w) {
  int r = native_lanes;
  while (w % r != 0) r /= 2;
  return r;
}

template <class Doubles>
Doubles root(const Doubles& x) {
  if constexpr (sizeof(Doubles) == 16) {
#if defined(__SSE2__)
    return _mm_sqrt_pd(x);
#endif
  } else if constexpr (sizeof(Doubles) == 32) {
#if defined(__AVX__)
    return _mm256_sqrt_pd(x);
#endif
  } else {
#if defined(__AVX512F__)
    return _mm512_maskz_sqrt_pd(0xff, x);  // the plain one trips GCC 12's warnings on its own header
#endif
  }
  Doubles out;
  for (std::size_t i = 0; i < sizeof(Doubles) / sizeof(double); ++i) out[i] = std::sqrt(x[i]);
  return out;
}

}  // namespace detail

/// The lanes for which a comparison of packs holds.
template <int W>
struct Mask {
  static constexpr int width = detail::register_lanes(W);
  static constexpr int registers = W / width;
  using Bits = typename detail::Register<width>::Bits;
  Bits r[registers];

  Mask() = default;
  explicit Mask(bool everywhere) {
    for (int i = 0; i < registers; ++i) r[i] = Bits{} - (everywhere ? 1 : 0);
  }

  bool operator[](int lane) const { return r[lane / width][lane % width] != 0; }

  friend Mask operator&(const Mask& a, const Mask& b) {
    Mask out;
    for (int i = 0; i < registers; ++i) out.r[i] = a.r[i] & b.r[i];
    return out;
  }
  friend Mask operator|(const Mask& a, const Mask& b) {
    Mask out;
    for (int i = 0; i < registers; ++i) out.r[i] = a.r[i] | b.r[i];
    return out;
  }
  Mask operator!() const {
    Mask out;
    for (int i = 0; i < registers; ++i) out.r[i] = ~r[i];
    return out;
  }
};

template <int W>
bool any(const Mask<W>& m) {
  auto joined = m.r[0];
  for (int i = 1; i < Mask<W>::registers; ++i) joined |= m.r[i];
  std::int64_t out = 0;
  for (int i = 0; i < Mask<W>::width; ++i) out |= joined[i];
  return out != 0;
}
template <int W>
bool all(const Mask<W>& m) {
  return !any(!m);
}

/// W numbers, W even.
template <int W>
struct Pack {
  static_assert(W % 2 == 0);
  static constexpr int width = detail::register_lanes(W);
  static constexpr int registers = W / width;
  using Doubles = typename detail::Register<width>::Doubles;
  Doubles r[registers];

  Pack() = default;
  Pack(double x) {  // NOLINT(google-explicit-constructor): a constant is a number like any other
    for (int i = 0; i < registers; ++i) r[i] = x - Doubles{};  // a sum would lose the sign of −0
  }

  double operator[](int lane) const { return r[lane / width][lane % width]; }
  void set(int lane, double x) { r[lane / width][lane % width] = x; }

  Pack operator-() const {
    return each([&](int i) { return -r[i]; });
  }
  Pack& operator+=(const Pack& o) { return *this = *this + o; }
  Pack& operator-=(const Pack& o) { return *this = *this - o; }
  Pack& operator*=(const Pack& o) { return *this = *this * o; }

  friend Pack operator+(const Pack& a, const Pack& b) {
    return each([&](int i) { return a.r[i] + b.r[i]; });
  }
  friend Pack operator-(const Pack& a, const Pack& b) {
    return each([&](int i) { return a.r[i] - b.r[i]; });
  }
  friend Pack operator*(const Pack& a, const Pack& b) {
    return each([&](int i) { return a.r[i] * b.r[i]; });
  }
  friend Pack operator/(const Pack& a, const Pack& b) {
    return each([&](int i) { return a.r[i] / b.r[i]; });
  }

  friend Mask<W> operator<(const Pack& a, const Pack& b) {
    return holds([&](int i) { return a.r[i] < b.r[i]; });
  }
  friend Mask<W> operator>(const Pack& a, const Pack& b) { return b < a; }
  friend Mask<W> operator<=(const Pack& a, const Pack& b) {
    return holds([&](int i) { return a.r[i] <= b.r[i]; });
  }
  friend Mask<W> operator>=(const Pack& a, const Pack& b) { return b <= a; }

  template <class F>
  static Pack each(F f) {
    Pack out;
    for (int i = 0; i < registers; ++i) out.r[i] = f(i);
    return out;
  }

 private:
  template <class F>
  static Mask<W> holds(F f) {
    Mask<W> out;
    for (int i = 0; i < registers; ++i) out.r[i] = f(i);
    return out;
  }
};

/// Lane by lane from memory.
template <int W>
Pack<W> load(const double* numbers) {
  Pack<W> out;
  std::memcpy(&out, numbers, sizeof out);
  return out;
}
template <int W>
Pack<W> pack_of(const std::array<double, W>& numbers) {
  return load<W>(numbers.data());
}

/// The lanes in memory: getting at one through a register takes far longer.
template <int W>
double* numbers(Pack<W>& x) {
  return reinterpret_cast<double*>(&x);
}
template <int W>
const double* numbers(const Pack<W>& x) {
  return reinterpret_cast<const double*>(&x);
}

template <int W>
inline constexpr std::size_t lanes<Pack<W>> = W;
template <int W>
double lane(const Pack<W>& x, std::size_t i) {
  return x[static_cast<int>(i)];
}
template <int W>
bool lane(const Mask<W>& x, std::size_t i) {
  return x[static_cast<int>(i)];
}
template <int W>
void set_lane(Pack<W>& x, std::size_t i, double to) {
  x.set(static_cast<int>(i), to);
}

template <int W>
const Pack<W>& value(const Pack<W>& x) {
  return x;
}
template <int W>
Pack<W> sqrt(const Pack<W>& x) {
  return Pack<W>::each([&](int i) { return detail::root(x.r[i]); });
}
template <int W>
Pack<W> select(const Mask<W>& condition, const Pack<W>& yes, const Pack<W>& no) {
  return Pack<W>::each([&](int i) { return condition.r[i] ? yes.r[i] : no.r[i]; });
}
template <int W>
Pack<W> abs(const Pack<W>& x) {
  return select(x < Pack<W>(0.0), -x, x);
}

// Powers and logarithms are the C library's, lane by lane: the same as for a plain number, but not of another library.
template <int W>
Pack<W> pow(const Pack<W>& x, double power) {
  Pack<W> out;
  for (int lane = 0; lane < W; ++lane) out.set(lane, std::pow(x[lane], power));
  return out;
}
template <int W>
Pack<W> log(const Pack<W>& x) {
  Pack<W> out;
  for (int lane = 0; lane < W; ++lane) out.set(lane, std::log(x[lane]));
  return out;
}

/// Lane by lane, element `index` of something whose elements are numbers, or packs that are taken lane by lane too.
template <int W, class Element>
Pack<W> pick(const Pack<W>& index, Element element) {
  Pack<W> out;
  for (int lane = 0; lane < W; ++lane) {
    const auto& found = element(static_cast<std::size_t>(index[lane]));
    if constexpr (std::is_same_v<std::decay_t<decltype(found)>, double>)
      out.set(lane, found);
    else
      out.set(lane, found[lane]);
  }
  return out;
}

}  // namespace trammel::math
