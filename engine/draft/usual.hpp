// What is usual for a kind of bike and a size of wheel: what a draft takes where nothing else was said.
//
// Common practice, no source: habits of the trade, rounded. A good bike may differ in every one of them.
#pragma once

#include <array>
#include <optional>
#include <span>
#include <string>
#include <string_view>
#include <vector>

#include "bike/kind.hpp"
#include "brief/brief.hpp"
#include "objectives/packaging.hpp"

namespace trammel::draft {

using Limits = objectives::Interval;

/// A kind of bike. Lengths are those on 29-inch wheels; on smaller ones they shrink with the frame.
struct UsualKind {
  bike::Kind kind;
  std::string_view bike;                 ///< "trail bike"
  double travel;                         ///< at the rear wheel, mm
  std::string_view wheels;               ///< as the command line takes them
  std::string_view linkage;              ///< a shipped template
  double fork;                           ///< fork travel beyond the rear wheel's, mm
  double head_angle;                     ///< degrees
  double front_axle;                     ///< ahead of the bottom bracket, mm
  double chainstay;                      ///< mm
  double bb_height;                      ///< over what is usual for the wheels, mm
  double cg_x, cg_height;                ///< of rider and sprung mass, mm
  double rider, bike_mass;               ///< kg
  double rear_unsprung, front_unsprung;  ///< kg
  int chainring;                         ///< teeth
  std::array<int, 3> cogs;               ///< the lowest gear's first
  double sag;                            ///< of wheel travel
  Limits climbing;                       ///< anti-squat at sag in the lowest gear, %
  Limits support;                        ///< progressivity
  Limits braking;                        ///< anti-rise at sag, %
  double rearward;                       ///< least rearward movement of the axle at 0.3 of the travel, mm
  double pivot_distance;                 ///< least, mm
};
std::span<const UsualKind> usual_kinds();
const UsualKind& usual(bike::Kind kind);

/// A size of wheel as the trade names it, by the diameter in inches.
struct UsualWheel {
  std::string_view name;
  double bead_seat;    ///< ISO 5775, mm
  double tyre_height;  ///< mm
  double bb_height;    ///< of the bottom bracket over the ground, topped out, mm
  double frame;        ///< size of the frame and of the fork's and wheel's travel, 1 = on 29-inch wheels
  double rider;        ///< mass of the rider, 1 = grown up
  double radius() const { return bead_seat / 2.0 + tyre_height; }
};
std::span<const UsualWheel> usual_wheels();

struct Wheels {
  const UsualWheel* front = nullptr;
  const UsualWheel* rear = nullptr;
  std::string name() const;  ///< "29", or "29/27.5", the front one first
};

/// Travel of a kind on such wheels, in steps of 5 mm.
double usual_travel(const UsualKind& kind, const Wheels& wheels);
/// The shock size whose stroke suits a travel best, at a mean leverage of 2.7.
brief::ShockSize usual_shock(double travel);
/// Wheel travel that guidance calls usual for a kind, mm; nothing where it says none.
std::optional<Limits> guided_travel(bike::Kind kind);

/// What a template's point is, in a few words; empty for a name that no shipped template has.
std::string_view point_words(std::string_view point);

}  // namespace trammel::draft
