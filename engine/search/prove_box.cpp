#include "search/prove_motion.hpp"

#include <algorithm>
#include <cmath>

#include "bike/cases.hpp"
#include "objectives/outcome.hpp"
#include "search/prove_box.hpp"

namespace trammel::search {
namespace {

using math::Interval;
using objectives::Allowed;
using objectives::Demands;
using objectives::Gathering;
using objectives::Reduction;
using objectives::Target;

/// What of a miss a verdict lets pass: what a search asks for beyond a rule's limit.
template <class Rule>
double passed(const Demands&) {
  using namespace objectives::rules;
  if constexpr (std::is_same_v<Rule, Lengths>) return Lengths::inset / Lengths::scale;
  if constexpr (std::is_same_v<Rule, ShockLength>) return 0.5;
  if constexpr (std::is_same_v<Rule, ChainRuns>) return ChainRuns::least / ChainRuns::scale;
  return 0.0;
}

/// Rows of more than this are left out: rounding in them could be more than what is given away.
constexpr double most_in_row = 1e6;

template <int N>
class Judge : public BoxJudge {
 public:
  using T = math::TaylorForm<N>;

  Judge(const Setup& setup, int choice, const Demands& demands, const std::vector<std::size_t>& numbers)
      : setup_(&setup),
        choice_(choice),
        demands_(&demands),
        variables_(static_cast<std::size_t>(setup.design.size())),
        motion_(demands, curves_wanted(demands)),
        x_(variables_) {
    musts_.push_back({Must::Kind::assembles, 0});
    for (std::size_t r = 0; r < objectives::rule_count; ++r) musts_.push_back({Must::Kind::rule, r});
    for (std::size_t t = 0; t < demands.targets.size(); ++t) {
      must_of_.push_back(musts_.size());
      musts_.push_back({Must::Kind::target, numbers[t]});
      if (required(demands.targets[t])) order_.push_back(t);
      seen_.emplace_back(demands.places.gatherings[t].seen());
      looks_of_.emplace_back();
    }
    for (std::size_t k = 0; k < demands.places.looks.size(); ++k)
      for (const objectives::Look& look : demands.places.looks[k])
        if (required(demands.targets[look.target])) looks_of_[look.target].push_back({k, look.index, look.curve});
    // Few places first, and of those the ones whose driving coordinate is known.
    std::stable_sort(order_.begin(), order_.end(),
                     [&](std::size_t a, std::size_t b) { return looks_of_[a].size() < looks_of_[b].size(); });
    values_.resize(demands.places.stations.size());
  }

  const std::vector<Must>& musts() const override { return musts_; }

  int judge(const VariableBox& box, bool closely, ProofRows& rows) override {
    closely_ = closely;
    rows_ = &rows;
    rows.clear();
    rows.variables = variables_;
    broken_ = -1;
    place(box);
    drawn();
    if (broken_ < 0) stroke();
    if (broken_ < 0) targets();
    return broken_;
  }

 private:
  struct Seeing {
    std::size_t place, index;
    int curve;
  };

  /// Without a close look: every so manieth station, and targets with so many places.
  static constexpr std::size_t coarse_step = 6, few_looks = 3;

  static bool required(const Target& target) { return target.must && !target.between; }

  /// In each place, the curves that required targets look at.
  static std::vector<std::vector<int>> curves_wanted(const Demands& demands) {
    std::vector<std::vector<int>> out(demands.places.looks.size());
    for (std::size_t k = 0; k < out.size(); ++k) {
      for (const objectives::Look& look : demands.places.looks[k])
        if (required(demands.targets[look.target])) out[k].push_back(look.curve);
      std::sort(out[k].begin(), out[k].end());
      out[k].erase(std::unique(out[k].begin(), out[k].end()), out[k].end());
    }
    return out;
  }

