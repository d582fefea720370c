#include <cmath>
#include <numbers>

#include "brief/parts.hpp"
#include "brief/values.hpp"

namespace trammel::brief {
namespace {

bike::ForkFollows fork_follows(const std::string& word) {
  if (word == "extended") return bike::ForkFollows::extended;
  if (word == "at_sag") return bike::ForkFollows::at_sag;
  return bike::ForkFollows::matched;
}

/// The axle from the top of the head tube: down the steering axis, then square to it by the offset.
bike::Point axle_from_head_tube(const Node* front, const bike::Point& top, double head_angle) {
  const double radians = head_angle * std::numbers::pi / 180.0;
  const bike::Point down{std::cos(radians), -std::sin(radians)};
  const bike::Point ahead{std::sin(radians), std::cos(radians)};
  const double along = number(front, "head_tube").value_or(0.0) + number(front, "fork_length").value_or(0.0);
  return top + along * down + number(front, "fork_offset").value_or(0.0) * ahead;
}

void check_wheelbase(const Node& front, const bike::Layout& layout, Problems& problems) {
  if (layout.axle.point < 0) return;
  const auto rear = layout.mechanism.points[static_cast<std::size_t>(layout.axle.point)];
  const double ahead = layout.front.axle.x - rear.x;
  // Written so that a rear axle that could not be read (NaN) passes.
  if (!(ahead <= std::abs(layout.front_radius - layout.rear_radius))) return;
  problems.add(front, "the front axle lies at x = " + rounded_text(layout.front.axle.x) +
                          " mm, but it must be ahead of the rear axle at x = " + rounded_text(rear.x) +
                          " mm by more than the wheels differ in radius" +
                          (ahead < 0.0 ? "; bikes are drawn facing right, x forward" : ""));
}

void read_mass(const Node* node, bike::Layout& layout, Problems& problems) {
  if (node == nullptr) return;
  auto& mass = layout.mass.emplace();
  take_number(node, "rider", mass.rider);
  take_number(node, "bike", mass.bike);
  take_number(node, "rear_unsprung", mass.rear_unsprung);
  take_number(node, "front_unsprung", mass.front_unsprung);
  const double unsprung = mass.rear_unsprung + mass.front_unsprung;
  if (number(node, "bike") && unsprung > mass.bike) {
    problems.add(*node, "the unsprung masses add up to " + rounded_text(unsprung) + " kg, more than the whole bike's " +
                            rounded_text(mass.bike) + " kg");
  }
}

void read_sag(const Node* node, bike::Layout& layout, Problems& problems) {
  take_number(node, "fraction", layout.sag.fraction);
  if (word(node, "of") != "shock") return;
  layout.sag.of = bike::SagOf::shock;
  if (!layout.shock) problems.add(*node->find("of"), "shock was given, but the layout has no shock; allowed: wheel");
}

}  // namespace

double wheel_radius(const Node* wheel) {
  if (const auto radius = number(wheel, "radius")) return *radius;
  return number(wheel, "bead_seat").value_or(0.0) / 2.0 + number(wheel, "tyre_height").value_or(0.0);
}

bool read_front(const Node* front, bike::Front& out) {
  take_number(front, "head_angle", out.head_angle);
  take_number(front, "travel", out.travel);
  take_number(front, "sag", out.sag);
  if (const std::string follows = word(front, "follows"); !follows.empty()) out.follows = fork_follows(follows);
  const auto reach = number(front, "reach"), stack = number(front, "stack");
  if (reach && stack) {
    out.head_tube = bike::HeadTube{{*reach, *stack}, number(front, "head_tube")};
    out.axle = axle_from_head_tube(front, out.head_tube->top, out.head_angle);
  }
  if (const auto axle = two_numbers(sound(front, "axle"))) {
    out.axle = {axle->first, axle->second};
    return true;
  }
  const bool fork = number(front, "head_tube") && number(front, "fork_length") && number(front, "fork_offset");
  return reach && stack && fork && number(front, "head_angle");
}

void read_bike(const Node& root, bike::Layout& layout, Problems& problems) {
  layout.title = word(&root, "title");
  const Node* bike = sound(&root, "bike");
  const Node* wheels = sound(bike, "wheels");
  layout.rear_radius = wheel_radius(sound(wheels, "rear"));
  layout.front_radius = wheel_radius(sound(wheels, "front"));
  const Node* front = sound(bike, "front");
  if (read_front(front, layout.front)) check_wheelbase(*front, layout, problems);
  const Node* cg = sound(bike, "cg");
  take_number(cg, "x", layout.cg.x);
  take_number(cg, "height", layout.cg.height);
  if (word(cg, "follows") == "ground") layout.cg.follows = bike::CgFollows::ground;
  read_mass(sound(bike, "mass"), layout, problems);
  if (const auto angle = number(bike, "seat_angle")) layout.seat_angle = angle;
  layout.kind = bike::find_kind(word(bike, "kind"));
  read_drivetrain(sound(&root, "drivetrain"), layout, problems);
  read_sag(sound(&root, "sag"), layout, problems);
}

}  // namespace trammel::brief
