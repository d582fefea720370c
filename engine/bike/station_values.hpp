// What is wanted of a position, and what comes of it.
#pragma once

#include <utility>
#include <vector>

#include "bike/curve.hpp"
#include "bike/model.hpp"
#include "linkage/statics.hpp"

namespace trammel::bike {

/// What the curves are counted from: the bike topped out.
template <class T>
struct ToppedOut {
  Vec2<T> axle;
  T chainstay{};
  T cg_height{};
  Vec2<T> cg;      ///< in frame axes
  Vec2<T> shock;   ///< from its first eye to its second
  Vec2<T> roller;  ///< of the slack run, where there is one
  std::vector<ChainRun<T>> runs;
};

/// Which curves are wanted. One that is not keeps its last value: a search computes what its targets need, no more.
struct Wanted {
  /// What of one gear.
  struct OfGear {
    bool growth = false;  ///< chain growth and kickback
    bool anti_squat = false;
    bool total = false;      ///< growth of both runs
    bool clearance = false;  ///< distance of the chain from the pivots
  };
  std::vector<OfGear> gears;
  std::vector<CurveKey> named;   ///< curves of linkage points, pivots and riders
  bool chainstay = false;        ///< and its growth
  bool chainstay_share = false;  ///< the growth in per cent
  bool motion_ratio = false;
  bool shock_line = false;  ///< its angle and rotation
  bool support = false;     ///< of the spring under the rider
  bool angles = false;      ///< pitch and head angle
  bool head_tube = false;   ///< reach, stack and trail
  bool centre = false;      ///< instant centre
  bool anti_rise = false;
  bool forces = false;  ///< spring and wheel force, wheel rate
  bool energy = false;  ///< of the spring

  static Wanted nothing(std::size_t gears);
  static Wanted everything(std::size_t gears);
  void add(const CurveKey& key);
};

/// The values of all curves at one position. Curves that the layout does not have stay zero.
template <class T>
struct StationValues {
  std::vector<T> plain = std::vector<T>(curve_count, T(0.0));
  std::vector<T> chain_growth, kickback, anti_squat, total_chain_growth, chain_clearance;  ///< one a gear
  std::vector<std::pair<CurveKey, T>> named;  ///< curves of linkage points and pivots
  linkage::Forces<T> forces;                  ///< room to work in
  T ic_bend{};  ///< turning of the axle's member per mm of axle path, rad/mm; 0 = instant centre at infinity

  T& operator[](Curve c) { return plain[static_cast<std::size_t>(c)]; }
  const T& operator[](Curve c) const { return plain[static_cast<std::size_t>(c)]; }
  const T& at(const CurveKey& key) const {
    const auto gear = static_cast<std::size_t>(key.gear);
    switch (key.curve) {
      case Curve::chain_growth:
        return chain_growth[gear];
      case Curve::kickback:
        return kickback[gear];
      case Curve::anti_squat:
        return anti_squat[gear];
      case Curve::total_chain_growth:
        return total_chain_growth[gear];
      case Curve::chain_clearance:
        return chain_clearance[gear];
      case Curve::point_x:
      case Curve::point_y:
      case Curve::point_distance:
      case Curve::pivot_force:
      case Curve::set_up_rate:
      case Curve::set_up_pressure:
      case Curve::set_up_bottom_force:
      case Curve::spring_support:
        for (const auto& [of, value] : named)
          if (of == key) return value;
        return (*this)[key.curve];
      default:
        return (*this)[key.curve];
    }
  }
  void resize(std::size_t gears) {
    chain_growth.assign(gears, T(0.0));
    kickback.assign(gears, T(0.0));
    anti_squat.assign(gears, T(0.0));
    total_chain_growth.assign(gears, T(0.0));
    chain_clearance.assign(gears, T(0.0));
  }
};

}  // namespace trammel::bike
