#include "search/built.hpp"

#include <algorithm>

#include "objectives/assessor.hpp"
#include "search/chance.hpp"

namespace trammel::search {
namespace {

/// Step of the central differences by a wheel's radius, mm: errors of second order are far below the last digit shown.
constexpr double wheel_step = 0.01;

bike::Case settling(const bike::Layout& layout, bike::Case which) {
  if (layout.shock && which.setting < 0) which.setting = static_cast<int>(layout.settings.size());
  return which;
}

/// The layout with the case's setting naming its shock, so that it settles whatever is moved.
bike::Layout settling_layout(bike::Layout layout, const bike::Case& which) {
  if (!layout.shock) return layout;
  if (which.setting < 0) layout.settings.push_back({});
  const auto at = static_cast<std::size_t>(settling(layout, which).setting);
  bike::Setting& setting = layout.settings[std::min(at, layout.settings.size() - 1)];
  if (!setting.shock) setting.shock = bike::Shock{layout.shock->length, layout.shock->stroke, {}};
  return layout;
}

}  // namespace

BuiltCase::BuiltCase(const bike::Layout& drawn, const bike::Case& which, const std::vector<objectives::Target>& targets,
                     const objectives::Packaging& packaging, objectives::InstructionSet set)
    : layout_(settling_layout(drawn, which)),
      which_(settling(drawn, which)),
      model_(bike::make_model(bike::unsettled(layout_, which_))),
      demands_(std::make_unique<objectives::Demands>(objectives::Demands::without_tapes(model_, targets, packaging))),
      evaluator_(objectives::make_evaluator(*demands_, set)),
      settle_(model_, layout_, which_),
      rear_(model_.layout.rear_radius),
      front_(model_.layout.front_radius) {
  if (model_.layout.shock) shock_length_ = model_.layout.shock->length;
}

void BuiltCase::take(const Errors& errors) {
  model_.layout.rear_radius = rear_ + errors.rear_wheel;
  demands_->room.set_tyre(model_.layout.rear_radius);
  model_.layout.front_radius = front_ + errors.front_wheel;
  if (model_.layout.shock) model_.layout.shock->length = shock_length_ + errors.shock_length;
}

const objectives::Outcome<double>& BuiltCase::build(const Errors& errors) {
  take(errors);
  points_ = layout_.mechanism.points;
  for (std::size_t p = 0; p < points_.size(); ++p) points_[p] = points_[p] + errors.points[p];
  settle_.apply(points_);
  return evaluator_->evaluate(points_);
}

std::vector<bike::Point> BuiltCase::by_shock_length() {
  const linkage::Drive& drive = model_.layout.mechanism.drive;
  points_ = layout_.mechanism.points;
  settle_.apply(points_);
  linkage::Geometry<double> geometry;
  linkage::State<double> state;
  state.resize(model_.program);
  linkage::measure(model_.program, points_, geometry, state);
  linkage::assemble<double>(model_.program, geometry, 0.0, nullptr, state);
  linkage::velocities(model_.program, geometry, state);
  // Compressing by ds makes the eyes' distance shorter by ds, and settling makes it the shock's length.
  std::vector<bike::Point> out = state.velocity;
  for (bike::Point& v : out) v = v * (drive.extends ? 1.0 : -1.0);
  return out;
}

std::vector<std::vector<std::vector<double>>> BuiltCase::slopes(std::span<const int> addresses) {
  using Derivative = math::Dual<static_cast<int>(partials)>;
  const std::size_t n = layout_.mechanism.points.size();
  const auto shock_address = static_cast<int>(2 * n);
  Errors none{std::vector<bike::Point>(n, {0.0, 0.0})};
  take(none);
  std::vector<std::vector<std::vector<double>>> out(demands_->targets.size());
  for (std::size_t t = 0; t < out.size(); ++t)
    out[t].assign(demands_->allowed[t].size(), std::vector<double>(addresses.size(), 0.0));

  const std::vector<bike::Point> by_length = model_.layout.shock ? by_shock_length() : std::vector<bike::Point>{};
  bike::CasePoints<Derivative> settle(model_, layout_, which_);
  objectives::Assessor<Derivative> assessor(*demands_);
  std::vector<math::Vec2<Derivative>> points(n);
  for (std::size_t first = 0; first < addresses.size(); first += partials) {
    const std::size_t count = std::min(partials, addresses.size() - first);
    const auto lane_of = [&](int address) {
      const auto end = addresses.begin() + static_cast<std::ptrdiff_t>(first + count);
      const auto found = std::find(addresses.begin() + static_cast<std::ptrdiff_t>(first), end, address);
      return found == end ? -1 : static_cast<int>(found - addresses.begin() - static_cast<std::ptrdiff_t>(first));
    };
    const auto number = [&](double value, std::size_t address) {
      const int lane = lane_of(static_cast<int>(address));
      return lane < 0 ? Derivative(value) : Derivative::variable(value, lane);
    };
    for (std::size_t p = 0; p < n; ++p) {
      const bike::Point& drawn = layout_.mechanism.points[p];
      points[p] = {number(drawn.x, 2 * p), number(drawn.y, 2 * p + 1)};
    }
    settle.apply(points);
    if (const int lane = lane_of(shock_address); lane >= 0 && !by_length.empty())
      for (std::size_t p = 0; p < n; ++p) {
        points[p].x = points[p].x + Derivative::variable(0.0, lane, by_length[p].x);
        points[p].y = points[p].y + Derivative::variable(0.0, lane, by_length[p].y);
      }
    assessor.march(points);
    assessor.curves();
    for (std::size_t t = 0; t < out.size(); ++t)
      for (std::size_t i = 0; i < out[t].size(); ++i)
        for (std::size_t k = 0; k < count; ++k) out[t][i][first + k] = assessor.outcome().values[t][i].d[k];
  }

  for (std::size_t k = 0; k < addresses.size(); ++k) {
    if (addresses[k] <= shock_address) continue;
    double Errors::*const wheel = addresses[k] == shock_address + 1 ? &Errors::rear_wheel : &Errors::front_wheel;
    Errors errors = none;
    errors.*wheel = wheel_step;
    const std::vector<std::vector<double>> more = build(errors).values;
    errors.*wheel = -wheel_step;
    const std::vector<std::vector<double>>& less = build(errors).values;
    for (std::size_t t = 0; t < out.size(); ++t)
      for (std::size_t i = 0; i < out[t].size(); ++i) out[t][i][k] = (more[t][i] - less[t][i]) / (2.0 * wheel_step);
  }
  take(none);
  return out;
}

std::vector<std::pair<int, Coordinate>> coordinates(const bike::Layout& layout, const brief::Tolerances& tolerances) {
  std::vector<std::pair<int, Coordinate>> out;
  int address = 0;
  const auto add = [&](const std::string& name, double plus_minus) {
    if (plus_minus > 0.0) out.push_back({address, {name, plus_minus, tolerances.deviation(plus_minus)}});
    ++address;
  };
  for (std::size_t p = 0; p < tolerances.points.size(); ++p) {
    const std::string& name = layout.mechanism.point_names[p];
    add(name + ".x", tolerances.points[p].x);
    add(name + ".y", tolerances.points[p].y);
  }
  add("shock length", layout.shock ? tolerances.shock_length : 0.0);
  add("rear wheel radius", tolerances.rear_wheel);
  add("front wheel radius", tolerances.front_wheel);
  return out;
}

Errors errors_of(const brief::Tolerances& tolerances, std::uint64_t seed, std::uint64_t frame) {
  const Stream stream(seed, frame, Purpose::built_frame);
  std::uint32_t address = 0;
  const auto error = [&](double plus_minus) {
    const std::uint32_t own = address++;
    if (plus_minus == 0.0) return 0.0;
    if (tolerances.law == brief::Tolerances::Law::normal) return tolerances.deviation(plus_minus) * normal(stream, own);
    return plus_minus * (2.0 * stream.uniform(own) - 1.0);
  };
  Errors out;
  for (const bike::Point& p : tolerances.points) {
    const double x = error(p.x);
    out.points.push_back({x, error(p.y)});
  }
  out.shock_length = error(tolerances.shock_length);
  out.rear_wheel = error(tolerances.rear_wheel);
  out.front_wheel = error(tolerances.front_wheel);
  return out;
}

}  // namespace trammel::search
