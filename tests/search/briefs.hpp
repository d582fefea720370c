// Briefs for the search's tests: the one that ships, and small ones of the tests' own.
#pragma once

#include <stdexcept>
#include <string>

#include "brief/read.hpp"
#include "store/study_file.hpp"
#include "tests/support/tree.hpp"

namespace trammel::test {

inline brief::Brief brief_of(brief::Reading reading) {
  if (!reading.ok()) throw std::runtime_error(reading.message());
  return std::move(reading.brief);
}

/// The trail bike that ships: a four-bar with 11 variables.
inline brief::Brief trail_brief() {
  return brief_of(brief::read_file(test::in_tree("configs/trail-150.yaml")));
}

/// The same with less work in a unit: enough to find layouts that meet its musts, quick enough to run often.
inline brief::Brief quick_brief() {
  brief::Brief brief = trail_brief();
  brief.search.samples = 256;
  brief.search.refine = 2;
  brief.search.evaluations = 60;
  return brief;
}

/// The text of a brief for a four-bar whose rocker carries five points, its shock of its length as drawn: `vary` is
/// what may vary, a line a point; `axle` where the axle is drawn.
inline std::string rocker_text(const std::string& axle, const std::string& vary) {
  return R"(
trammel: 1
title: Rocker with five points
bike:
  wheels: { rear: { radius: 371 }, front: { radius: 371 } }
  front: { axle: [806, 30], head_angle: 64.8, travel: 160 }
  cg: { x: 20, height: 1120 }
linkage:
  points:
    main: [-8, 55]
    stay: [-392, 20]
    axle: )" +
         axle + R"(
    tail: [-140, 335]
    rocker: [-70, 305]
    knee: [0, 275]
    toe: [-60, 380]
    eye: [-45, 355]
    mount: [142, 221.1]
    idler: [-20, 130]
  members:
    frame: [main, rocker, mount, idler]
    chainstay: [main, stay]
    seatstay: [stay, axle, tail]
    rocker: [rocker, tail, eye, knee, toe]
  axle: { point: axle, member: seatstay }
shock: { between: [mount, eye], length: 230, stroke: 57.5 }
vary:
)" + vary +
         R"(
targets: [ { curve: travel, at: bottomed, floor: 120 } ]
)";
}

/// A six-bar whose every point is varied: 20 variables, more than one pass of partials carries.
inline brief::Brief wide_brief() {
  brief::Brief brief = brief_of(brief::read_text(R"(
trammel: 1
title: Six-bar with every point free
bike:
  wheels: { rear: { radius: 371 }, front: { radius: 371 } }
  front: { axle: [806, 30], head_angle: 64.8, travel: 160 }
  cg: { x: 20, height: 1120 }
drivetrain: { chainring: 32, gears: [18, 50] }
linkage:
  points:
    main: [-8, 55]
    stay: [-392, 20]
    axle: [-437, 30]
    tail: [-105, 345]
    rocker: [-45, 305]
    knee: [-10, 340]
    foot: [40, 260]
    pivot: [60, 190]
    eye: [80, 255]
    mount: [230, 170]
  members:
    frame: [main, rocker, pivot, mount]
    chainstay: [main, stay]
    seatstay: [stay, axle, tail]
    rocker: [rocker, tail, knee]
    rod: [knee, foot]
    bell: [pivot, foot, eye]
  axle: { point: axle, member: seatstay }
shock: { between: [mount, eye], length: 172.4, stroke: 40, spring: { coil: { rate: 80 } } }
vary:
  main: { x: [-14, -2], y: [49, 61] }
  stay: { x: [-398, -386], y: [14, 26] }
  axle: { x: [-443, -431], y: [24, 36] }
  tail: { x: [-111, -99], y: [339, 351] }
  rocker: { x: [-51, -39], y: [299, 311] }
  knee: { x: [-16, -4], y: [334, 346] }
  foot: { x: [34, 46], y: [254, 266] }
  pivot: { x: [54, 66], y: [184, 196] }
  eye: { from: pivot, length: [60, 76], angle: [60, 80] }
  mount: { from: eye, length: shock, angle: [-35, -25] }
targets:
  - { curve: travel, at: bottomed, band: [150, 152], must: true }
  - { curve: anti_squat, gear: 32x50, at: sag, band: [96, 98] }
  - { curve: kickback, gear: 32x18, at: { travel: 90 }, value: 4 }
  - { measure: progressivity, band: [0.1, 0.11] }
  - { curve: leverage, over: [0, 1], follow: [[0, 4], [1, 3]] }
  - { curve: anti_rise, over: [0.2, 0.9], ceiling: 50 }
  - { curve: wheel_rate, at: { fraction: 0.4 }, floor: 20 }
  - { curve: bb_height, at: bottomed, ceiling: 200 }
packaging: { least_pivot_distance: 60, least_transmission_angle: 40 }
)",
                                                 "wide.yaml"));
  // Both eyes free of each other, which a brief's reader refuses: the rule on the shock's length gets its slopes too.
  brief.vary.back().place = brief::Cartesian{{229.0, 231.0}, {169.0, 171.0}};
  return brief;
}

/// What a study of `brief` starts from.
inline store::StudyHead study_head(const brief::Brief& brief) {
  store::StudyHead head;
  head.engine_version = "test";
  head.brief_file = brief.file;
  head.brief_text = brief.text;
  head.brief_hash = "test";
  head.seed = brief.search.seed;
  return head;
}

}  // namespace trammel::test
