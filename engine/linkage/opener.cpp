#include "linkage/opener.hpp"

#include <algorithm>

namespace trammel::linkage {
namespace {
std::size_t index(int i) {
  return static_cast<std::size_t>(i);
}
bool contains(const std::vector<int>& list, int x) {
  return std::find(list.begin(), list.end(), x) != list.end();
}
}  // namespace

Opener::Opener(const Mechanism& mechanism)
    : mechanism_(&mechanism),
      placed_(mechanism.points.size(), false),
      bodies_(mechanism.members.size()),
      slider_used_(mechanism.sliders.size(), false) {
  const auto& frame = mechanism.members[index(mechanism.frame)];
  bodies_[index(mechanism.frame)].set = true;
  for (int p : frame.points) note_point(p, {mechanism.frame});
}

bool Opener::done() const {
  return std::all_of(placed_.begin(), placed_.end(), [](bool p) { return p; });
}

void Opener::advance(std::size_t closures) {
  while (closures_.size() < closures && step()) note_leftovers();
}

bool Opener::step() {
  return place_step() || driven_spin_step() || meet_step() || hinge_step();
}

/// Marks a point placed by the members `through`; any other member that already had a placed point is now over-told
/// by one condition, its distance between the two, which becomes a closure.
void Opener::note_point(int point, const std::vector<int>& through) {
  placed_[index(point)] = true;
  for (std::size_t k = 0; k < bodies_.size(); ++k) {
    Body& body = bodies_[k];
    if (!contains(mechanism_->members[k].points, point)) continue;
    const bool bound = contains(through, static_cast<int>(k));
    if (!body.set && !body.placed.empty()) {
      if (!bound) closures_.push_back({point, {Rule::distance, body.placed.front(), -1, static_cast<int>(k)}});
      body.set = true;
    }
    body.placed.push_back(point);
  }
}

/// Sliders and drives whose parts have all been placed without them are closures.
void Opener::note_leftovers() {
  for (std::size_t i = 0; i < slider_used_.size(); ++i) {
    const Slider& s = mechanism_->sliders[i];
    if (slider_used_[i] || !placed(s.point) || !placed(s.along_a) || !placed(s.along_b)) continue;
    slider_used_[i] = true;
    closures_.push_back({s.point, {Rule::line, s.along_a, s.along_b, static_cast<int>(i)}});
  }
  const Drive& d = mechanism_->drive;
  if (drive_used_) return;
  if (d.kind == DriveKind::shock && placed(d.a) && placed(d.b)) {
    drive_used_ = true;
    closures_.push_back({d.b, {Rule::shock, d.a}});
  }
  if (d.kind == DriveKind::travel && placed(d.point)) {
    drive_used_ = true;
    closures_.push_back({d.point, {Rule::level}});
  }
}

void Opener::put(const Step& step, const std::vector<int>& through) {
  steps_.push_back(step);
  note_point(step.point, through);
}

bool Opener::place_step() {
  for (std::size_t k = 0; k < bodies_.size(); ++k) {
    if (!bodies_[k].set) continue;
    for (int p : mechanism_->members[k].points) {
      if (placed(p)) continue;
      Step step;
      step.kind = StepKind::place;
      step.point = p;
      step.a = bodies_[k].placed[0];
      step.b = bodies_[k].placed[1];
      step.part = static_cast<int>(k);
      put(step, {static_cast<int>(k)});
      return true;
    }
  }
  return false;
}

bool Opener::driven_spin_step() {
  const Drive& d = mechanism_->drive;
  if (drive_used_ || d.kind != DriveKind::turn) return false;
  const Body& body = bodies_[index(d.member)];
  if (body.set || body.placed.size() != 1) return false;
  for (int p : mechanism_->members[index(d.member)].points) {
    if (placed(p)) continue;
    drive_used_ = true;
    Step step;
    step.kind = StepKind::spin;
    step.point = p;
    step.a = body.placed[0];
    step.part = d.member;
    put(step, {d.member});
    return true;
  }
  return false;
}

/// Conditions that bind an unplaced point to placed parts, each with the member that gives it (−1: slider or drive).
std::vector<std::pair<Constraint, int>> Opener::constraints_on(int point) const {
  std::vector<std::pair<Constraint, int>> found;
  for (std::size_t k = 0; k < bodies_.size(); ++k)
    if (!bodies_[k].set && bodies_[k].placed.size() == 1 && contains(mechanism_->members[k].points, point))
      found.push_back({{Rule::distance, bodies_[k].placed[0], -1, static_cast<int>(k)}, static_cast<int>(k)});
  const Drive& d = mechanism_->drive;
  if (!drive_used_ && d.kind == DriveKind::shock) {
    if (d.a == point && placed(d.b)) found.push_back({{Rule::shock, d.b}, -1});
    if (d.b == point && placed(d.a)) found.push_back({{Rule::shock, d.a}, -1});
  }
  if (!drive_used_ && d.kind == DriveKind::travel && d.point == point) found.push_back({{Rule::level}, -1});
  for (std::size_t i = 0; i < slider_used_.size(); ++i) {
    const Slider& s = mechanism_->sliders[i];
    if (!slider_used_[i] && s.point == point && placed(s.along_a) && placed(s.along_b))
      found.push_back({{Rule::line, s.along_a, s.along_b, static_cast<int>(i)}, -1});
  }
  return found;
}

void Opener::use(const Constraint& constraint) {
  if (constraint.rule == Rule::shock || constraint.rule == Rule::level) drive_used_ = true;
  if (constraint.rule == Rule::line) slider_used_[index(constraint.part)] = true;
}

bool Opener::meet_step() {
  for (std::size_t p = 0; p < placed_.size(); ++p) {
    if (placed_[p] || contains(mechanism_->through_line, static_cast<int>(p))) continue;
    const auto found = constraints_on(static_cast<int>(p));
    if (found.size() < 2) continue;
    Step step;
    step.kind = StepKind::meet;
    step.point = static_cast<int>(p);
    step.one = found[0].first;
    step.two = found[1].first;
    use(step.one);
    use(step.two);
    put(step, {found[0].second, found[1].second});
    return true;
  }
  return false;
}

bool Opener::hinge_step() {
  for (std::size_t i = 0; i < slider_used_.size(); ++i) {
    const Slider& s = mechanism_->sliders[i];
    const Body& body = bodies_[index(s.member)];
    if (slider_used_[i] || body.set || body.placed.size() != 1 || !placed(s.point)) continue;
    slider_used_[i] = true;
    Step step;
    step.kind = StepKind::hinge;
    step.a = body.placed[0];
    step.b = s.point;
    step.part = static_cast<int>(i);
    step.line_a = s.along_a;
    step.line_b = s.along_b;
    step.point = placed(s.along_a) ? s.along_b : s.along_a;
    put(step, {s.member});
    return true;
  }
  return false;
}

std::vector<Step> Opener::tears() const {
  std::vector<Step> found;
  for (std::size_t k = 0; k < bodies_.size(); ++k) {
    if (bodies_[k].set || bodies_[k].placed.size() != 1) continue;
    for (int p : mechanism_->members[k].points) {
      if (placed(p)) continue;
      Step step;
      step.kind = StepKind::spin;
      step.point = p;
      step.a = bodies_[k].placed[0];
      step.part = static_cast<int>(k);
      step.tear = 0;  // `compile` numbers it
      found.push_back(step);
      break;
    }
  }
  for (std::size_t i = 0; i < slider_used_.size(); ++i) {
    const Slider& s = mechanism_->sliders[i];
    if (slider_used_[i] || placed(s.point) || !placed(s.along_a) || !placed(s.along_b)) continue;
    Step step;
    step.kind = StepKind::slide;
    step.point = s.point;
    step.a = s.along_a;
    step.b = s.along_b;
    step.part = static_cast<int>(i);
    step.tear = 0;
    found.push_back(step);
  }
  return found;
}

void Opener::take(const Step& tear) {
  if (tear.kind == StepKind::slide) slider_used_[index(tear.part)] = true;
  put(tear, tear.kind == StepKind::spin ? std::vector<int>{tear.part} : std::vector<int>{});
  note_leftovers();
}

}  // namespace trammel::linkage
