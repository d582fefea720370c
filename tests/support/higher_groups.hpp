// Linkages that no single guess opens: floating bodies held by several links at once.
#pragma once

#include "tests/support/builder.hpp"

namespace trammel::test {

/// A floating body on three links, one of them a driven crank: an Assur group of the third class.
inline linkage::Mechanism triad() {
  return MechanismBuilder()
      .point("O", 0, 0)
      .point("A", 0, 60)
      .point("F2", 200, -20)
      .point("F3", 150, 260)
      .point("P1", 20, 160)
      .point("P2", 160, 90)
      .point("P3", 90, 200)
      .member("frame", {"O", "F2", "F3"})
      .member("crank", {"O", "A"})
      .member("leg one", {"A", "P1"})
      .member("leg two", {"F2", "P2"})
      .member("leg three", {"F3", "P3"})
      .member("body", {"P1", "P2", "P3"})
      .turn("crank", -0.45)  // the other way it comes to a dead point at 0.36
      .build();
}

/// Two floating bodies joined by two links, hung on three links of the frame and driven by a shock: placing one body
/// on a guess does not place the other.
inline linkage::Mechanism two_bodies() {
  return MechanismBuilder()
      .point("F1", -160, 0)
      .point("F2", -40, 0)
      .point("F4", 260, 20)
      .point("P1", -150, 120)
      .point("P2", -50, 110)
      .point("P3", -60, 200)
      .point("P4", -20, 150)
      .point("Q1", 220, 140)
      .point("Q3", 60, 230)
      .point("Q4", 80, 140)
      .point("eye", 190, 220)
      .point("mount", 330, 160)
      .member("frame", {"F1", "F2", "F4", "mount"})
      .member("leg one", {"F1", "P1"})
      .member("leg two", {"F2", "P2"})
      .member("leg four", {"F4", "Q1"})
      .member("left", {"P1", "P2", "P3", "P4"})
      .member("right", {"Q1", "Q3", "Q4", "eye"})
      .member("upper rod", {"P3", "Q3"})
      .member("lower rod", {"P4", "Q4"})
      .shock("mount", "eye", 20)
      .build();
}

}  // namespace trammel::test