  /// Demands that something is at most 0, in tolerances.
  void demand(std::size_t must, const T& miss) {
    if (broken_ >= 0) return;
    const Interval& range = miss.range();
    if (range.hi <= 0.0) return;
    if (range.lo > proof_slack) {
      broken_ = static_cast<int>(must);
      return;
    }
    double slopes = 0.0;
    for (std::size_t i = 0; i < variables_; ++i) slopes += std::abs(miss.slope(static_cast<int>(i)));
    const double b = miss.mid() + miss.beyond_linear().lo - std::abs(miss.slope(N - 1)) - proof_slack;
    if (slopes == 0.0 || !(slopes < most_in_row) || !(std::abs(b) < most_in_row)) return;
    rows_->rows.push_back({must, b});
    for (std::size_t i = 0; i < variables_; ++i) rows_->slopes.push_back(miss.slope(static_cast<int>(i)));
  }

  void place(const VariableBox& box) {
    for (std::size_t i = 0; i < variables_; ++i) x_[i] = T::variable(box[i], static_cast<int>(i));
    setup_->design.place<T>(x_, choice_, points_);
    // A layout's points lie on a grid of a thousandth of a millimetre.
    constexpr double rounded = 0.000501;
    for (const Design::Placing& placing : setup_->design.placings()) {
      math::Vec2<T>& p = points_[static_cast<std::size_t>(placing.point)];
      p = {p.x.widened(rounded), p.y.widened(rounded)};
    }
  }

  void drawn() {
    objectives::each_rule_type([&]<class Rule, std::size_t number>() {
      if constexpr (Rule::stage == objectives::RuleStage::drawn)
        Rule::misses(*demands_, points_, [&](const T& miss) { demand(1 + number, miss - T(passed<Rule>(*demands_))); });
    });
  }

  /// The rules at the stations of the march: the ends first, then those that lie between.
  void stroke() {
    motion_.begin(points_);
    const std::size_t n = motion_.stations();
    const std::size_t finest = closely_ ? 1 : coarse_step;
    for (std::size_t step = n - 1; step >= finest && broken_ < 0; step = step == 1 ? 0 : (step + 1) / 2)
      for (std::size_t i = 0; i < n && broken_ < 0; i += step)
        if (!stopped(i, step, n)) at_station(i);
  }
  /// Whether a wider step has been there.
  static bool stopped(std::size_t i, std::size_t step, std::size_t n) {
    for (std::size_t wider = n - 1; wider > step; wider = wider == 1 ? 0 : (wider + 1) / 2)
      if (i % wider == 0) return true;
    return false;
  }
  void at_station(std::size_t i) {
    motion_.stop_at(i);
    const bike::Model& model = demands_->model;
    fit_.start(model.joints(), demands_->apart.size(), 0);
    for (std::size_t j = 0; j < model.joints(); ++j) {
      fit_.transmission[j].value = motion_.margin(j);
      demand(0, -motion_.margin(j));
    }
    for (std::size_t k = 0; k < demands_->apart.size(); ++k) fit_.distance2[k].value = motion_.distance2(k);
    fit_.slope.value = motion_.slope();
    objectives::each_rule_type([&]<class Rule, std::size_t number>() {
      if constexpr (Rule::stage == objectives::RuleStage::stroke)
        Rule::misses(
            objectives::StrokeView<T>{*demands_, fit_, objectives::Told::all_but_kept_distances,
                                      demands_->apart_from[number], demands_->apart_from[number + 1]},
            [](const T& x) { return x; },
            [&](const objectives::Quantity&, const T& miss) { demand(1 + number, miss - T(passed<Rule>(*demands_))); });
    });
  }

  void targets() {
    for (std::vector<T>& of_place : values_) of_place.clear();
    for (const std::size_t t : order_) {
      if (broken_ >= 0) return;
      if (!closely_ && looks_of_[t].size() > few_looks) return;
      for (const Seeing& look : looks_of_[t]) seen_[t][look.index] = value_at(look.place, look.curve);
      judged(t);
    }
  }
  const T& value_at(std::size_t place, int curve) {
    std::vector<T>& values = values_[place];
    if (values.empty()) {
      values.resize(demands_->places.curves.size());
      motion_.stand_at(place);
      for (const objectives::Look& look : demands_->places.looks[place])
        if (required(demands_->targets[look.target]))
          values[static_cast<std::size_t>(look.curve)] = motion_.curve(look.curve);
    }
    return values[static_cast<std::size_t>(curve)];
  }

