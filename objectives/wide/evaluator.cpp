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
        room_(demands),
        wanted_(bike::Wanted::nothing(demands.model.circles.size())) {
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

 private:
  using P = math::Pack<width>;

  const Outcome<double>& move(const std::vector<math::Vec2<double>>& points, bool judged) {
    outcome_.points = points;
    spread_.begin(points);
    wide_fit_.start(outcome_.fit.transmission.size(), outcome_.fit.distance2.size(), 0);
    room_.begin(points);
    spread_.march([&](std::size_t first, const linkage::State<P>& state) { watch_from(first, state); });
    gather_fit();
    room_.finish(spread_, judged, outcome_);
    std::copy(spread_.stations().travel.begin(), spread_.stations().travel.end(), outcome_.march_travel.begin());
    const std::span<const std::size_t> places(demands_.places.alike);
    for (std::size_t first = 0; first < places.size(); first += width)
      compute_places(places.subspan(first, std::min<std::size_t>(width, places.size() - first)));
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

  /// Up to `width` places.
  void compute_places(std::span<const std::size_t> places) {
    wanted_.clear();
    for (std::size_t lane = 0; lane < width; ++lane) {
      const std::size_t k = places[std::min(lane, places.size() - 1)];
      loci_[lane] = demands_.loci[k];
      for (const Look& look : demands_.places.looks[k])
        wanted_.add(demands_.places.curves[static_cast<std::size_t>(look.curve)]);
    }
    const P s = spread_.driving_at(loci_);
    const bike::StationValues<P>& found = spread_.at(s, wanted_);
    for (std::size_t lane = 0; lane < places.size(); ++lane) {
      outcome_.driving[places[lane]] = math::lane(s, lane);
      for (const Look& look : demands_.places.looks[places[lane]])
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
  bike::Wanted wanted_;                    ///< at the places in hand
  std::array<bike::Locus, width> loci_{};  ///< of these
};

}  // namespace

/// The one name that other objects see.
std::unique_ptr<Evaluator> TRAMMEL_ENTRY(const Demands& demands);
std::unique_ptr<Evaluator> TRAMMEL_ENTRY(const Demands& demands) {
  return std::make_unique<WideEvaluator>(demands);
}

}  // namespace trammel::objectives
