#include "search/trade_off.hpp"

#include <algorithm>
#include <cmath>

#include "search/score.hpp"
#include "search/shortlist.hpp"

namespace trammel::search {
namespace {

/// Musts and rules are asked for with so much to spare, in tolerances, that rounding to the reported grid is harmless.
constexpr double to_spare = 0.01;
/// Layouts of the study from which the ends of a front are sought.
constexpr int known_starts = 6;
constexpr int evaluations_per_point = 150;
/// Partials carried at once; more variables take more passes.
constexpr std::size_t partials = 12;
using Derivative = math::Dual<static_cast<int>(partials)>;

/// Whether a target's wish is a demand on the front.
bool demanded(const objectives::Target& target, int number, const brief::TradeOff& trade_off) {
  const auto holds = [&](const std::vector<int>& group) {
    return std::find(group.begin(), group.end(), number) != group.end();
  };
  return target.must ||
         (trade_off.keep_wishes && std::none_of(trade_off.between.begin(), trade_off.between.end(), holds));
}

/// One case of a layout, in one number type.
template <class T>
struct CaseMotion {
  const CaseSetup* of;
  bike::CasePoints<T> place;
  objectives::Assessor<T> assessor;
  std::vector<math::Vec2<T>> points;

  CaseMotion(const Setup& setup, int choice, std::size_t which)
      : CaseMotion(setup.cases[which], setup.demands[static_cast<std::size_t>(choice) * setup.cases.size() + which],
                   setup.design.with_choice(choice)) {}
  CaseMotion(const CaseSetup& one, const objectives::Demands& demands, const bike::Layout& layout)
      : of(&one), place(demands.model, layout, one.which), assessor(demands) {}

  void move(const std::vector<math::Vec2<T>>& drawn) {
    points = drawn;
    place.apply(points);
    assessor.march(points);
    assessor.curves();
  }
};

/// Hands the parts of the figures, then the constraints, to the two takers in a fixed order; after `move`.
template <class T, class TakePart, class TakeConstraint>
void collect(const CaseMotion<T>& one, const brief::TradeOff& trade_off, TakePart part, TakeConstraint constraint) {
  const objectives::Demands& demands = one.assessor.demands();
  const objectives::Outcome<T>& found = one.assessor.outcome();
  for (std::size_t group = 0; group < trade_off.between.size(); ++group) {
    for (const int number : trade_off.between[group]) {
      const std::vector<std::size_t>& numbers = one.of->numbers;
      const auto here = std::find(numbers.begin(), numbers.end(), static_cast<std::size_t>(number));
      if (here == numbers.end()) continue;
      const auto t = static_cast<std::size_t>(here - numbers.begin());
      const double per_tolerance = 1.0 / demands.targets[t].tolerance;
      for (std::size_t i = 0; i < found.values[t].size(); ++i) {
        const objectives::Allowed& allowed = demands.allowed[t][i];
        if (std::isfinite(allowed.lo)) part(group, (T(allowed.lo) - found.values[t][i]) * per_tolerance);
        if (std::isfinite(allowed.hi)) part(group, (found.values[t][i] - T(allowed.hi)) * per_tolerance);
      }
    }
  }
  for (std::size_t t = 0; t < demands.targets.size(); ++t) {
    if (!demanded(demands.targets[t], static_cast<int>(one.of->numbers[t]), trade_off)) continue;
    const double per_tolerance = 1.0 / demands.targets[t].tolerance;
    for (std::size_t i = 0; i < found.values[t].size(); ++i) {
      const objectives::Allowed& allowed = demands.allowed[t][i];
      const T beyond = math::max(T(allowed.lo) - found.values[t][i], found.values[t][i] - T(allowed.hi));
      constraint(beyond * per_tolerance + T(to_spare));
    }
  }
  const auto rule = [&](const T& miss) { constraint(miss + T(to_spare)); };
  objectives::stroke_misses(demands.model, demands.packaging, found.fit, rule);
  objectives::drawn_misses(demands.model, demands.packaging, found.points, rule);
}

}  // namespace

struct TradeOffModel::Parts {
  Parts(const Setup& s, int c, const brief::TradeOff& t) : setup(s), choice(c), trade_off(t) {
    for (std::size_t which = 0; which < s.cases.size(); ++which) {
      plain.emplace_back(s, c, which);
      slopes.emplace_back(s, c, which);
    }
  }

  /// Moves every case of the layout at x and collects.
  template <class TakePart, class TakeConstraint>
  void collect_plain(std::span<const double> x, TakePart part, TakeConstraint constraint) {
    setup.design.place<double>(x, choice, points);
    for (CaseMotion<double>& one : plain) {
      one.move(points);
      collect(one, trade_off, part, constraint);
    }
  }

