#include "search/trade_off.hpp"

#include <algorithm>
#include <cmath>
#include <iterator>

#include "search/constraints.hpp"
#include "search/make_sheet.hpp"
#include "search/score.hpp"

namespace trammel::search {
namespace {

/// Musts and rules are asked for with so much to spare, in tolerances, that rounding to the reported grid is harmless.
constexpr double to_spare = 0.01;
/// Layouts of the study from which the ends of a front are sought.
constexpr int known_starts = 6;
constexpr int evaluations_per_point = 150;
/// Places of a demand that holds by default, beside its first, at which it is a constraint.
constexpr std::size_t sound_places = 5;
/// How often a front is sought again with further demands that hold by default.
constexpr int most_rounds = 4;
/// Points of the front that are closer than this share of its resolution, or than this in tolerances, are one.
constexpr double one_spot = 0.25;
constexpr double least_step = 0.02;
/// Whether a target's wish is a constraint. `held`: of those that hold by default, which are.
bool demanded(const objectives::Target& target, std::size_t number, const brief::TradeOff& trade_off,
              const std::vector<bool>& held) {
  if (target.origin == objectives::Origin::sound) return held[number];
  const auto holds = [&](const std::vector<int>& group) {
    return std::find(group.begin(), group.end(), static_cast<int>(number)) != group.end();
  };
  return target.must ||
         (trade_off.keep_wishes && std::none_of(trade_off.between.begin(), trade_off.between.end(), holds));
}

/// Hands the parts of the figures in one case to part(group, row), then the constraints to constraint(row), in a fixed
/// order. `numbers` are the brief's of the case's targets.
template <class TakePart, class TakeConstraint>
void collect(const objectives::Demands& demands, const std::vector<std::size_t>& numbers,
             const objectives::Outcome<double>& found, const brief::TradeOff& trade_off, const std::vector<bool>& held,
             TakePart part, TakeConstraint constraint) {
  const auto sides = [&](std::size_t t, auto below, auto above) {
    each_side(
        demands, found, t, [&](const objectives::Allowed&) { return demands.targets[t].tolerance; }, below, above);
  };
  for (std::size_t group = 0; group < trade_off.between.size(); ++group) {
    for (const int number : trade_off.between[group]) {
      const auto here = std::find(numbers.begin(), numbers.end(), static_cast<std::size_t>(number));
      if (here == numbers.end()) continue;
      const auto one_side = [&](const Row& row) {
        if (std::isfinite(row.value)) part(group, row);
      };
      sides(static_cast<std::size_t>(here - numbers.begin()), one_side, one_side);
    }
  }
  const auto with_room = [&](Row row) {
    row.value += to_spare;
    constraint(row);
  };
  for (std::size_t t = 0; t < demands.targets.size(); ++t) {
    if (demands.targets[t].between || !demanded(demands.targets[t], numbers[t], trade_off, held)) continue;
    // Of a demand that only keeps a curve from running wild a few places stand for all: a row each would make the
    // problem many times as large.
    const objectives::Gathering& gathering = demands.places.gatherings[t];
    const bool few = demands.targets[t].origin == objectives::Origin::sound && !demands.targets[t].measure;
    const std::size_t stride = few ? std::max<std::size_t>(1, (gathering.places - 1) / sound_places) : 1;
    Row under{};
    sides(
        t, [&](const Row& row) { under = row; },
        [&](const Row& row) {
          if (row.quantity.of % gathering.places % stride == 0) with_room(under.value > row.value ? under : row);
        });
  }
  objectives::each_rule(demands, found, objectives::Told::all,
                        [&](const objectives::Quantity& quantity, const auto& miss) {
                          with_room({miss.v, quantity, miss.d[0]});
                        });
}

}  // namespace

struct TradeOffModel::Parts {
  Parts(const Setup& s, int choice, const brief::TradeOff& t, std::vector<bool> h)
      : setup(s), trade_off(t), held(std::move(h)), scorer(s, choice) {}

