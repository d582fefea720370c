// A reserve for errors: musts drawn in so far that a layout which meets them as drawn also meets them as built.
#pragma once

#include <memory>
#include <span>
#include <vector>

#include "search/setup.hpp"

namespace trammel::search {

/// What is demanded of one choice's layouts in each case, with the reserve taken off. Must stay where it is: the
/// demands point to the packaging.
struct Reserve {
  objectives::Packaging packaging;
  std::vector<objectives::Demands> demands;
};

/// Standard deviations z that every must is to keep clear of its limit for `musts` of them to hold together with
/// probability `yield`, by Boole's inequality: each is broken with probability (1 − yield)/musts at most.
double deviations_for(double yield, int musts);

/// The demands of the search, every must drawn in by z standard deviations of the value at each of its places, to first
/// order at the layout x, and by the floor of the must margin at least; rules likewise. No band is drawn in by more
/// than nine tenths of its depth. The brief has tolerances and a yield.
std::unique_ptr<Reserve> reserve_at(const Setup& setup, int choice, std::span<const double> x);

}  // namespace trammel::search
