// What every packaging rule says of itself. A rule is one file of this folder and one line of rules/table.hpp: a struct
// of static members, which search, gradient, verdict, reserve, conflict, proof and words all read.
//
//   record              RuleRecord: its name, unit and depth
//   stage               when it can be asked
//   misses(…)           by how much each of its items is missed, as a multiple of its scale, negative when it holds, in
//                       every number type: what the search's figure adds up and takes slopes of
//   watches(…)          the distances along the stroke that it needs watched; stage `stroke` only
//   judge(…)            its verdicts
//   demands(…)          which of its demands can be dropped by themselves
//   drop(…)             one of these demands
//   draw_in(…)          all of them, by a reserve for errors in making
//   prove(…)            sentences on demands that the ranges exclude
//
// What a rule does not say it has from RuleDefaults: nothing watched, dropped, drawn in or proven.
#pragma once

#include <string>
#include <string_view>
#include <vector>

#include "bike/separation.hpp"
#include "objectives/packaging.hpp"
#include "objectives/verdict.hpp"

namespace trammel::bike {
struct Model;
}

namespace trammel::objectives {

struct Demands;
template <class T>
struct Outcome;

struct RuleRecord {
  std::string_view name;  ///< in a report
  std::string_view unit;  ///< mm, °, or empty for a ratio
  double depth;  ///< so far inside its limit the margin is 1, in the unit; of an interval half its width at most
};

enum class RuleStage {
  drawn,   ///< by the points as drawn
  stroke,  ///< by what is watched at the stations of a march
  room,    ///< by the room between bodies
  judged,  ///< by what is worked out of a layout that is judged: a search takes no slopes of it
};

/// One number of an outcome that has derivatives.
struct Quantity {
  enum class Kind {
    value,         ///< the `of`-th judged value of target `index`
    transmission,  ///< the least sin² of a joint's transmission angle
    distance2,     ///< the least squared distance of a separation
    slope,         ///< the least d(wheel travel)/ds
    room,          ///< a measure of the room
    drawn,         ///< by how much a rule on the points as drawn is missed
  };
  Kind kind = Kind::value;
  std::size_t index = 0, of = 0;
};

enum class Told {
  all,
  all_but_kept_distances,  ///< which say nothing to who sums up what is missed, and cost a root each
};

/// A distance that a rule needs watched.
struct Watched {
  bike::Separation of;
  double radii = 0.0;  ///< what of it is taken up by round parts that do not change, mm
};

/// A demand of a rule that can be dropped by itself.
struct RuleDemand {
  std::size_t item = 0;  ///< its number, by which the rule knows it
  std::string name;      ///< "box of mount, x"
  double step = 1.0;     ///< a small amount of it, in the rule's unit
  double most = 256.0;   ///< the most that it could give
  std::string limits;    ///< "at most 24 mm"
  Origin origin = Origin::brief;
};

/// Where points may lie over all ranges of a brief.
class PointRanges {
 public:
  virtual ~PointRanges() = default;
  virtual Interval x(int point) const = 0;
  virtual Interval y(int point) const = 0;
  /// Least and greatest distance of two points.
  virtual Interval distance(int a, int b) const = 0;
};

/// What errors in making take off a limit: `deviations` standard deviations of each point in x and y, mm.
struct ErrorReserve {
  double deviations = 0.0;
  std::vector<linkage::Point> points;

  double of_x(int point) const { return deviations * points[static_cast<std::size_t>(point)].x; }
  double of_y(int point) const { return deviations * points[static_cast<std::size_t>(point)].y; }
  /// Of the distance of any two points, which are off independently.
  double of_distance() const;
};

/// Most of a band's depth that a reserve may take: something must be left to aim at.
inline constexpr double most_reserve = 0.9;
/// Draws an interval in from both ends.
void draw_in(Interval& side, double by);

struct RuleDefaults {
  static std::vector<Watched> watches(const bike::Model&, const Packaging&) { return {}; }
  static std::vector<RuleDemand> demands(const Packaging&, const linkage::Mechanism&) { return {}; }
  static void drop(Packaging&, std::size_t) {}
  static void draw_in(Packaging&, const ErrorReserve&) {}
  static void prove(const Packaging&, const linkage::Mechanism&, const PointRanges&, std::vector<std::string>&) {}
};

/// "a–b".
std::string pair_name(const linkage::Mechanism& mechanism, int a, int b);
const std::string& point_name(const linkage::Mechanism& mechanism, int point);

/// Collects the verdicts of one rule after the other.
class RuleJudge {
 public:
  RuleJudge(const Outcome<double>& outcome, std::vector<RuleVerdict>& out) : outcome_(outcome), out_(out) {}

  /// Whose verdicts come next.
  void begin(std::size_t rule, const RuleRecord& record) {
    rule_ = rule;
    record_ = &record;
  }
  struct Found {
    std::size_t item = 0;
    double achieved = 0.0, demanded = 0.0;
    std::string where;
    double inside = 0.0;    ///< distance inside the limit in the rule's unit; negative outside
    double station = 0.0;   ///< of the march
    std::string name = {};  ///< other than the record's
    double depth = 0.0;     ///< other than the record's
    Origin origin = Origin::brief;
  };
  /// Adds a verdict, met when it is not outside.
  RuleVerdict& add(Found found);

 private:
  const Outcome<double>& outcome_;
  std::vector<RuleVerdict>& out_;
  std::size_t rule_ = 0;
  const RuleRecord* record_ = nullptr;
};

}  // namespace trammel::objectives
