// What can be said of a brief before it is searched: demands that cannot be met whatever is tried, and demands and
// ranges that have nothing to do with each other.
#pragma once

#include <string>
#include <vector>

#include "search/setup.hpp"

namespace trammel::search {

/// Reasons why no layout can meet every must, a sentence each; empty when none is found, which proves nothing. Each
/// holds for the demands as written, over the whole of every range: bands on one curve that exclude each other at a
/// common place (leverage and motion ratio count as one), values that a curve has by definition, bounds of points by
/// interval arithmetic over their ranges, boxes that a point's range never enters, pivots that can never be far enough
/// apart, and travel against the least and greatest leverage (travel is the mean leverage times the stroke). A brief
/// with settings and sizes is looked at case by case; of one that moves points, only for what has nothing to do with
/// where they lie.
std::vector<std::string> proven_conflicts(const brief::Brief& brief);

/// What trying layouts shows. Not a proof: the sentences say how many were tried.
struct Probe {
  int samples = 0;                     ///< layouts placed over the ranges, all choices in turn
  int assembled = 0;                   ///< of these, those that assemble through the whole stroke
  std::vector<std::string> sentences;  ///< nothing assembles; a demand that no variable moves; a range without effect
};

/// Places samples of the study's own sequence until every variable has moved something and every demand has been moved,
/// or `wanted` assemble, at most `most`; at each that does, every variable is moved alone. Deterministic.
Probe probe(const Setup& setup, int wanted = 32, int most = 8192);

}  // namespace trammel::search
