#include "objectives/screen.hpp"

#include <cmath>

namespace trammel::objectives {
namespace {

bool at_an_end(const Station& s) {
  return s.kind == Station::Kind::topped_out || s.kind == Station::Kind::bottomed;
}

class Screening {
 public:
  Screening(Assessor<double>& a, const Emphasis& emphasis, double limit) : a_(a), emphasis_(emphasis), limit_(limit) {}

  Screened run(const std::vector<math::Vec2<double>>& points) {
    a_.begin(points);
    if (over(rules())) return {rules(), Stage::packaging, true};

    // Without blocks the last position needs none before it: most layouts end here.
    const std::size_t last = a_.sweep().stations().size() - 1;
    const bool jumps = a_.model().program.tears == 0;
    a_.stop_at(0);
    if (jumps) {
      a_.stop_at(last);
      if (!a_.assembles()) return {unassembled + rules(), Stage::end_of_stroke, false};
      compute(true);
      if (over(rules() + curves_)) return {rules() + curves_, Stage::end_of_stroke, true};
    }

    for (std::size_t i = 1; i < (jumps ? last : last + 1); ++i) a_.stop_at(i);
    if (!a_.assembles()) return {unassembled + rules(), Stage::stroke, false};
    if (!jumps) compute(true);
    if (over(rules() + curves_)) return {rules() + curves_, Stage::stroke, true};

    if (!compute(false)) return {rules() + curves_, Stage::curves, true};
    return {rules() + curves_, Stage::through, true};
  }

 private:
  bool over(double figure) const { return figure > limit_; }
  double rules() const { return a_.rules_figure() * emphasis_.must; }

  /// Computes the places at the ends of the stroke, or all others, and adds what they cost; false once over the limit.
  bool compute(bool ends) {
    const Places& places = a_.places();
    const double base = ends ? 0.0 : rules();
    for (std::size_t k = 0; k < places.stations.size(); ++k) {
      if (at_an_end(places.stations[k]) != ends) continue;
      a_.compute_place(k);
      for (std::size_t t = 0; t < a_.targets().size(); ++t) add_shares(t, k);
      if (!ends && over(base + curves_)) return false;
    }
    for (std::size_t t = 0; t < a_.targets().size(); ++t) {
      if (!a_.targets()[t].measure || only_ends(t) != ends) continue;
      a_.finish_measure(t);
      curves_ += a_.share(t, 0, emphasis_);
    }
    return ends || !over(base + curves_);
  }

  void add_shares(std::size_t t, std::size_t k) {
    if (a_.targets()[t].measure) return;
    const std::vector<std::size_t>& at = a_.places().targets[t].at;
    for (std::size_t i = 0; i < at.size(); ++i)
      if (at[i] == k) curves_ += a_.share(t, i, emphasis_);
  }

  bool only_ends(std::size_t t) const {
    const std::vector<std::size_t>& at = a_.places().targets[t].at;
    return std::all_of(at.begin(), at.end(), [&](std::size_t k) { return at_an_end(a_.places().stations[k]); });
  }

  Assessor<double>& a_;
  const Emphasis& emphasis_;
  double limit_;
  double curves_ = 0.0;
};

}  // namespace

Screened screen(Assessor<double>& assessor, const std::vector<math::Vec2<double>>& points, const Emphasis& emphasis,
                double limit) {
  const Screened screened = Screening(assessor, emphasis, limit).run(points);
  // Two points of a member on one spot can leave its curves without a number.
  if (!std::isfinite(screened.figure)) return {2.0 * unassembled, screened.stage, false};
  return screened;
}

}  // namespace trammel::objectives
