// How an Assessor moves its layouts: by the kernel, in any number type, or in packs by the tapes of the motion.
#pragma once

#include "bike/compiled_motion.hpp"
#include "bike/sweep.hpp"
#include "objectives/outcome.hpp"

namespace trammel::objectives {

/// Per-task workspace; nothing is allocated after the first layout. `demands` must outlive it.
template <class T>
class KernelMotion {
 public:
  explicit KernelMotion(const Demands& demands) : demands_(&demands), sweep_(demands.model, march_intervals) {
    if (demands.room.measures() > 0) track_.resize(stations());
  }

  std::size_t stations() const { return sweep_.stations().stations(); }
  void begin(const std::vector<math::Vec2<T>>& points) { sweep_.begin(points); }
  /// See Sweep::stop_at for the order of the stations. Gives the wheel travel there.
  T stop_at(std::size_t i, Fit<T>& fit) {
    sweep_.stop_at(i, [&](std::size_t at, const linkage::State<T>& state) {
      watch(demands_->model, demands_->apart, math::Plain<T>(static_cast<double>(at)), state, fit);
      if (!track_.empty()) track_[at] = state.position;
    });
    return sweep_.stations().travel[i];
  }
  /// All points at a station that has been stopped at; where room is asked for.
  const std::vector<math::Vec2<T>>& positions_at(std::size_t i) { return track_[i]; }

  /// Computes the curves that are looked at in place k, and gives its driving coordinate.
  T stand_at(std::size_t k) {
    const T s = sweep_.driving_at(demands_->loci[k]);
    found_ = &sweep_.at(s, demands_->places.wanted[k]);
    return s;
  }
  T travel() const { return (*found_)[bike::Curve::travel]; }
  /// The i-th of Places::curves.
  T curve(int i) const { return found_->at(demands_->places.curves[static_cast<std::size_t>(i)]); }

 private:
  const Demands* demands_;
  bike::Sweep<T> sweep_;
  const bike::StationValues<T>* found_ = nullptr;
  std::vector<std::vector<math::Vec2<T>>> track_;  ///< positions at the stations, where room is asked for
};

/// The same for linkages that `bike::CompiledMotion` serves.
template <int W>
class TapeMotion {
 public:
  using P = math::Pack<W>;

  explicit TapeMotion(const Demands& demands)
      : demands_(&demands), motion_(demands.model, *demands.tapes), kernel_(demands.model, march_intervals) {
    samples_.resize(demands.model.program, march_intervals + 1);
  }

  std::size_t stations() const { return samples_.stations(); }
  void begin(const std::vector<math::Vec2<P>>& points) {
    points_ = &points;
    kernel_begun_ = false;
    motion_.begin(points);
  }
  P stop_at(std::size_t i, Fit<P>& fit) {
    motion_.stand(P(samples_.s[i]));
    watch(demands_->model, motion_, P(static_cast<double>(i)), fit);
    samples_.travel[i] = motion_.travel();
    samples_.slope[i] = motion_.slope();
    return samples_.travel[i];
  }
  const std::vector<math::Vec2<P>>& positions_at(std::size_t i) {
    if (!kernel_begun_) kernel_.begin(*points_);
    kernel_begun_ = true;
    kernel_.stop_at(i, [](std::size_t, const linkage::State<P>&) {});
    return kernel_.state().position;
  }

  P stand_at(std::size_t k) {
    const bike::Locus& locus = demands_->loci[k];
    const P s = locus.driving
                    ? P(locus.offset)
                    : bike::driving_at(samples_, P(samples_.travel.back() * P(locus.factor) + P(locus.offset)),
                                       [&](const P& at, const P&) { return motion_.rise(at); });
    motion_.place(s);
    return s;
  }
  P travel() const { return motion_.place_travel(); }
  P curve(int i) const { return motion_.curve(i); }

 private:
  const Demands* demands_;
  bike::CompiledMotion<W> motion_;
  bike::StrokeSamples<P> samples_;
  bike::Sweep<P> kernel_;  ///< for positions
  bool kernel_begun_ = false;
  const std::vector<math::Vec2<P>>* points_ = nullptr;
};

}  // namespace trammel::objectives
