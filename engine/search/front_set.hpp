// Fronts as sets of points: who is outdone, how much of their box they cover, how evenly they lie. Figures are to be
// small.
#pragma once

#include <vector>

namespace trammel::search {

struct FrontPoint {
  std::vector<double> x;
  std::vector<double> figures;
};

/// How evenly points lie: distances of neighbours in the box that the front spans. Neighbours are next to each other in
/// the first figure when there are two figures; with three each point's nearest other counts.
struct Spread {
  double least = 0.0;
  double mean = 0.0;
  double most = 0.0;
  double deviation = 0.0;  ///< standard deviation
};

struct Front {
  std::vector<FrontPoint> points;    ///< none outdoes another; by the figures in order
  std::vector<double> ideal, worst;  ///< of each figure over the front
  double hypervolume = 0.0;          ///< share of the box that the points outdo
  Spread spread;                     ///< zeros for fewer than two points
  int evaluations = 0;               ///< spent on finding it
};

/// Those that no other outdoes (as good in all figures and better in one); of equal ones the first. Sorted by figures.
std::vector<FrontPoint> undominated(std::vector<FrontPoint> points);

/// Those of a front that are worth telling apart: of neighbours closer than `least` one goes, unless that leaves a gap
/// wider than `most` where there was none. The best in each figure stay. Distances are taken in figures over their
/// `scale`, all above 0. `points` as `undominated` gives them, and so the outcome.
std::vector<FrontPoint> thinned(std::vector<FrontPoint> points, const std::vector<double>& scale, double least,
                                double most);

/// The exact area (two figures) or volume (three) that is no better than some point and no worse than `reference`.
/// Points beyond the reference add nothing. Swept along the last figure.
double hypervolume(const std::vector<FrontPoint>& points, const std::vector<double>& reference);

/// Completes a front from its points: those not outdone, corners, hypervolume and spread.
Front front_of(std::vector<FrontPoint> points);

}  // namespace trammel::search
