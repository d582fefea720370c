#include "search/score.hpp"

#include <algorithm>
#include <cmath>

namespace trammel::search {
Scorer::Scorer(const Setup& setup, int choice)
    : setup_(&setup),
      choice_(choice),
      plain_(setup.models[static_cast<std::size_t>(choice)], setup.brief.targets, setup.brief.packaging),
      slopes_(plain_),
      slope_x_(static_cast<std::size_t>(setup.design.size())) {}

objectives::Screened Scorer::screen(std::span<const double> x, const objectives::Emphasis& emphasis, double limit) {
  setup_->design.place<double>(x, choice_, points_);
  return objectives::screen(plain_, points_, emphasis, limit);
}

double Scorer::figure(std::span<const double> x, const objectives::Emphasis& emphasis, std::span<double> gradient) {
  setup_->design.place<double>(x, choice_, points_);
  plain_.march(points_);
  plain_.curves();
  for (std::size_t first = 0; first < gradient.size(); first += partials) {
    const std::size_t last = std::min(x.size(), first + partials);
    for (std::size_t i = 0; i < x.size(); ++i)
      slope_x_[i] = i >= first && i < last ? Derivative::variable(x[i], static_cast<int>(i - first)) : Derivative(x[i]);
    setup_->design.place<Derivative>(slope_x_, choice_, slope_points_);
    const Derivative result = slopes_.figure(slope_points_, emphasis);
    for (std::size_t i = first; i < last; ++i) gradient[i] = result.d[i - first];
  }
  return plain_.figure(emphasis);
}

objectives::Assessment Scorer::assessment(std::span<const double> x) {
  plain_.march(setup_->design.layout(x, choice_).mechanism.points);
  plain_.curves();
  return assess(plain_);
}

objectives::Assessment assess_layout(const bike::Layout& layout, const std::vector<objectives::Target>& targets,
                                     const objectives::Packaging& packaging) {
  const bike::Model model = bike::make_model(layout);
  objectives::Assessor<double> assessor(model, targets, packaging);
  assessor.march(layout.mechanism.points);
  assessor.curves();
  return assess(assessor);
}

}  // namespace trammel::search
