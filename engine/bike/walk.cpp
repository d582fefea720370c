#include "bike/walk.hpp"

#include <algorithm>
#include <cmath>
#include <cstdio>

#include "linkage/try_compile.hpp"

namespace trammel::bike {
namespace {

/// Intervals in which a walk looks for dead points, whatever the number of stations asked for.
constexpr int walk_intervals = 120;
/// sin² of the transmission angle under which a position counts as a dead point (0.6°).
constexpr double dead = 1e-4;

Worst worst_joint(const linkage::State<double>& state) {
  Worst worst;
  for (std::size_t j = 0; j < state.margin.size(); ++j)
    if (state.margin[j] < worst.margin) worst = {j, state.margin[j]};
  return worst;
}

/// With the spans of the chain.
Worst worst_of_all(const Model& model, const linkage::State<double>& state) {
  Worst worst = worst_joint(state);
  for (std::size_t i = 0; i < model.spans.size(); ++i)
    if (const double margin = span_margin(model, i, state.position); margin < worst.margin)
      worst = {state.margin.size() + i, margin};
  return worst;
}

/// What is said of a motion that stops.
class Reason {
 public:
  Reason(const Model& model, const Walk& walk) : model_(model), walk_(walk) {}

  std::string text() const {
    if (*walk_.failed() == 0) return as_drawn(walk_.at(0.0, nullptr));
    const Walk::Stop stop = walk_.stop();
    const std::string place = " at " + place_of(stop.last);
    const std::size_t joint = stop.first.worst.joint;
    if (is_span(joint)) return "stops" + place + ": " + too_near(joint, stop.first);
    if (const auto passed = passable(stop))
      return "stops at joint " + name(*passed) + where(*passed) + "," + place +
             "; past it the linkage assembles, too, with " + name(*passed) +
             " on the other side of that line: linkage.through_line: [" + name(*passed) + "] lets it go there";
    const std::string point = "a dead point at " + name(joint) + where(joint) + "," + place;
    if (stop.parts_again) return "comes within 0.6° of " + point + "; past it the angle grows again";
    return "reaches " + point + "; past it the linkage does not assemble";
  }

 private:
  bool is_span(std::size_t joint) const { return joint >= model_.program.joints.size(); }
  std::string name(std::size_t joint) const { return model_.joint_name(joint); }
  std::string dead_at(std::size_t joint) const { return model_.program.joints[joint].dead; }
  std::string where(std::size_t joint) const { return dead_at(joint).empty() ? "" : ", where " + dead_at(joint); }

  std::string as_drawn(const Walk::Place& place) const {
    const std::size_t joint = place.worst.joint;
    if (is_span(joint)) return "does not assemble: " + too_near(joint, place);
    return "is at a dead point as drawn, at " + name(joint) + where(joint);
  }

  std::string place_of(const Walk::Place& place) const {
    std::string text = fixed_text(place.travel, 2) + " mm of wheel travel";
    if (model_.has_shock())
      text += " (" + fixed_text(place.s, 2) + " of " + fixed_text(model_.range(), 2) + " mm of shock stroke)";
    return text;
  }

  /// Of a span of the chain that cannot run: 1 − difference² / distance² is its margin.
  std::string too_near(std::size_t joint, const Walk::Place& place) const {
    const ChainSpan& span = model_.spans[joint - model_.program.joints.size()];
    const double apart = span.difference / std::sqrt(1.0 - place.worst.margin);
    const Drivetrain& train = model_.layout.drivetrain;
    const bool over = span.of_roller ? train.roller->over : train.idler->over;
    return name(joint) + " cannot run, with their axes " + fixed_text(apart, 1) + " mm apart; where it runs " +
           (over ? "over" : "under") + (span.of_roller ? " the roller" : " the idler") + " they must be more than " +
           fixed_text(span.difference, 1) + " mm apart, the " + (over != span.of_roller ? "difference" : "sum") +
           " of their pitch radii";
  }