  void above(std::size_t t, const T& y, double least) {
    if (std::isfinite(least)) demand(must_of_[t], (T(least) - y) * T(1.0 / demands_->targets[t].tolerance));
  }
  void below(std::size_t t, const T& y, double most) {
    if (std::isfinite(most)) demand(must_of_[t], (y - T(most)) * T(1.0 / demands_->targets[t].tolerance));
  }

  /// What a required target judges. The least and the greatest of several, and rises from one place to another, as a
  /// demand on each: their rows tell more than one on what is greatest.
  void judged(std::size_t t) {
    const Gathering& g = demands_->places.gatherings[t];
    const std::vector<T>& seen = seen_[t];
    for (std::size_t r = 0; r < g.results(); ++r) {
      const Allowed& allowed = demands_->allowed[t][r];
      const T* own = &seen[g.kind == Reduction::none ? 0 : r * g.places];
      if (g.kind == Reduction::least)
        for (std::size_t i = 0; i < g.places; ++i) above(t, own[i], allowed.lo);
      if (g.kind == Reduction::greatest)
        for (std::size_t i = 0; i < g.places; ++i) below(t, own[i], allowed.hi);
      if (g.kind == Reduction::rise || g.kind == Reduction::range || g.kind == Reduction::total_rise)
        differences(t, own, g.places, 1, allowed.hi);
      if (g.kind == Reduction::fall || g.kind == Reduction::range) differences(t, own, g.places, -1, allowed.hi);
      const T y = objectives::reduced<T>(g, r, [&](std::size_t i) -> const T& { return seen[i]; });
      above(t, y, allowed.lo);
      below(t, y, allowed.hi);
    }
  }
  /// No climb (sign 1) or fall (−1) from one place to a later one is more than `most`.
  void differences(std::size_t t, const T* y, std::size_t places, int sign, double most) {
    for (std::size_t i = 0; i < places && broken_ < 0; ++i)
      for (std::size_t j = i + 1; j < places && broken_ < 0; ++j) {
        const T &more = sign > 0 ? y[j] : y[i], &less = sign > 0 ? y[i] : y[j];
        if (more.range().hi - less.range().lo > most) below(t, more - less, most);
      }
  }

  const Setup* setup_;
  int choice_;
  const Demands* demands_;
  std::size_t variables_;
  BoxMotion<N> motion_;
  std::vector<Must> musts_;
  std::vector<std::size_t> must_of_, order_;
  std::vector<std::vector<Seeing>> looks_of_;
  std::vector<T> x_;
  std::vector<math::Vec2<T>> points_;
  std::vector<std::vector<T>> seen_, values_;
  objectives::Fit<T> fit_;
  ProofRows* rows_ = nullptr;
  int broken_ = -1;
  bool closely_ = true;
};

}  // namespace

std::string name_of(const Must& must, const brief::Brief& brief) {
  if (must.kind == Must::Kind::assembles) return "assembly";
  return must.kind == Must::Kind::target ? brief.targets[must.number].name
                                         : std::string(objectives::rule_table()[must.number].record->name);
}

std::unique_ptr<BoxJudge> make_box_judge(const Setup& setup, int choice) {
  const auto& layout = setup.brief.layout;
  for (std::size_t k = 0; k < setup.cases.size(); ++k) {
    const std::size_t at = static_cast<std::size_t>(choice) * setup.cases.size() + k;
    const bike::Model& model = setup.models[at];
    if (model.program.tears > 0) return nullptr;
    if (!bike::CasePoints<double>(model, layout, setup.cases[k].which).none()) continue;
    const auto made = [&]<int N>() -> std::unique_ptr<BoxJudge> {
      return std::make_unique<Judge<N>>(setup, choice, setup.demands[at], setup.cases[k].numbers);
    };
    const int n = setup.design.size();
    if (n < 7) return made.template operator()<7>();
    if (n < 12) return made.template operator()<12>();
    if (n < 16) return made.template operator()<16>();
    if (n <= most_proof_variables) return made.template operator()<32>();
  }
  return nullptr;
}

}  // namespace trammel::search
