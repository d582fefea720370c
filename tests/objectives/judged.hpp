// Judges a layout in one line of a test.
#pragma once

#include <stdexcept>
#include <string>

#include "objectives/assessor.hpp"

namespace trammel::test {

/// A layout marched, with the curves of its targets when it assembles.
class Judged {
 public:
  Judged(const bike::Layout& layout, std::vector<objectives::Target> targets, objectives::Packaging packaging = {})
      : Judged(layout, std::move(targets), std::move(packaging), layout.mechanism.points) {}
  /// The points moved away from the drawing that the model was compiled from, as a search does.
  Judged(const bike::Layout& layout, std::vector<objectives::Target> targets, objectives::Packaging packaging,
         const std::vector<linkage::Point>& points)
      : model_(bike::make_model(layout)),
        targets_(std::move(targets)),
        packaging_(std::move(packaging)),
        demands_(model_, targets_, packaging_),
        assessor_(demands_),
        assembles_(assessor_.march(points)) {
    assessor_.curves();
    assessment_ = objectives::assess(demands_, assessor_.outcome());
  }
  Judged(const Judged&) = delete;
  Judged& operator=(const Judged&) = delete;

  bool assembles() const { return assembles_; }
  const objectives::Outcome<double>& outcome() const { return assessor_.outcome(); }
  double figure(const objectives::Emphasis& emphasis) const {
    return objectives::figure(demands_, outcome(), emphasis);
  }
  double rules_figure() const {
    return drawn_figure(demands_, outcome().points) + stroke_figure(demands_, outcome().fit);
  }
  /// sin² of the least transmission angle, or how far the worst joint is from assembling.
  double worst_margin() const { return outcome().fit.transmission[worst()].value; }
  std::string failure() const { return objectives::assembly_failure(model_, worst()); }
  const objectives::Assessment& assessment() const { return assessment_; }
  const objectives::Verdict& verdict(std::size_t target = 0) const { return assessment_.targets.at(target); }
  const objectives::RuleVerdict& rule(const std::string& name, std::size_t skip = 0) const {
    for (const objectives::RuleVerdict& r : assessment_.rules)
      if (r.name == name && skip-- == 0) return r;
    throw std::invalid_argument("no rule " + name);
  }

 private:
  std::size_t worst() const { return static_cast<std::size_t>(objectives::worst_joint(outcome().fit)); }

  bike::Model model_;
  std::vector<objectives::Target> targets_;
  objectives::Packaging packaging_;
  objectives::Demands demands_;
  objectives::Assessor<double> assessor_;
  bool assembles_;
  objectives::Assessment assessment_;
};

}  // namespace trammel::test
