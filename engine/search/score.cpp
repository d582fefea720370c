#include "search/score.hpp"

#include <algorithm>

namespace trammel::search {
Scorer::Scorer(const Setup& setup, int choice)
    : setup_(&setup),
      demands_(&setup.demands[static_cast<std::size_t>(choice)]),
      choice_(choice),
      evaluator_(make_evaluator(*demands_, setup.instruction_set)),
      x_(static_cast<std::size_t>(setup.design.size())) {}

void Scorer::put(std::size_t layout) {
  setup_->design.place<math::Pack<width>>(x_, choice_, wide_points_);
  for (std::size_t p = 0; p < wide_points_.size(); ++p)
    for (std::size_t i = 0; i < width; ++i) {
      block_.at(layout + i, p, 0) = math::lane(wide_points_[p].x, i);
      block_.at(layout + i, p, 1) = math::lane(wide_points_[p].y, i);
    }
}

std::span<const objectives::Screened> Scorer::screen(std::uint64_t first, std::size_t n,
                                                     const objectives::Emphasis& emphasis, double limit) {
  block_.resize(n, demands_->model.layout.mechanism.points.size());
  screened_.resize(n);
  setup_->sobol.points(first, n, bits_, sample_, [&](std::size_t i, const std::vector<double>& x) {
    const std::size_t lane = i % width;
    for (std::size_t k = 0; k < x.size(); ++k) math::set_lane(x_[k], lane, x[k]);
    if (lane + 1 == width || i + 1 == n) put(i - lane);
  });
  evaluator_->screen(block_, emphasis, limit, screened_);
  return screened_;
}

objectives::Screened Scorer::screen(std::span<const double> x, const objectives::Emphasis& emphasis, double limit) {
  block_.resize(1, demands_->model.layout.mechanism.points.size());
  for (std::size_t k = 0; k < x.size(); ++k) x_[k] = math::Pack<width>(x[k]);
  put(0);
  objectives::Screened out;
  evaluator_->screen(block_, emphasis, limit, std::span(&out, 1));
  return out;
}

std::string Scorer::failure(const objectives::Screened& screened) const {
  return objectives::assembly_failure(demands_->model, static_cast<std::size_t>(screened.joint));
}

void Scorer::find_tangents(std::span<const double> x) {
  tangents_.resize(x.size());
  slope_x_.resize(x.size());
  for (std::size_t first = 0; first < x.size(); first += partials) {
    const std::size_t last = std::min(x.size(), first + partials);
    for (std::size_t i = 0; i < x.size(); ++i)
      slope_x_[i] = i >= first && i < last ? Derivative::variable(x[i], static_cast<int>(i - first)) : Derivative(x[i]);
    setup_->design.place<Derivative>(slope_x_, choice_, slope_points_);
    for (std::size_t i = first; i < last; ++i) {
      tangents_[i].resize(slope_points_.size());
      for (std::size_t p = 0; p < slope_points_.size(); ++p)
        tangents_[i][p] = {slope_points_[p].x.d[i - first], slope_points_[p].y.d[i - first]};
    }
  }
}

double Scorer::figure(std::span<const double> x, const objectives::Emphasis& emphasis, std::span<double> gradient) {
  setup_->design.place<double>(x, choice_, points_);
  const double figure = objectives::figure(*demands_, evaluator_->evaluate(points_), emphasis);
  if (gradient.empty()) return figure;
  find_tangents(x);
  evaluator_->gradient(tangents_, emphasis, gradient);
  return figure;
}

objectives::Assessment Scorer::assessment(std::span<const double> x) {
  return assess(*demands_, evaluator_->evaluate(setup_->design.layout(x, choice_).mechanism.points));
}

objectives::Assessment assess_layout(const bike::Layout& layout, const std::vector<objectives::Target>& targets,
                                     const objectives::Packaging& packaging) {
  const bike::Model model = bike::make_model(layout);
  const objectives::Demands demands(model, targets, packaging);
  objectives::Assessor<double> assessor(demands);
  assessor.march(layout.mechanism.points);
  assessor.curves();
  return assess(demands, assessor.outcome());
}

}  // namespace trammel::search
