#include "search/score.hpp"

#include <algorithm>
#include <cmath>

namespace trammel::search {

Scorer::Scorer(const Setup& setup, int choice)
    : Scorer(
          setup, choice,
          std::span(setup.demands).subspan(static_cast<std::size_t>(choice) * setup.cases.size(), setup.cases.size())) {
}

Scorer::Scorer(const Setup& setup, int choice, std::span<const objectives::Demands> demands)
    : setup_(&setup), choice_(choice), x_(static_cast<std::size_t>(setup.design.size())) {
  const bike::Layout layout = setup.design.with_choice(choice);
  for (std::size_t k = 0; k < setup.cases.size(); ++k) {
    const bike::Model& model = demands[k].model;
    const bike::Case& which = setup.cases[k].which;
    parts_.push_back({&demands[k],
                      make_evaluator(demands[k], setup.instruction_set),
                      {model, layout, which},
                      {model, layout, which},
                      {model, layout, which},
                      {}});
  }
}

void Scorer::put(std::size_t layout) {
  setup_->design.place<Wide>(x_, choice_, wide_points_);
  for (std::size_t p = 0; p < wide_points_.size(); ++p)
    for (std::size_t i = 0; i < width; ++i) {
      block_.at(layout + i, p, 0) = math::lane(wide_points_[p].x, i);
      block_.at(layout + i, p, 1) = math::lane(wide_points_[p].y, i);
    }
}

void Scorer::screen_case(Part& part, const objectives::Emphasis& emphasis, double limit) {
  const std::size_t points = block_.points(), n = left_.size();
  case_block_.resize(n, points);
  case_screened_.resize(n);
  wide_points_.resize(points);
  for (std::size_t first = 0; first < n; first += width) {
    const auto of_lane = [&](std::size_t i) { return left_[std::min(first + i, n - 1)]; };
    for (std::size_t p = 0; p < points; ++p)
      for (std::size_t i = 0; i < width; ++i) {
        math::set_lane(wide_points_[p].x, i, block_.at(of_lane(i), p, 0));
        math::set_lane(wide_points_[p].y, i, block_.at(of_lane(i), p, 1));
      }
    part.wide_points.apply(wide_points_);
    for (std::size_t p = 0; p < points; ++p)
      for (std::size_t i = 0; i < width; ++i) {
        case_block_.at(first + i, p, 0) = math::lane(wide_points_[p].x, i);
        case_block_.at(first + i, p, 1) = math::lane(wide_points_[p].y, i);
      }
  }
  part.evaluator->screen(case_block_, emphasis, limit, case_screened_);
}

void Scorer::screen_block(const objectives::Emphasis& emphasis, double limit) {
  using objectives::Screened;
  using objectives::Stage;
  screened_.resize(block_.layouts());
  if (parts_.size() == 1 && parts_.front().points.none()) {
    parts_.front().evaluator->screen(block_, emphasis, limit, screened_);
    return;
  }
  left_.resize(block_.layouts());
  for (std::size_t i = 0; i < left_.size(); ++i) left_[i] = i;
  std::fill(screened_.begin(), screened_.end(), Screened{});
  for (Part& part : parts_) {
    if (left_.empty()) return;
    screen_case(part, emphasis, limit);
    std::size_t still = 0;
    for (std::size_t i = 0; i < left_.size(); ++i) {
      const Screened& here = case_screened_[i];
      Screened& sum = screened_[left_[i]];
      sum = {sum.figure + here.figure, here.stage, here.assembles, here.joint};
      if (here.stage != Stage::through) continue;
      if (sum.figure > limit)
        sum.stage = Stage::curves;
      else
        left_[still++] = left_[i];
    }
    left_.resize(still);
  }
  screen_differences(emphasis, limit);
}

void Scorer::screen_differences(const objectives::Emphasis& emphasis, double limit) {
  if (setup_->comparisons.empty()) return;
  points_.resize(block_.points());
  for (const std::size_t layout : left_) {
    for (std::size_t p = 0; p < points_.size(); ++p) points_[p] = {block_.at(layout, p, 0), block_.at(layout, p, 1)};
    outcomes_.resize(parts_.size());
    for (std::size_t k = 0; k < parts_.size(); ++k)
      outcomes_[k] = &parts_[k].evaluator->evaluate(points_in(parts_[k], points_));
    objectives::Screened& sum = screened_[layout];
    sum.figure += differences(emphasis, {});
    if (sum.figure > limit) sum.stage = objectives::Stage::curves;
  }
}

std::span<const objectives::Screened> Scorer::screen(std::uint64_t first, std::size_t n,
                                                     const objectives::Emphasis& emphasis, double limit) {
  block_.resize(n, setup_->brief.layout.mechanism.points.size());
  setup_->sobol.points(first, n, bits_, sample_, [&](std::size_t i, const std::vector<double>& x) {
    const std::size_t lane = i % width;
    for (std::size_t k = 0; k < x.size(); ++k) math::set_lane(x_[k], lane, x[k]);
    if (lane + 1 == width || i + 1 == n) put(i - lane);
  });
  screen_block(emphasis, limit);
  return screened_;
}

std::span<const objectives::Screened> Scorer::screen_all(std::span<const double> designs,
                                                         const objectives::Emphasis& emphasis, double limit) {
  const std::size_t n = x_.size(), layouts = designs.size() / n;
  block_.resize(layouts, setup_->brief.layout.mechanism.points.size());
  for (std::size_t first = 0; first < layouts; first += width) {
    for (std::size_t lane = 0; lane < width; ++lane) {
      const std::size_t layout = std::min(first + lane, layouts - 1);
      for (std::size_t k = 0; k < n; ++k) math::set_lane(x_[k], lane, designs[layout * n + k]);
    }
    put(first);
  }
  screen_block(emphasis, limit);
  return screened_;
}

objectives::Screened Scorer::screen(std::span<const double> x, const objectives::Emphasis& emphasis, double limit) {
  return screen_all(x, emphasis, limit).front();
}

std::string Scorer::failure(const objectives::Screened& screened) const {
  // A joint's number and name come from the linkage's order of assembly, which all cases share.
  return objectives::assembly_failure(parts_.front().demands->model, static_cast<std::size_t>(screened.joint));
}

void Scorer::find_tangents(std::span<const double> x) {
  const std::size_t n = setup_->brief.layout.mechanism.points.size();
  tangents_.resize(x.size(), n, partials);
  slope_x_.resize(x.size());
  for (Part& part : parts_)
    if (part.points.settles()) part.tangents.resize(x.size(), n, partials);
  for (std::size_t first = 0; first < x.size(); first += partials) {
    const std::size_t last = std::min(x.size(), first + partials);
    for (std::size_t i = 0; i < x.size(); ++i)
      slope_x_[i] = i >= first && i < last ? Derivative::variable(x[i], static_cast<int>(i - first)) : Derivative(x[i]);
    setup_->design.place<Derivative>(slope_x_, choice_, slope_points_);
    const auto take = [&](const std::vector<math::Vec2<Derivative>>& points, bike::Tangents& out) {
      for (std::size_t p = 0; p < points.size(); ++p) {
        points[p].x.d.store(out.group(p, 0, first));
        points[p].y.d.store(out.group(p, 1, first));
      }
    };
    take(slope_points_, tangents_);
    for (Part& part : parts_) {
      if (!part.points.settles()) continue;
      case_slopes_ = slope_points_;
      part.slope_points.apply(case_slopes_);
      take(case_slopes_, part.tangents);
    }
  }
}

const std::vector<math::Vec2<double>>& Scorer::points_in(Part& part, const std::vector<math::Vec2<double>>& drawn) {
  if (part.points.none()) return drawn;
  case_points_ = drawn;
  part.points.apply(case_points_);
  return case_points_;
}

const std::vector<double>& Scorer::values_of(const objectives::Comparison& one) {
  compared_.clear();
  for (const std::size_t k : one.cases)
    compared_.push_back(outcomes_[k]->values[setup_->cases[k].place_of(one.target)].front());
  return compared_;
}

void Scorer::add_slopes(const objectives::Comparison& one, const objectives::Difference& difference, double weight,
                        std::span<double> gradient) {
  case_gradient_.resize(gradient.size());
  for (const auto& [which, sign] : {std::pair(difference.more, weight), std::pair(difference.less, -weight)}) {
    const std::size_t k = one.cases[which];
    Part& part = parts_[k];
    const objectives::Quantity value{objectives::Quantity::Kind::value, setup_->cases[k].place_of(one.target), 0};
    part.evaluator->slopes(part.points.settles() ? part.tangents : tangents_, std::span(&value, 1), case_gradient_);
    for (std::size_t i = 0; i < gradient.size(); ++i) gradient[i] += sign * case_gradient_[i];
  }
}

double Scorer::differences(const objectives::Emphasis& emphasis, std::span<double> gradient) {
  double figure = 0.0;
  for (const objectives::Comparison& one : setup_->comparisons) {
    const std::size_t first = one.cases.front();
    // Whose wish has been taken out of the demands.
    if (std::isinf(parts_[first].demands->allowed[setup_->cases[first].place_of(one.target)].front().lo)) continue;
    const objectives::Difference d = objectives::difference(one, values_of(one));
    const objectives::DifferenceShare share =
        objectives::share_of(setup_->brief.targets[one.target], one, d.value, emphasis);
    figure += share.share;
    if (!gradient.empty() && share.slope != 0.0) add_slopes(one, d, share.slope, gradient);
  }
  return figure;
}

double Scorer::figure(std::span<const double> x, const objectives::Emphasis& emphasis, std::span<double> gradient) {
  double figure = 0.0;
  std::fill(gradient.begin(), gradient.end(), 0.0);
  case_gradient_.resize(gradient.size());
  each_case(x, !gradient.empty(), [&](const CaseView& view) {
    figure += objectives::figure(view.demands, view.outcome, emphasis);
    if (gradient.empty()) return;
    view.evaluator.gradient(view.tangents, emphasis, case_gradient_);
    for (std::size_t i = 0; i < gradient.size(); ++i) gradient[i] += case_gradient_[i];
  });
  return figure + differences(emphasis, gradient);
}

objectives::Assessment Scorer::assessment(std::span<const double> x) {
  const std::vector<math::Vec2<double>> drawn = setup_->design.layout(x, choice_).mechanism.points;
  std::vector<objectives::CaseAssessment> cases;
  for (std::size_t k = 0; k < parts_.size(); ++k) {
    const CaseSetup& one = setup_->cases[k];
    cases.push_back({one.name, one.numbers,
                     assess(*parts_[k].demands, parts_[k].evaluator->judge(points_in(parts_[k], drawn),
                                                                           objectives::RoomDetail::decisive))});
  }
  return cases.size() == 1 ? cases.front().assessment : merged(cases, setup_->brief.targets, setup_->comparisons);
}

void Scorer::values(std::span<const double> x, std::vector<double>& out) {
  const std::vector<math::Vec2<double>> drawn = setup_->design.layout(x, choice_).mechanism.points;
  out.clear();
  for (Part& part : parts_)
    for (const std::vector<double>& of_target : part.evaluator->evaluate(points_in(part, drawn)).values)
      out.insert(out.end(), of_target.begin(), of_target.end());
}

objectives::Assessment assess_layout(const bike::Layout& layout, const std::vector<objectives::Target>& targets,
                                     const objectives::Packaging& packaging) {
  const bike::Model model = bike::make_model(layout);
  const auto demands = objectives::Demands::without_tapes(model, targets, packaging);
  const auto evaluator = make_evaluator(demands, objectives::InstructionSet::baseline);
  return assess(demands, evaluator->judge(layout.mechanism.points, objectives::RoomDetail::exact));
}

}  // namespace trammel::search
