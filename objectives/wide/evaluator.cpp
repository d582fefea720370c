// Compiled once for each instruction set, under the entry name that TRAMMEL_ENTRY gives. The build keeps every other
// name of the object to itself: a template that two sets share must not be merged by the linker.
#include "objectives/evaluator.hpp"
#include "bike/spread.hpp"
#include "objectives/room_search.hpp"
#include "objectives/sensing.hpp"

namespace trammel::objectives {
namespace {

constexpr int width = Block::lanes;

/// Up to `width` places that are computed side by side, what is looked at in any of them, where they are, and where in
/// the outcome it goes.
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
  struct Note {
    std::size_t lane;
    int curve;
    double* value;
    double* travel;  ///< null when another look notes it
  };
  std::vector<Note> notes;
};

/// `Motion` moves the layouts of a screening; with tapes one layout is moved by them too.
template <class Motion>
class WideEvaluator : public Evaluator {
 public:
  explicit WideEvaluator(const Demands& demands)
      : demands_(demands),
        screening_(demands),
        spread_(demands.model, march_intervals),
        sensing_(demands),
        room_(demands) {
    if (demands.tapes) slopes_.emplace(demands);
    if constexpr (by_tape) {
      motion_.emplace(demands.model, *demands.tapes);
      samples_.resize(demands.model.program, march_intervals + 1);
      points_.resize(demands.model.layout.mechanism.points.size());
    }
    const std::span<const std::size_t> all(demands.places.alike);
    for (std::size_t first = 0; first < all.size(); first += width)
      places_.emplace_back(demands, all.subspan(first, std::min<std::size_t>(width, all.size() - first)));
    outcome_.resize(demands);
    for (Together& together : places_) plan_notes(together);
    driving_.resize(places_.size());
    wide_fit_.start(demands.model.joints(), demands.apart.size(), 0);
  }

  void screen(const Block& block, const Emphasis& emphasis, double limit, std::span<Screened> out) override {
    screening_.screen(block, emphasis, limit, out);
  }

  const Outcome<double>& evaluate(const std::vector<math::Vec2<double>>& points) override {
    return move(points, RoomWanted::nearby());
  }

  const Outcome<double>& judge(const std::vector<math::Vec2<double>>& points, RoomDetail detail) override {
    move(points, detail == RoomDetail::exact ? RoomWanted::exact() : RoomWanted::decisive());
    if (slopes_ && sensing_.asked()) outcome_.sensitivity = sensing_.of(*slopes_, spread_, outcome_);
    return outcome_;
  }

  void gradient(const bike::Tangents& tangents, const Emphasis& emphasis, std::span<double> out) override {
    slopes_.value().gradient(tangents, spread_, outcome_, emphasis, out);
  }

  void slopes(const bike::Tangents& tangents, std::span<const Quantity> quantities, std::span<double> rows) override {
    slopes_.value().rows(tangents, spread_, outcome_, quantities, rows);
  }

 private:
  using P = math::Pack<width>;

  static constexpr bool by_tape = !std::is_same_v<Motion, KernelMotion<P>>;

  const Outcome<double>& move(const std::vector<math::Vec2<double>>& points, const RoomWanted& room) {
    outcome_.points = points;
    wide_fit_.start(outcome_.fit.transmission.size(), outcome_.fit.distance2.size(), 0);
    if constexpr (by_tape)
      move_by_tapes(points);
    else
      spread_.begin(points);
    if (!by_tape || room_.asked()) move_by_kernel(points);
    gather_fit();
    room_.finish(spread_, room, outcome_);
    const std::vector<double>& travel = by_tape ? samples_.travel : spread_.stations().travel;
    std::copy(travel.begin(), travel.end(), outcome_.march_travel.begin());
    compute_places();
    for (std::size_t t = 0; t < demands_.targets.size(); ++t) finish_measure(demands_, t, outcome_);
    return outcome_;
  }