  /// Moves every case of the layout at x and collects.
  bool evaluate(std::span<const double> x, FrontEvaluation& out) {
    const std::size_t n = x.size();
    const bool slopes = !out.part_slopes.empty() || !out.jacobian.empty();
    std::size_t p = 0, c = 0;
    scorer.each_case(x, slopes, [&](const Scorer::CaseView& view) {
      rows.clear();
      const auto take = [&](const Row& row, double& value, std::span<double> slopes_of, std::size_t number) {
        value = row.value;
        if (slopes) rows.want(row, slopes_of.subspan(number * n, n));
      };
      collect(
          view.demands, setup.cases[view.number].numbers, view.outcome, trade_off, held,
          [&](std::size_t, const Row& row) {
            take(row, out.parts[p], out.part_slopes, p);
            ++p;
          },
          [&](const Row& row) {
            take(row, out.constraints[c], out.jacobian, c);
            ++c;
          });
      if (slopes) rows.compute(view);
    });
    for (const objectives::Comparison& one : setup.comparisons) {
      const objectives::Target& target = setup.brief.targets[one.target];
      if (!demanded(target, one.target, trade_off, held)) continue;
      compared(one, target, out.constraints[c],
               slopes && !out.jacobian.empty() ? out.jacobian.subspan(c * n, n) : std::span<double>{});
      ++c;
    }
    return true;
  }

  /// The constraint that a target makes which compares cases, and its slopes.
  void compared(const objectives::Comparison& one, const objectives::Target& target, double& value,
                std::span<double> slopes) {
    const objectives::Difference d = objectives::difference(one, scorer.values_of(one));
    const objectives::Allowed allowed = objectives::allowed_at(target, 0.0);
    const double rate = 1.0 / target.tolerance;
    const double under = (allowed.lo - d.value) * rate, above = (d.value - allowed.hi) * rate;
    value = std::max(under, above) + to_spare;
    if (slopes.empty()) return;
    std::fill(slopes.begin(), slopes.end(), 0.0);
    scorer.add_slopes(one, d, under > above ? -rate : rate, slopes);
  }