  bool evaluate(std::span<const double> x, FrontEvaluation& out) {
    std::size_t p = 0, c = 0;
    collect_plain(
        x, [&](std::size_t, double value) { out.parts[p++] = value; },
        [&](double value) { out.constraints[c++] = value; });
    if (out.part_slopes.empty() && out.jacobian.empty()) return true;
    const std::size_t n = x.size();
    slope_x.resize(n);
    for (std::size_t first = 0; first < n; first += partials) {
      const std::size_t last = std::min(n, first + partials);
      for (std::size_t i = 0; i < n; ++i)
        slope_x[i] =
            i >= first && i < last ? Derivative::variable(x[i], static_cast<int>(i - first)) : Derivative(x[i]);
      setup.design.place<Derivative>(slope_x, choice, slope_points);
      p = c = 0;
      const auto write = [&](const Derivative& y, std::span<double> rows, std::size_t row) {
        for (std::size_t i = first; i < last; ++i) rows[row * n + i] = y.d[i - first];
      };
      for (CaseMotion<Derivative>& one : slopes) {
        one.move(slope_points);
        collect(
            one, trade_off, [&](std::size_t, const Derivative& y) { write(y, out.part_slopes, p++); },
            [&](const Derivative& y) { write(y, out.jacobian, c++); });
      }
    }
    return true;
  }

  const Setup& setup;
  int choice;
  const brief::TradeOff& trade_off;
  std::vector<CaseMotion<double>> plain;
  std::vector<CaseMotion<Derivative>> slopes;
  std::vector<math::Vec2<double>> points;
  std::vector<math::Vec2<Derivative>> slope_points;
  std::vector<Derivative> slope_x;
};

TradeOffModel::TradeOffModel(const Setup& setup, int choice, const brief::TradeOff& trade_off)
    : parts_(std::make_unique<Parts>(setup, choice, trade_off)) {}
TradeOffModel::~TradeOffModel() = default;

FrontProblem TradeOffModel::problem() {
  FrontProblem problem;
  problem.n = parts_->setup.design.size();
  // How many there are of each does not depend on the place.
  const std::vector<double> middle(static_cast<std::size_t>(problem.n), 0.5);
  parts_->collect_plain(
      middle, [&](std::size_t group, double) { problem.figure_of.push_back(static_cast<int>(group)); },
      [&](double) { ++problem.constraints; });
  problem.evaluate = [this](std::span<const double> x, FrontEvaluation& out) { return parts_->evaluate(x, out); };
  return problem;
}

TradeOffStarts::TradeOffStarts(const Setup& setup)
    : pickers_(static_cast<std::size_t>(setup.design.choices()), Picker(known_starts, setup.brief.search.distinct)) {}

bool TradeOffStarts::offer(const store::LayoutRow& row) {
  if (row.musts_met != row.musts) return false;  // nor does any that follows meet them all
  pickers_[static_cast<std::size_t>(row.choice)].offer(row);
  return std::any_of(pickers_.begin(), pickers_.end(), [](const Picker& p) { return p.count() < known_starts; });
}

std::vector<std::vector<store::LayoutRow>> TradeOffStarts::found() const {
  std::vector<std::vector<store::LayoutRow>> found;
  for (const Picker& picker : pickers_) found.push_back(picker.picked());
  return found;
}

std::vector<TradeOffSheet> find_trade_offs(const Setup& setup, const std::vector<std::vector<store::LayoutRow>>& starts,
                                           const std::atomic<bool>* stop) {
  std::vector<TradeOffSheet> sheets;
  for (const brief::TradeOff& trade_off : setup.brief.search.trade_offs) {
    TradeOffSheet sheet;
    sheet.between = trade_off.between;
    sheet.keep_wishes = trade_off.keep_wishes;
    sheet.resolution = trade_off.resolution;
    for (const Variable& v : setup.design.variables()) sheet.varied.push_back({v.name, v.unit, v.lo, v.hi, 0.0});
    std::vector<FrontPoint> found;
    for (int choice = 0; choice < setup.design.choices(); ++choice) {
      const std::vector<store::LayoutRow>& known = starts[static_cast<std::size_t>(choice)];
      if (known.empty()) continue;
      if (stop != nullptr && stop->load(std::memory_order_relaxed)) throw Stopped();
      FrontOptions options;
      options.evaluations = evaluations_per_point;
      options.resolution = trade_off.resolution;
      options.scattered = 0;  // hardly a point of the box assembles
      options.seed = setup.brief.search.seed;
      for (const store::LayoutRow& row : known) options.start.push_back(row.design);
      TradeOffModel model(setup, choice, trade_off);
      Front front = find_front(model.problem(), options);
      sheet.evaluations += front.evaluations;
      Scorer scorer(setup, choice);
      for (FrontPoint& point : front.points) {
        if (!scorer.assessment(point.x).feasible()) continue;  // on the grid on which layouts are reported
        point.x.push_back(choice);
        found.push_back(std::move(point));
      }
    }
    const Front front = front_of(std::move(found));
    sheet.hypervolume = front.hypervolume;
    sheet.spread = front.spread;
    for (FrontPoint point : front.points) {
      const int choice = static_cast<int>(point.x.back());
      point.x.pop_back();
      TradeOffPoint row;
      row.figures = point.figures;
      row.layout = setup.design.layout(point.x, choice);
      row.achieved = Scorer(setup, choice).assessment(point.x);
      for (std::size_t i = 0; i < point.x.size(); ++i) row.varied.push_back(setup.design.variables()[i].at(point.x[i]));
      sheet.points.push_back(std::move(row));
    }
    sheets.push_back(std::move(sheet));
  }
  return sheets;
}

}  // namespace trammel::search
