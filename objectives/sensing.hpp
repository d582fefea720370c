// How much the musts of a layout move with the coordinates of its points.
#pragma once

#include <cmath>

#include "objectives/slopes.hpp"

namespace trammel::objectives {

/// Per-task workspace; nothing is allocated after the first layout. `demands` must outlive it.
template <int W>
class Sensing {
 public:
  explicit Sensing(const Demands& demands) : demands_(&demands) {
    const std::size_t points = demands.model.layout.mechanism.points.size();
    coordinates_ = 2 * points;
    each_coordinate_.reset(coordinates_, points);
    for (std::size_t c = 0; c < coordinates_; ++c) each_coordinate_.at(c, c / 2, c % 2) = 1.0;
    // What is sound by default is far inside its limits as a rule, and kinks where its worst place changes.
    for (std::size_t t = 0; t < demands.targets.size(); ++t)
      if (demands.targets[t].must && demands.targets[t].origin == Origin::brief)
        for (std::size_t r = 0; r < demands.places.gatherings[t].results(); ++r)
          values_.push_back({Quantity::Kind::value, t, r});
    rows_.resize(values_.size() * coordinates_);
  }
  bool asked() const { return demands_->packaging.sensitivity.has_value(); }

  /// Of the layout that `outcome` tells of, which `plain` has marched through.
  Sensed of(Slopes<W>& slopes, bike::Spread<W>& plain, const Outcome<double>& outcome) {
    Sensed worst;
    if (values_.empty()) return worst;
    slopes.rows(each_coordinate_, plain, outcome, values_, rows_);
    for (std::size_t q = 0; q < values_.size(); ++q)
      for (std::size_t c = 0; c < coordinates_; ++c) {
        const double moved = std::abs(rows_[q * coordinates_ + c]) / demands_->targets[values_[q].index].tolerance;
        if (moved > worst.tolerances_per_mm) worst = {moved, values_[q].index, c};
      }
    return worst;
  }

 private:
  const Demands* demands_;
  std::size_t coordinates_ = 0;
  bike::Tangents each_coordinate_;
  std::vector<Quantity> values_;
  std::vector<double> rows_;
};

}  // namespace trammel::objectives
