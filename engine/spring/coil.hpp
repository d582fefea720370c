// A coil spring.
#pragma once

#include "math/number_types.hpp"

namespace trammel::spring {

/// A coil spring with preload. F(c) = k·(c + preload).
struct Coil {
  double rate = 0.0;     ///< k, N/mm, > 0
  double preload = 0.0;  ///< compression at full shock length, mm, ≥ 0

  /// Force in N along the shock at compression c (mm, 0 … stroke), positive in compression.
  template <class T>
  T force(const T& c) const {
    return (c + preload) * rate;
  }
  /// The rate in N/mm with which it has that force at c.
  template <class T>
  T rate_for(const T& force_there, const T& c) const {
    return force_there / math::max(c + preload, T(1e-9));
  }
  /// dF/dc in N/mm.
  template <class T>
  T stiffness(const T&) const {
    return T(rate);
  }
  /// ∫F dc from full length, N·mm.
  template <class T>
  T energy(const T& c) const {
    return c * (c * 0.5 + preload) * rate;
  }
};

}  // namespace trammel::spring
