#include "bike/geometry.hpp"

#include "bike/sweep.hpp"
#include "bike/table.hpp"

namespace trammel::bike {
namespace {

class Chart {
 public:
  explicit Chart(const Layout& layout)
      : model_(make_model(layout)), sweep_(model_, 40), wanted_(Wanted::nothing(model_.circles.size())) {
    wanted_.angles = wanted_.head_tube = wanted_.chainstay = true;
    sweep_.march(model_.layout.mechanism.points, [](std::size_t, const linkage::State<double>&) {});
  }

  double whole() const { return sweep_.whole_travel(); }

  GeometryRow row(const std::string& place, double travel) {
    const StationValues<double>& v = sweep_.at(sweep_.driving_at(travel), wanted_);
    const Layout& l = model_.layout;
    GeometryRow out;
    out.place = place;
    out.travel = v[Curve::travel];
    out.fork = fork_compression(l.front, v[Curve::travel], fork_rate(l.front, whole()));
    out.head_angle = v[Curve::head_angle];
    out.bb_height = v[Curve::bb_height];
    out.wheelbase = v[Curve::wheelbase];
    out.chainstay = v[Curve::chainstay];
    if (l.seat_angle) out.seat_angle = v[Curve::seat_angle];
    if (l.front.head_tube) {
      out.reach = v[Curve::reach];
      out.stack = v[Curve::stack];
      out.trail = v[Curve::trail];
    }
    return out;
  }

 private:
  Model model_;
  Sweep<double> sweep_;
  Wanted wanted_;
};

}  // namespace

std::vector<GeometryRow> geometry_chart(const Layout& layout) {
  const double sag = sag_travel(layout);
  Chart chart(layout);
  std::vector<GeometryRow> rows{chart.row("topped out", 0.0), chart.row("at sag", sag)};
  if (layout.front.sag > 0.0 && layout.front.follows != ForkFollows::at_sag) {
    Layout seated = layout;
    seated.front.follows = ForkFollows::at_sag;
    rows.push_back(Chart(seated).row("rear at sag, fork at its sag", sag));
  }
  rows.push_back(chart.row("25 % of travel", 0.25 * chart.whole()));
  rows.push_back(chart.row("50 % of travel", 0.50 * chart.whole()));
  rows.push_back(chart.row("75 % of travel", 0.75 * chart.whole()));
  rows.push_back(chart.row("bottomed", chart.whole()));
  return rows;
}

}  // namespace trammel::bike
