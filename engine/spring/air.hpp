// An air spring: a positive chamber that is compressed and a negative one that grows and pulls the other way.
#pragma once

#include "math/number_types.hpp"

namespace trammel::spring {

inline constexpr double n_per_mm2 = 0.1;                        ///< 1 bar in N/mm²
inline constexpr double atmosphere = 1.01325 * n_per_mm2;       ///< standard atmosphere (ISO 2533), N/mm²
inline constexpr double mm3_per_cm3 = 1000.0;                   ///< 1 cm³ in mm³
inline constexpr double least_chamber = 0.02;                   ///< see Chamber::left
inline constexpr double isothermal = 1.0, adiabatic_air = 1.4;  ///< exponents of a slow and of a quick change

/// A closed volume of gas against a piston: p·Vⁿ is constant. Gas laws after Moran & Shapiro, Fundamentals of
/// Engineering Thermodynamics, ch. 3 (polytropic process; from memory).
struct Chamber {
  double volume = 0.0;    ///< at c = 0, mm³
  double area = 0.0;      ///< of the piston, mm²; negative when the chamber grows with c
  double pressure = 0.0;  ///< absolute, at c = 0, N/mm²

  /// Its volume at c over that at c = 0. What is compressed beyond all use stays finite: at 2 % of the volume, which no
  /// accepted brief reaches, it is taken to stop.
  template <class T>
  T left(const T& c) const {
    return math::max(c * (-area / volume) + 1.0, T(least_chamber));
  }
  /// Force on the shaft in N, the atmosphere's on the other side taken off: A·(p − p_atm).
  template <class T>
  T force(const T& c, double n) const {
    return (math::pow(T(1.0) / left(c), n) * pressure - atmosphere) * area;
  }
  /// n·p·A²/V, N/mm.
  template <class T>
  T stiffness(const T& c, double n) const {
    const T inverse = T(1.0) / left(c);
    return math::pow(inverse, n) * inverse * (n * pressure * area * area / volume);
  }
  /// Work done on it from c = 0, N·mm.
  template <class T>
  T energy(const T& c, double n) const {
    const T inverse = T(1.0) / left(c);
    const T gas = n == isothermal ? math::log(inverse) : (math::pow(inverse, n - 1.0) - 1.0) * (1.0 / (n - 1.0));
    return gas * (pressure * volume) - c * (atmosphere * area);
  }
};

/// Air spring of a shock. The pump sets the positive chamber topped out; the chambers have the same pressure where the
/// piston passes the transfer port, whatever the exponent.
struct Air {
  double bore = 0.0;      ///< diameter of the piston, mm, > 0
  double shaft = 0.0;     ///< diameter of the shaft through the negative chamber, mm, < bore
  double positive = 0.0;  ///< volume of the positive chamber topped out, without spacers, cm³, > 0
  double negative = 0.0;  ///< volume of the negative chamber topped out, cm³; 0 = there is none
  double transfer = 0.0;  ///< compression at which the chambers equalise, mm, ≥ 0
  double pressure = 0.0;  ///< gauge pressure of the positive chamber topped out, bar, > 0
  double spacer = 0.0;    ///< volume of one spacer, cm³
  int spacers = 0;        ///< how many lie in the positive chamber
  double exponent = 1.3;  ///< of a stroke, 1 … 1.4; set-up is isothermal

  Chamber positive_chamber() const {
    return {(positive - spacer * spacers) * mm3_per_cm3, disc(bore), pressure * n_per_mm2 + atmosphere};
  }
  /// Without a negative chamber its area is 0 and it does nothing.
  Chamber negative_chamber(double n) const {
    if (negative <= 0.0) return {1.0, 0.0, atmosphere};
    const Chamber plus = positive_chamber();
    Chamber minus{negative * mm3_per_cm3, -(disc(bore) - disc(shaft)), 0.0};
    const double common = plus.pressure * math::pow(1.0 / plus.left(transfer), n);
    minus.pressure = common * math::pow(minus.left(transfer), n);
    return minus;
  }

  /// Force in N at compression c (mm) for exponent n. Negative near the start when the negative chamber is stronger.
  template <class T>
  T force(const T& c, double n) const {
    return positive_chamber().force(c, n) + negative_chamber(n).force(c, n);
  }
  /// The pressure in bar with which it has that force at c, in which the force is linear: p0·(A⁺·r⁺ − A⁻·r⁻) less the
  /// atmosphere's share. Where the pressure changes nothing, a large number.
  template <class T>
  T pressure_for(const T& force_there, const T& c, double n) const {
    Air trial = *this;
    trial.pressure = 0.0;
    const T none = trial.force(c, n);
    trial.pressure = 1.0;
    const T per_bar = trial.force(c, n) - none;
    return (force_there - none) / math::select(math::abs(per_bar) < T(1e-9), T(1e-9), per_bar);
  }
  /// Force in N at c (mm) when pumped to so many bar.
  template <class T>
  T force_pumped_to(const T& bar, double c, double n) const {
    Air trial = *this;
    trial.pressure = 0.0;
    const double none = trial.force(c, n);
    trial.pressure = 1.0;
    return bar * (trial.force(c, n) - none) + none;
  }
  template <class T>
  T stiffness(const T& c, double n) const {
    return positive_chamber().stiffness(c, n) + negative_chamber(n).stiffness(c, n);
  }
  template <class T>
  T energy(const T& c, double n) const {
    return positive_chamber().energy(c, n) + negative_chamber(n).energy(c, n);
  }

 private:
  static double disc(double diameter) { return 0.25 * math::pi * diameter * diameter; }
};

}  // namespace trammel::spring
