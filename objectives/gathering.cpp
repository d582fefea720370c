#include "objectives/gathering.hpp"

#include "math/number.hpp"

namespace trammel::objectives {
namespace {

/// Simpson's rule over 0 … 1; the number of places is odd.
std::vector<double> mean_weights(std::size_t places) {
  const double third = 1.0 / (3.0 * static_cast<double>(places - 1));
  std::vector<double> weights(places, third);
  for (std::size_t i = 1; i + 1 < places; ++i) weights[i] = third * (i % 2 == 1 ? 4.0 : 2.0);
  return weights;
}

/// Least squares by polynomials that are orthogonal over the places (Hildebrand, Introduction to Numerical Analysis,
/// ch. 7, from memory): Σ p·y / Σ p², p = u − ½ for the slope, p = (u − ½)² − its mean for the parabola's leading term.
std::vector<double> fit_weights(std::size_t places, bool parabola) {
  std::vector<double> p(places);
  double mean = 0.0;
  for (std::size_t i = 0; i < places; ++i) {
    const double u = static_cast<double>(i) / static_cast<double>(places - 1) - 0.5;
    p[i] = parabola ? u * u : u;
    mean += p[i] / static_cast<double>(places);
  }
  double squares = 0.0;
  for (double& x : p) {
    if (parabola) x -= mean;
    squares += x * x;
  }
  // The second derivative is twice the leading term.
  for (double& x : p) x *= (parabola ? 2.0 : 1.0) / squares;
  return p;
}

/// A gap of one of the curve's tolerances counts as a hundredth of the travel.
constexpr double tolerances_in_a_travel = 100.0;

/// A slope that makes one of the curve's tolerances in so many mm counts as none: 0.005 per mm of the leverage.
constexpr double tolerance_of_slope = 6.0;

}  // namespace

Gathering make_gathering(const Target& target, std::size_t places) {
  Gathering g;
  g.places = places;
  g.curves = std::max<std::size_t>(1, target.gears.size());
  if (!target.measure) return g;
  const MeasureRecord& r = record(*target.measure);
  g.kind = r.reduction;
  switch (r.reduction) {
    case Reduction::mean:
      g.weights = mean_weights(places);
      break;
    case Reduction::slope:
    case Reduction::straightness:
      g.weights = fit_weights(places, false);
      g.extent = r.reduction == Reduction::slope;
      break;
    case Reduction::curvature:
      g.weights = fit_weights(places, true);
      g.extent = true;
      break;
    case Reduction::crossing:
      g.level = target.crosses;
      g.gap_scale = tolerances_in_a_travel * bike::record(target.curve.curve).tolerance;
      g.in_mm = r.unit == MeasureUnit::mm;
      g.extent = g.in_mm;
      break;
    case Reduction::end_slope:
      g.level = bike::record(target.curve.curve).tolerance / tolerance_of_slope;
      g.extent = true;
      break;
    case Reduction::bottom_margin:
    case Reduction::spacers:
      g.curves = curves_of(target).size();
      break;
    case Reduction::path:
      g.path = target.path;
      g.curves = 2;
      break;
    default:
      break;
  }
  return g;
}

}  // namespace trammel::objectives
