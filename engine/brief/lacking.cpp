// What a file must say for a curve that is asked of its layout.
#include "brief/parts.hpp"

namespace trammel::brief {

std::string lacking(bike::Needs needs, const Node& root) {
  const auto given = [&](std::initializer_list<std::string_view> path) {
    const Node* node = &root;
    for (const auto key : path) node = node == nullptr ? nullptr : node->find(key);
    return node != nullptr;
  };
  switch (needs) {
    case bike::Needs::nothing:
    case bike::Needs::point:
    case bike::Needs::points:
      return "";
    case bike::Needs::pivot:
      if (given({"shock"})) return given({"loads", "cases"}) ? "" : "loads.cases, and the layout has none";
      [[fallthrough]];
    case bike::Needs::shock:
      return given({"shock"}) ? "" : "a shock, and the layout is driven without one";
    case bike::Needs::spring:
      return given({"shock", "spring"}) ? "" : "shock.spring, and the layout has none";
    case bike::Needs::gear:
      return given({"drivetrain"}) ? "" : "a drivetrain, and the layout has none";
    case bike::Needs::seat_angle:
      return given({"bike", "seat_angle"}) ? "" : "bike.seat_angle, and the layout has none";
    case bike::Needs::rider:
    case bike::Needs::coil:
    case bike::Needs::air:
    case bike::Needs::landing:
      if (!given({"shock", "spring"})) return "shock.spring, and the layout has none";
      if (needs == bike::Needs::coil && !given({"shock", "spring", "coil"}))
        return "shock.spring.coil, and the spring is another";
      if (needs == bike::Needs::air && !given({"shock", "spring", "air"}))
        return "shock.spring.air, and the spring is another";
      if (!given({"bike", "mass"})) return "bike.mass, and the layout has none";
      return needs != bike::Needs::landing || given({"loads", "landing"}) ? ""
                                                                          : "loads.landing, and the layout has none";
    case bike::Needs::head_tube:
      break;
  }
  return given({"bike", "front", "reach"}) ? "" : "the head tube, and bike.front has no reach and stack";
}

}  // namespace trammel::brief