  /// A joint at which the motion stops only because its two parts come into line, while the rest of the linkage says
  /// how they go on: one of those that a block puts on their drawn side, the nearest to a line first. Nothing where the
  /// motion stops all the same when it may pass.
  std::optional<std::size_t> passable(const Walk::Stop& stop) const {
    linkage::Seed<double> seed;
    walk_.sweep().stations().seed_at(static_cast<double>(*walk_.failed() - 1), seed);
    linkage::State<double> state;
    state.resize(model_.program);
    linkage::assemble(model_.program, walk_.sweep().geometry(), stop.last.s, &seed, state);
    std::vector<std::size_t> joints;
    for (const linkage::Group& group : model_.program.groups)
      for (int i = group.first; i < group.last && !group.closures.empty(); ++i)
        if (model_.program.steps[static_cast<std::size_t>(i)].kind == linkage::StepKind::meet)
          joints.push_back(static_cast<std::size_t>(i));
    std::stable_sort(joints.begin(), joints.end(),
                     [&](std::size_t a, std::size_t b) { return state.margin[a] < state.margin[b]; });
    const auto found =
        std::find_if(joints.begin(), joints.end(), [&](std::size_t joint) { return passes(joint, stop); });
    return found == joints.end() ? std::nullopt : std::optional(*found);
  }

  bool passes(std::size_t joint, const Walk::Stop& stop) const {
    Layout open = model_.layout;
    open.mechanism.through_line.push_back(model_.program.steps[joint].point);
    if (std::holds_alternative<linkage::CompileFailure>(linkage::try_compile(open.mechanism))) return false;
    const Model model = make_model(open);
    const Walk further(model);
    return !further.failed() || (*further.failed() > *walk_.failed() && further.stop().last.s / stop.first.s > 1.0);
  }

  const Model& model_;
  const Walk& walk_;
};

}  // namespace

std::string why_it_stops(const Model& model, const Walk& walk) {
  return Reason(model, walk).text();
}

std::string fixed_text(double x, int decimals) {
  char text[64];
  std::snprintf(text, sizeof text, "%.*f", decimals, x);
  return text;
}

Walk::Walk(const Model& model) : model_(model), sweep_(model, walk_intervals) {
  sweep_.march(model.layout.mechanism.points, [&](std::size_t i, const linkage::State<double>& state) {
    if (failed_) return;
    if (worst_of_all(model_, state).margin < dead) {
      failed_ = i;
      return;
    }
    const Worst worst = worst_joint(state);
    if (worst.margin >= least_margin) return;
    least_margin = worst.margin;
    least_travel = travel_of(state);
    least_joint = model_.joint_name(worst.joint);
  });
}

double Walk::travel_of(const linkage::State<double>& state) const {
  return state.position[static_cast<std::size_t>(model_.layout.axle.point)].y - sweep_.topped_out().axle.y;
}

Walk::Place Walk::at(double s, const linkage::Seed<double>* seed) const {
  linkage::State<double> state;
  state.resize(model_.program);
  linkage::assemble(model_.program, sweep_.geometry(), s, seed, state);
  return {s, travel_of(state), worst_of_all(model_, state)};
}

/// Halves the interval in which the motion stops.
Walk::Stop Walk::stop() const {
  linkage::Seed<double> seed;
  sweep_.stations().seed_at(static_cast<double>(*failed_ - 1), seed);
  const std::vector<double>& s = sweep_.stations().s;
  Stop out{at(s[*failed_ - 1], &seed), at(s[*failed_], &seed)};
  for (int i = 0; i < 40; ++i) {
    const Place middle = at(0.5 * (out.last.s + out.first.s), &seed);
    (middle.worst.margin < dead ? out.first : out.last) = middle;
  }
  out.parts_again = parts_again(out.first.s, seed);
  return out;
}

/// Looks on from s, a hundredth of an interval at a time.
bool Walk::parts_again(double s, const linkage::Seed<double>& seed) const {
  constexpr int steps = 1200;
  const double step = 0.01 * model_.range() / walk_intervals;
  for (int i = 1; i <= steps && std::abs(s + step * i) <= std::abs(model_.range()); ++i) {
    const double margin = at(s + step * i, &seed).worst.margin;
    if (!(margin > 0.0)) return false;
    if (margin > dead) return true;
  }
  return true;
}

}  // namespace trammel::bike
