// Shock springs: force, stiffness and stored energy against compression, of whatever kind the spring is.
#pragma once

#include <optional>
#include <variant>

#include "spring/air.hpp"
#include "spring/coil.hpp"
#include "spring/table.hpp"

namespace trammel::spring {

/// A rubber stop at the end of the stroke, whose force grows with the square of its compression.
struct BumpStop {
  double length = 0.0;  ///< how much of the end of the stroke it takes, mm, > 0
  double force = 0.0;   ///< at the end of the stroke, N, > 0

  template <class T>
  T force_at(const T& c, double stroke) const {
    const T x = used(c, stroke);
    return x * x * force;
  }
  template <class T>
  T stiffness_at(const T& c, double stroke) const {
    return used(c, stroke) * (2.0 * force / length);
  }
  template <class T>
  T energy_at(const T& c, double stroke) const {
    const T x = used(c, stroke);
    return x * x * x * (force * length / 3.0);
  }

 private:
  template <class T>
  T used(const T& c, double stroke) const {
    return math::max(c - (stroke - length), T(0.0)) * (1.0 / length);
  }
};

/// How fast the spring is moved: a stroke keeps most of its heat, set-up loses it.
enum class Pace { stroke, set_up };

struct Spring {
  std::variant<Coil, Air, Table> kind = Coil{};
  std::optional<BumpStop> bump_stop;
  double breakaway = 0.0;  ///< seal friction that must be overcome in either direction, N, ≥ 0; in none of the figures
  double stroke = 0.0;     ///< the shock's, mm; where the bump stop ends

  Spring() = default;
  template <class Kind>
  requires std::is_constructible_v<std::variant<Coil, Air, Table>, Kind> Spring(Kind k)
      : kind(std::move(k)) {}  // NOLINT(google-explicit-constructor): a coil is a spring

  /// Force in N along the shock at compression c (mm, 0 … stroke), positive in compression, without friction.
  template <class T>
  T force(const T& c, Pace pace = Pace::stroke) const {
    const T own = std::visit(
        [&](const auto& k) {
          if constexpr (is_air<decltype(k)>)
            return k.force(c, exponent(k, pace));
          else
            return k.force(c);
        },
        kind);
    return bump_stop ? own + bump_stop->force_at(c, stroke) : own;
  }
  /// dF/dc in N/mm, exact.
  template <class T>
  T stiffness(const T& c, Pace pace = Pace::stroke) const {
    const T own = std::visit(
        [&](const auto& k) {
          if constexpr (is_air<decltype(k)>)
            return k.stiffness(c, exponent(k, pace));
          else
            return k.stiffness(c);
        },
        kind);
    return bump_stop ? own + bump_stop->stiffness_at(c, stroke) : own;
  }
  /// ∫F dc from full shock length, N·mm, exact.
  template <class T>
  T energy(const T& c, Pace pace = Pace::stroke) const {
    const T own = std::visit(
        [&](const auto& k) {
          if constexpr (is_air<decltype(k)>)
            return k.energy(c, exponent(k, pace));
          else
            return k.energy(c);
        },
        kind);
    return bump_stop ? own + bump_stop->energy_at(c, stroke) : own;
  }

 private:
  template <class K>
  static constexpr bool is_air = std::is_same_v<std::remove_cvref_t<K>, Air>;
  static double exponent(const Air& air, Pace pace) { return pace == Pace::set_up ? isothermal : air.exponent; }
};

}  // namespace trammel::spring
