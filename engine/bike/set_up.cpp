#include "bike/set_up.hpp"

#include <algorithm>
#include <cmath>
#include <limits>

#include "bike/sweep.hpp"
#include "bike/table.hpp"

namespace trammel::bike {
namespace {

constexpr int stations = 60;  // of the march, and of the search for the place of rest
constexpr int halvings = 50;  // of a station: to the last bits of a micrometre

class Fitting {
 public:
  explicit Fitting(const Layout& layout)
      : model_(make_model(layout)), sweep_(model_, stations), nothing_(Wanted::nothing(model_.circles.size())) {
    sweep_.march(model_.layout.mechanism.points, [](std::size_t, const linkage::State<double>&) {});
    const Sag& sag = layout.sag;
    wanted_at_ = sag.of == SagOf::shock ? sag.fraction * model_.range()
                                        : sweep_.driving_at(sag.fraction * sweep_.whole_travel());
  }

  double driving_at(double travel) { return sweep_.driving_at(travel); }

  /// Moments about the front contact of the sprung mass alone: each unsprung mass stands over its own contact.
  StaticLoad load(double s, double rider) {
    const Layout& l = model_.layout;
    const StationValues<double>& values = sweep_.at(s, nothing_);
    const auto p = index(l.axle.point);
    const Point axle = sweep_.state().position[p], velocity = sweep_.state().velocity[p];
    const double fork = fork_compression(l.front, values[Curve::travel], fork_rate(l.front, sweep_.whole_travel()));
    const Ground<double> ground = ground_at(model_, axle, fork);
    StaticLoad out;
    out.wheel = rest_load(*l.mass, rider, ground, sweep_.topped_out().cg);
    out.shock = out.wheel * dot(ground.normal, velocity);
    return out;
  }

  /// Where a spring comes to rest under a rider, `friction` helping it.
  double rest(const spring::Spring& spring, double rider, double friction) {
    const auto lifts = [&](double s) {
      return spring.force(s, spring::Pace::set_up) + friction >= load(s, rider).shock;
    };
    if (lifts(0.0)) return 0.0;
    for (int i = 1; i <= stations; ++i) {
      double held = model_.range() * i / stations, sinks = model_.range() * (i - 1) / stations;
      if (!lifts(held)) continue;
      for (int k = 0; k < halvings; ++k) {
        const double middle = 0.5 * (held + sinks);
        (lifts(middle) ? held : sinks) = middle;
      }
      return held;
    }
    return model_.range();
  }

  double sag_at(double s) {
    if (model_.layout.sag.of == SagOf::shock) return s / model_.range();
    return sweep_.at(s, nothing_)[Curve::travel] / sweep_.whole_travel();
  }

  SetUpRow row(double rider) {
    const Layout& l = model_.layout;
    SetUpRow out;
    out.rider = rider;
    out.load = load(wanted_at_, rider);
    spring::Spring spring = *l.shock->spring;
    const std::optional<double> landing = l.loads.landing_of(rider, *l.mass);
    if (auto* coil = std::get_if<spring::Coil>(&spring.kind)) {
      choose_coil(*coil, spring, out);
    } else if (auto* air = std::get_if<spring::Air>(&spring.kind)) {
      choose_air(*air, spring, landing, out);
    }
    const double at = rest(spring, rider, 0.0);
    out.sag = sag_at(at);
    out.sag_off = out.sag - l.sag.fraction;
    out.least_sag = sag_at(rest(spring, rider, spring.breakaway));
    out.greatest_sag = sag_at(rest(spring, rider, -spring.breakaway));
    out.fits = std::abs(out.sag_off) <= l.set_up.sag_tolerance;
    out.bottom_force = bottom_force(spring);
    out.energy_to_bottom = 1e-3 * (spring.energy(model_.range()) - spring.energy(at));
    if (landing) out.bottom_margin = 100.0 * (out.bottom_force / *landing - 1.0);
    return out;
  }

 private:
  static std::size_t index(int i) { return static_cast<std::size_t>(i); }

  double bottom_force(const spring::Spring& spring) {
    sweep_.at(model_.range(), nothing_);
    return spring.force(model_.range()) / sweep_.state().velocity[index(model_.layout.axle.point)].y;
  }

  /// What the bump stop carries at the wanted sag does not come from the spring itself.
  double own_share(const spring::Spring& spring, const SetUpRow& row) const {
    return row.load.shock - (spring.bump_stop ? spring.bump_stop->force_at(wanted_at_, spring.stroke) : 0.0);
  }

  void choose_coil(spring::Coil& coil, const spring::Spring& spring, SetUpRow& out) {
    out.wanted = coil.rate_for(own_share(spring, out), wanted_at_);
    coil.rate = out.wanted;
    double nearest = std::numeric_limits<double>::infinity();
    for (const double rate : model_.layout.set_up.coil_rates) {
      spring::Spring trial = spring;
      std::get<spring::Coil>(trial.kind).rate = rate;
      const double off = std::abs(sag_at(rest(trial, out.rider, 0.0)) - model_.layout.sag.fraction);
      if (off >= nearest) continue;
      nearest = off;
      out.offered = rate;
    }
    if (out.offered) coil.rate = *out.offered;
  }

  void choose_air(spring::Air& air, const spring::Spring& spring, const std::optional<double>& landing, SetUpRow& out) {
    const SetUpRange& range = model_.layout.set_up;
    const int most = std::max(range.most_spacers, air.spacers);
    const int fewest = range.most_spacers > 0 ? 0 : air.spacers;
    const double own = own_share(spring, out);
    for (air.spacers = fewest;; ++air.spacers) {
      out.wanted = air.pressure_for(own, wanted_at_, spring::isothermal);
      if (range.pressures) out.offered = std::clamp(out.wanted, range.pressures->first, range.pressures->second);
      air.pressure = out.offered.value_or(out.wanted);
      if (!landing || air.spacers == most || bottom_force(spring) >= *landing) break;
    }
    out.spacers = air.spacers;
  }

  Model model_;
  Sweep<double> sweep_;
  Wanted nothing_;
  double wanted_at_ = 0.0;
};

}  // namespace

std::vector<SetUpRow> set_up(const Layout& layout) {
  std::vector<SetUpRow> rows;
  if (!layout.shock || !layout.shock->spring || !layout.mass) return rows;
  trace(layout, 2, false);  // refuses a layout that stops on its way
  Fitting fitting(layout);
  std::vector<double> riders = layout.set_up.riders;
  if (riders.empty()) riders.push_back(layout.mass->rider);
  for (const double rider : riders) rows.push_back(fitting.row(rider));
  return rows;
}

StaticLoad static_load(const Layout& layout, double rider, double travel) {
  Fitting fitting(layout);
  return fitting.load(fitting.driving_at(travel), rider);
}

}  // namespace trammel::bike
