// A chart on paper: axes with round numbers, curves, and what is wished of them.
#pragma once

#include <optional>
#include <string>
#include <vector>

#include "report/labels.hpp"
#include "report/svg_canvas.hpp"

namespace trammel::report {

struct Span {
  double lo = 0.0;
  double hi = 0.0;
  double size() const { return hi - lo; }
  /// Grows to hold x.
  void hold(double x);
  /// Empty until the first `hold`.
  static Span empty();
  bool is_empty() const { return lo > hi; }
};

/// Round numbers (1, 2 or 5 times a power of ten apart) within the span, about `wanted` of them; the decimals they
/// need.
struct Ticks {
  std::vector<double> at;
  int decimals = 0;
};
Ticks ticks(Span span, int wanted);

struct PlotFrame {
  std::string name;  ///< unique within the page, letters and hyphens
  std::string title;
  std::string x_label;  ///< with its unit
  std::string y_label;
  Span x;
  Span y;                    ///< of everything that must be seen; the plot adds air
  bool equal_scale = false;  ///< a mm along x as long as a mm along y
  bool over_travel = false;  ///< x is wheel travel in mm
  /// Numbers of the curves' columns in the layout's table of curves, for a page's script that draws them anew.
  std::vector<int> columns = {};
};

class Plot {
 public:
  explicit Plot(PlotFrame frame);

  /// A curve with a gap wherever x or y is absent. With a name it gets an entry in the legend.
  void curve(const std::string& name, const std::vector<std::optional<double>>& x,
             const std::vector<std::optional<double>>& y, const Pen& pen);
  /// A dash-dotted line across the plot, with words at its top.
  void upright(double x, const std::string& words);
  /// A shaded stretch between two lines y = lo and y = hi.
  void band(Span x, Span y);
  /// The room between two curves, shaded like a curve's pen: where most of the built frames are.
  void spread(const std::vector<double>& x, const std::vector<double>& low, const std::vector<double>& high,
              const Pen& pen);
  /// Where the middle four fifths of other bikes run, between two broken lines.
  void others(const std::vector<double>& x, const std::vector<double>& low, const std::vector<double>& high,
              const Pen& pen);
  /// Capped bar at one place.
  void bar(double x, Span y);
  /// A limit over a stretch, hatched on the side that is forbidden.
  void limit(Span x, double y, bool forbidden_above);
  /// One that changes along it.
  void limit(const std::vector<std::pair<double, double>>& points, bool forbidden_above);
  /// A path with a tolerance to both sides.
  void path(const std::vector<std::pair<double, double>>& points, double tolerance);
  /// Where a wish was judged: a dot when met, a cross when not.
  void verdict(double x, double y, bool met);
  /// A small ring; its words are placed by `figure`, clear of the curves and of each other. It leads to `address`,
  /// unless that is empty.
  void station(double x, double y, const std::string& words, const std::string& address = {});

  /// The figure with title and legend.
  Html figure(const std::string& note = {}) const;

 private:
  Spot at(double x, double y) const;
  /// A line from a to b, hatched on one side.
  void hatched(Spot a, Spot b, bool forbidden_above);
  void axes();

  PlotFrame frame_;
  SvgCanvas canvas_;
  Span x_, y_;  ///< what the plot's area shows
  std::vector<std::pair<std::string, Pen>> legend_;
  std::vector<std::pair<std::string, Spot>> stations_;
  std::vector<Crossing> lines_;  ///< of the curves, for the words to keep clear of
  int curves_ = 0;
  bool wishes_ = false, spreads_ = false, others_ = false, limits_ = false, met_ = false, unmet_ = false;
};

}  // namespace trammel::report