  /// Moves the layout by its tapes.
  void move_by_tapes(const std::vector<math::Vec2<double>>& points) {
    for (std::size_t p = 0; p < points.size(); ++p) points_[p] = {P(points[p].x), P(points[p].y)};
    motion_->begin(points_);
    const std::size_t n = samples_.stations();
    for (std::size_t first = 0; first < n; first += width) {
      std::array<double, width> s{}, station{};
      for (std::size_t lane = 0; lane < width; ++lane) {
        const std::size_t i = std::min(first + lane, n - 1);
        s[lane] = samples_.s[i];
        station[lane] = static_cast<double>(i);
      }
      motion_->stand(math::pack_of<width>(s));
      watch(demands_.model, *motion_, math::pack_of<width>(station), wide_fit_);
      for (std::size_t lane = 0; lane < std::min<std::size_t>(width, n - first); ++lane) {
        samples_.travel[first + lane] = math::lane(motion_->travel(), lane);
        samples_.slope[first + lane] = math::lane(motion_->slope(), lane);
      }
    }
  }

  /// Moves it by the kernel, for all or for the room between bodies alone.
  void move_by_kernel(const std::vector<math::Vec2<double>>& points) {
    if constexpr (by_tape) spread_.begin(points);
    room_.begin(points);
    const bool blocks = demands_.model.program.tears > 0;
    spread_.march([&](std::size_t first, const linkage::State<P>& state) {
      if constexpr (!by_tape) watch_from(first, state);
      room_.watch(first, blocks ? 1 : width, state);
    });
  }

  void watch_from(std::size_t first, const linkage::State<P>& state) {
    P station;
    for (std::size_t lane = 0; lane < width; ++lane)
      math::set_lane(station, lane, static_cast<double>(std::min(first + lane, spread_.stations().stations() - 1)));
    if (demands_.model.program.tears > 0) station = P(static_cast<double>(first));
    watch(demands_.model, demands_.apart, station, state, wide_fit_);
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

  void compute_places() {
    if constexpr (by_tape) {
      for (std::size_t i = 0; i < places_.size(); ++i)
        driving_[i] = driving_at_places<width>(samples_, places_[i].loci,
                                               [&](const P& at, const P&) { return motion_->rise(at); });
      motion_->places(driving_, [&](std::size_t i) {
        note(places_[i], driving_[i], motion_->place_travel(), [&](int c) -> const P& { return motion_->curve(c); });
      });
      return;
    }
    for (const Together& together : places_) {
      const P s = spread_.driving_at(together.loci);
      const bike::StationValues<P>& found = spread_.at(s, together.wanted);
      note(together, s, found[bike::Curve::travel],
           [&](int curve) -> const P& { return found.at(demands_.places.curves[static_cast<std::size_t>(curve)]); });
    }
  }

  template <class CurveOf>
  void note(const Together& together, const P& s, const P& travel, CurveOf curve_of) {
    for (std::size_t lane = 0; lane < together.places.size(); ++lane)
      outcome_.driving[together.places[lane]] = math::lane(s, lane);
    for (const Together::Note& n : together.notes) {
      *n.value = math::lane(curve_of(n.curve), n.lane);
      if (n.travel != nullptr) *n.travel = math::lane(travel, n.lane);
    }
  }

  void plan_notes(Together& together) {
    for (std::size_t lane = 0; lane < together.places.size(); ++lane)
      for (const Look& look : demands_.places.looks[together.places[lane]])
        together.notes.push_back(
            {lane, look.curve, seen_by(demands_, look, outcome_), travel_of(demands_, look, outcome_)});
  }

  const Demands& demands_;
  Screening<P, Motion> screening_;
  std::optional<bike::CompiledMotion<width>> motion_;
  bike::StrokeSamples<double> samples_;  ///< by tapes
  bike::Spread<width> spread_;
  std::optional<Slopes<width>> slopes_;  ///< of demands with tapes
  Sensing<width> sensing_;
  RoomSearch<width> room_;
  Outcome<double> outcome_;
  Fit<P> wide_fit_;
  std::vector<math::Vec2<P>> points_;
  std::vector<Together> places_;
  std::vector<P> driving_;  ///< where they are, by tapes
};

}  // namespace

/// The one name that other objects see.
std::unique_ptr<Evaluator> TRAMMEL_ENTRY(const Demands& demands);
std::unique_ptr<Evaluator> TRAMMEL_ENTRY(const Demands& demands) {
  if (demands.tapes && bike::CompiledMotion<width>::serves(demands.model))
    return std::make_unique<WideEvaluator<TapeMotion<width>>>(demands);
  return std::make_unique<WideEvaluator<KernelMotion<math::Pack<width>>>>(demands);
}

}  // namespace trammel::objectives
