// Compiled once for each instruction set, under the entry name that TRAMMEL_ENTRY gives. The build keeps every other
// name of the object to itself: a template that two sets share must not be merged by the linker.
#include "objectives/evaluator.hpp"
#include "bike/spread.hpp"
#include "objectives/room_search.hpp"
#include "objectives/slopes.hpp"

namespace trammel::objectives {
namespace {

constexpr int width = Block::lanes;

class WideEvaluator : public Evaluator {
 public:
  explicit WideEvaluator(const Demands& demands)
      : demands_(demands),
        screening_(demands),
        spread_(demands.model, march_intervals),
        slopes_(demands),
        room_(demands) {
    const std::span<const std::size_t> all(demands.places.alike);
    for (std::size_t first = 0; first < all.size(); first += width)
      places_.emplace_back(demands, all.subspan(first, std::min<std::size_t>(width, all.size() - first)));
    outcome_.resize(demands);
    wide_fit_.start(static_cast<std::size_t>(demands.model.program.margins()), demands.pairs.size(), 0);
  }

  void screen(const Block& block, const Emphasis& emphasis, double limit, std::span<Screened> out) override {
    screening_.screen(block, emphasis, limit, out);
  }

  const Outcome<double>& evaluate(const std::vector<math::Vec2<double>>& points) override {
    return move(points, false);
  }

  const Outcome<double>& judge(const std::vector<math::Vec2<double>>& points) override { return move(points, true); }

  void gradient(const bike::Tangents& tangents, const Emphasis& emphasis, std::span<double> out) override {
    slopes_.gradient(tangents, spread_, outcome_, emphasis, out);
  }

  void slopes(const bike::Tangents& tangents, std::span<const Quantity> quantities, std::span<double> rows) override {
    slopes_.rows(tangents, spread_, outcome_, quantities, rows);
  }

 private:
  using P = math::Pack<width>;

  /// Up to `width` places that are computed side by side, what is looked at in any of them, and where they are.
  struct Together {
    Together(const Demands& demands, std::span<const std::size_t> at)
        : places(at), wanted(bike::Wanted::nothing(demands.model.circles.size())) {
      for (const std::size_t k : places) {
        loci.push_back(demands.loci[k]);
        for (const Look& look : demands.places.looks[k])
          wanted.add(demands.places.curves[static_cast<std::size_t>(look.curve)]);
      }
    }
    std::span<const std::size_t> places;
    bike::Wanted wanted;
    std::vector<bike::Locus> loci;
  };

  const Outcome<double>& move(const std::vector<math::Vec2<double>>& points, bool judged) {
    outcome_.points = points;
    spread_.begin(points);
    wide_fit_.start(outcome_.fit.transmission.size(), outcome_.fit.distance2.size(), 0);
    room_.begin(points);
    spread_.march([&](std::size_t first, const linkage::State<P>& state) { watch_from(first, state); });
    gather_fit();
    room_.finish(spread_, judged, outcome_);
    std::copy(spread_.stations().travel.begin(), spread_.stations().travel.end(), outcome_.march_travel.begin());
    for (const Together& together : places_) compute(together);
    for (std::size_t t = 0; t < demands_.targets.size(); ++t) finish_measure(demands_, t, outcome_);
    return outcome_;
  }

  void watch_from(std::size_t first, const linkage::State<P>& state) {
    P station;
    for (std::size_t lane = 0; lane < width; ++lane)
      math::set_lane(station, lane, static_cast<double>(std::min(first + lane, spread_.stations().stations() - 1)));
    if (demands_.model.program.tears > 0) station = P(static_cast<double>(first));
    watch(demands_.model, demands_.pairs, station, state, wide_fit_);
    room_.watch(first, demands_.model.program.tears > 0 ? 1 : width, state);
  }

  /// The least of all lanes; the first station on a tie, as in a march of one station after another.
  static Least<double> least_of(const Least<P>& wide) {
    Least<double> out{wide.value[0], wide.station[0]};
    for (int lane = 1; lane < width; ++lane) {
      const double value = wide.value[lane], station = wide.station[lane];
      if (value < out.value || (value == out.value && station < out.station)) out = {value, station};
    }
    return out;
  }

  void gather_fit() {
    Fit<double>& fit = outcome_.fit;
    std::transform(wide_fit_.transmission.begin(), wide_fit_.transmission.end(), fit.transmission.begin(), least_of);
    std::transform(wide_fit_.distance2.begin(), wide_fit_.distance2.end(), fit.distance2.begin(), least_of);
    fit.slope = least_of(wide_fit_.slope);
  }

  void compute(const Together& together) {
    const P s = spread_.driving_at(together.loci);
    const bike::StationValues<P>& found = spread_.at(s, together.wanted);
    for (std::size_t lane = 0; lane < together.places.size(); ++lane) {
      outcome_.driving[together.places[lane]] = math::lane(s, lane);
      for (const Look& look : demands_.places.looks[together.places[lane]])
        note(
            demands_, look, [&](const bike::CurveKey& key) { return math::lane(found.at(key), lane); }, outcome_);
    }
  }

  const Demands& demands_;
  Screening<P> screening_;
  bike::Spread<width> spread_;
  Slopes<width> slopes_;
  RoomSearch<width> room_;
  Outcome<double> outcome_;
  Fit<P> wide_fit_;
  std::vector<Together> places_;
};

}  // namespace

/// The one name that other objects see.
std::unique_ptr<Evaluator> TRAMMEL_ENTRY(const Demands& demands);
std::unique_ptr<Evaluator> TRAMMEL_ENTRY(const Demands& demands) {
  return std::make_unique<WideEvaluator>(demands);
}

}  // namespace trammel::objectives
