// A layout made ready to be read at any place of its stroke.
#pragma once

#include "bike/sweep.hpp"

namespace trammel::test {

class Rider {
 public:
  explicit Rider(const bike::Layout& layout, int stations = 40)
      : model_(bike::make_model(layout)),
        sweep_(model_, stations),
        wanted_(bike::Wanted::everything(model_.circles.size())) {
    sweep_.march(model_.layout.mechanism.points, [](std::size_t, const linkage::State<double>&) {});
  }
  Rider(const Rider&) = delete;
  Rider& operator=(const Rider&) = delete;

  const bike::StationValues<double>& at(double s) { return sweep_.at(s, wanted_); }
  double curve(double s, bike::Curve c) { return at(s)[c]; }
  const bike::Model& model() const { return model_; }
  bike::Sweep<double>& sweep() { return sweep_; }
  double range() const { return model_.range(); }

 private:
  bike::Model model_;
  bike::Sweep<double> sweep_;
  bike::Wanted wanted_;
};

}  // namespace trammel::test
