// The assembly program: a mechanism turned into a short list of closed-form steps.
//
// Given the driving coordinate, each step puts one more point, starting from the frame's. Where no closed form opens
// the next point, a few unknowns (*tears*: the angle of a link, the place of a shoe on its rail) are guessed, the
// steps go on in closed form, and the constraints left over (*closures*) correct the guess by Newton's method. This
// is the modular (Assur-group) treatment of planar linkages; source: Kinzel & Chang, "The analysis of planar linkages
// using a modular approach", Mech. Mach. Theory 19 (1984) 165–172 (from memory).
#pragma once

#include <string>
#include <vector>

#include "linkage/mechanism.hpp"

namespace trammel::linkage {

/// A scalar condition on one point, C, against parts that are already placed.
enum class Rule {
  distance,  ///< |C − a| keeps its drawn value; the constant is the square of that
  shock,     ///< |C − a| = drawn value − s (+ s when the shock extends)
  line,      ///< C keeps its drawn offset from the line through a and b
  level,     ///< C.y = drawn value + s
};

struct Constraint {
  Rule rule = Rule::distance;
  int a = -1;
  int b = -1;
  int part = -1;      ///< what holds it: of a distance the member, of a line the slider
  int constant = -1;  ///< index of its constant in Geometry::constants
};

enum class StepKind {
  place,  ///< a further point of a member whose points a and b are placed
  meet,   ///< the point where two constraints meet, on the drawn branch
  hinge,  ///< a member turning about a, whose line (line_a, line_b) must pass by the placed point b at its drawn offset
  spin,   ///< a point of a member turning about a, by the driven angle or a tear
  slide,  ///< a point on the line through a and b, at a tear's place
};

struct Step {
  StepKind kind = StepKind::place;
  int point = -1;  ///< the point that it puts
  int a = -1;
  int b = -1;
  int part = -1;        ///< what holds the point: of place and spin the member, of hinge and slide the slider
  Constraint one, two;  ///< meet
  int line_a = -1;      ///< hinge
  int line_b = -1;
  int tear = -1;      ///< spin, slide: which tear; −1 = driven by s
  int constant = -1;  ///< first of its own constants
  int scratch = -1;   ///< first of its own scratch values
};

/// A constraint left over in a block, on a point that the block's steps have put.
struct Closure {
  int point = -1;
  Constraint rule;
};

/// Steps that run together. Without tears they run once; with tears, until the closures hold.
struct Group {
  int first = 0;  ///< steps first … last − 1
  int last = 0;
  int first_tear = 0;  ///< tears first_tear … first_tear + closures.size() − 1
  std::vector<Closure> closures;
};

/// Something that can fail: a step or a closure, named for messages.
struct Joint {
  std::string name;    ///< e.g. "tail", "rail at shoe", "shock between eye and mount"
  std::string dead;    ///< what has come about where its margin is 0: "swingarm and the shock are in line"; else empty
  bool shock = false;  ///< the shock is one of the two parts that meet here
};

/// The two points that give a member's direction and turning rate.
struct Base {
  int a = -1;
  int b = -1;
};

struct Program {
  Mechanism mechanism;
  std::vector<Step> steps;
  std::vector<Group> groups;
  std::vector<Joint> joints;  ///< one a margin of the state: step i has margin i, then one a group with tears
  std::vector<Base> bases;    ///< one a member; −1 for a member with one point
  int constants = 0;
  int scratch = 0;
  int tears = 0;
  int margins() const { return static_cast<int>(joints.size()); }
};

/// Compiles a mechanism. Throws CompileFailure listing everything that is wrong with it: points that no member or two
/// members share twice, a degree of freedom other than one with the members that are loose or locked, a drive that
/// moves nothing.
Program compile(const Mechanism& mechanism);

struct CompileFailure {
  std::vector<std::string> problems;
};

/// Degrees of freedom of the mechanism without its drive, for points in general position, and which members move.
struct Mobility {
  int freedoms = 0;
  std::vector<bool> moves;  ///< one a member: it can move relative to the frame
  std::vector<bool> loose;  ///< one a member: it can still move with the drive held
};
Mobility mobility(const Mechanism& mechanism);

}  // namespace trammel::linkage