  const Setup& setup;
  const brief::TradeOff& trade_off;
  std::vector<bool> held;
  Scorer scorer;
  RowSlopes rows;
};

TradeOffModel::TradeOffModel(const Setup& setup, int choice, const brief::TradeOff& trade_off, std::vector<bool> held)
    : parts_(std::make_unique<Parts>(setup, choice, trade_off, std::move(held))) {}
TradeOffModel::~TradeOffModel() = default;

FrontProblem TradeOffModel::problem() {
  FrontProblem problem;
  problem.n = parts_->setup.design.size();
  // How many there are of each does not depend on the place.
  const std::vector<double> middle(static_cast<std::size_t>(problem.n), 0.5);
  parts_->scorer.each_case(middle, false, [&](const Scorer::CaseView& view) {
    collect(
        view.demands, parts_->setup.cases[view.number].numbers, view.outcome, parts_->trade_off, parts_->held,
        [&](std::size_t group, const Row&) { problem.figure_of.push_back(static_cast<int>(group)); },
        [&](const Row&) { ++problem.constraints; });
  });
  for (const objectives::Comparison& one : parts_->setup.comparisons)
    if (demanded(parts_->setup.brief.targets[one.target], one.target, parts_->trade_off, parts_->held))
      ++problem.constraints;
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

namespace {

/// The front of one choice: its points, the choice at the end of each x.
struct ChoiceFront {
  std::vector<FrontPoint> points;
  std::int64_t evaluations = 0;
};

ChoiceFront front_of_choice(const Setup& setup, const brief::TradeOff& trade_off, int choice,
                            const std::vector<store::LayoutRow>& known, const Effort& effort) {
  FrontOptions options;
  options.evaluations = evaluations_per_point;
  options.resolution = trade_off.resolution;
  options.scattered = 0;  // hardly a point of the box assembles
  options.seed = setup.brief.search.seed;
  options.cancel = effort.stop;
  for (const store::LayoutRow& row : known) options.start.push_back(row.design);
  // Few of the demands that hold by default matter to a front, and each has many places: those that points break join
  // the problem, and the front is sought again.
  const std::vector<objectives::Target>& targets = setup.brief.targets;
  std::vector<bool> held(targets.size(), false);
  ChoiceFront out;
  Scorer scorer(setup, choice);
  for (int round = 0; round < most_rounds; ++round) {
    TradeOffModel model(setup, choice, trade_off, held);
    Front front = find_front(model.problem(), options);
    effort.heed();
    out.evaluations += front.evaluations;
    out.points.clear();
    bool more = false;
    for (FrontPoint& point : front.points) {
      const objectives::Assessment found = scorer.assessment(point.x);  // on the grid on which layouts are reported
      if (found.feasible()) {
        point.x.push_back(choice);
        out.points.push_back(std::move(point));
        continue;
      }
      for (std::size_t t = 0; t < targets.size(); ++t) {
        if (targets[t].origin != objectives::Origin::sound || found.targets[t].met || held[t]) continue;
        held[t] = more = true;
      }
    }
    if (!more) break;
  }
  return out;
}

TradeOffSheet joined(const Setup& setup, const brief::TradeOff& trade_off, std::span<ChoiceFront> choices) {
  TradeOffSheet sheet;
  sheet.between = trade_off.between;
  sheet.keep_wishes = trade_off.keep_wishes;
  sheet.resolution = trade_off.resolution;
  for (const Variable& v : setup.design.variables()) sheet.varied.push_back({v.name, v.unit, v.lo, v.hi, 0.0});
  std::vector<FrontPoint> found;
  for (ChoiceFront& one : choices) {
    sheet.evaluations += one.evaluations;
    std::move(one.points.begin(), one.points.end(), std::back_inserter(found));
  }
  // Layouts of several choices may come to one spot of the front; and where hardly anything is to be traded, a share of
  // the box is nothing.
  const Front whole = front_of(std::move(found));
  std::vector<double> scale;
  for (std::size_t k = 0; k < whole.ideal.size(); ++k)
    scale.push_back(std::max(whole.worst[k] - whole.ideal[k], least_step / (one_spot * trade_off.resolution)));
  const Front front = front_of(thinned(whole.points, scale, one_spot * trade_off.resolution, trade_off.resolution));
  sheet.hypervolume = front.hypervolume;
  sheet.spread = front.spread;
  for (FrontPoint point : front.points) {
    const int choice = static_cast<int>(point.x.back());
    point.x.pop_back();
    TradeOffPoint row;
    row.figures = point.figures;
    row.sheet = make_sheet(setup.design.layout(point.x, choice), setup.brief.targets, setup.brief.packaging);
    row.sheet.assessment = Scorer(setup, choice).assessment(point.x);  // with what takes slopes
    row.sheet.linkage = setup.brief.linkage_title;
    row.sheet.varied = sheet.varied;
    for (std::size_t i = 0; i < point.x.size(); ++i)
      row.sheet.varied[i].value = setup.design.variables()[i].at(point.x[i]);
    sheet.points.push_back(std::move(row));
  }
  return sheet;
}

}  // namespace

std::vector<std::vector<TradeOffSheet>> find_trade_offs(const std::vector<TradeOffTask>& tasks, const Effort& effort) {
  /// One choice of one trade-off of one task.
  struct Job {
    const TradeOffTask* task;
    const brief::TradeOff* trade_off;
    int choice;
  };
  std::vector<Job> jobs;
  for (const TradeOffTask& task : tasks)
    for (const brief::TradeOff& trade_off : task.setup->brief.search.trade_offs)
      for (int choice = 0; choice < task.setup->design.choices(); ++choice) jobs.push_back({&task, &trade_off, choice});
  std::vector<ChoiceFront> fronts(jobs.size());
  effort.each("fronts of trade-offs", jobs.size(), [&](std::size_t i) {
    const auto& [task, trade_off, choice] = jobs[i];
    const std::vector<store::LayoutRow>& known = task->starts[static_cast<std::size_t>(choice)];
    if (!known.empty()) fronts[i] = front_of_choice(*task->setup, *trade_off, choice, known, effort);
  });
  std::vector<std::vector<TradeOffSheet>> sheets;
  std::span<ChoiceFront> left(fronts);
  for (const TradeOffTask& task : tasks) {
    sheets.emplace_back();
    const auto choices = static_cast<std::size_t>(task.setup->design.choices());
    for (const brief::TradeOff& trade_off : task.setup->brief.search.trade_offs) {
      sheets.back().push_back(joined(*task.setup, trade_off, left.first(choices)));
      left = left.subspan(choices);
    }
  }
  return sheets;
}

}  // namespace trammel::search
