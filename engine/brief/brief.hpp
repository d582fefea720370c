// A brief as plain structs: a layout whose numbers may be ranges, and what is wished of it.
#pragma once

#include <cstdint>
#include <optional>
#include <span>
#include <string>
#include <utility>
#include <variant>
#include <vector>

#include "bike/layout.hpp"
#include "brief/tolerances.hpp"
#include "objectives/packaging.hpp"
#include "objectives/target.hpp"

namespace trammel::brief {

/// A number or a range; lo = hi for a fixed number.
struct Range {
  double lo = 0.0;
  double hi = 0.0;
  bool fixed() const { return lo == hi; }
};

/// A point by x and y, in frame axes or from another point, as that one lies topped out. A coordinate that the brief
/// leaves out is fixed at its drawn value.
struct Cartesian {
  Range x;        ///< mm
  Range y;        ///< mm
  int from = -1;  ///< −1 = from the bottom bracket
};

/// A point by distance and angle from another point, as that one lies topped out.
struct Polar {
  int from = -1;
  Range length;                  ///< mm, > 0; ignored when `length_is_shock`
  bool length_is_shock = false;  ///< the shock's eye-to-eye length, so that the shock fits by construction
  /// Two points whose distance is the length, so that two links may be cut from one part.
  std::optional<std::pair<int, int>> as_long_as = {};
  Range angle;  ///< degrees from +x, counter-clockwise
  /// Whether `length` says how far it lies.
  bool own_length() const { return !length_is_shock && !as_long_as; }
};

/// A point that mirrors another, about a point or in the line through two.
struct Mirrored {
  int of = -1;
  int about = -1;
  int through = -1;  ///< −1 = about the point alone
};

/// A point that keeps its drawn place on a body that two others are of: a + (b − a) · along + (b − a turned by a
/// quarter counter-clockwise) · across. The two keep their distance, so that the body keeps its shape.
struct OnBody {
  int a = -1;
  int b = -1;
  double along = 0.0;   ///< as a share of their distance
  double across = 0.0;  ///< likewise
};

struct Vary {
  int point = -1;
  std::variant<Cartesian, Polar, Mirrored, OnBody> place;
  bool follows = false;  ///< its member keeps its shape: nothing in the brief places it
  /// The points without which it cannot be placed.
  std::vector<int> needs() const;
};

struct ShockSize {
  double length = 0.0;  ///< mm
  double stroke = 0.0;  ///< mm
};

/// A trade-off to be laid open: two or three groups of targets.
struct TradeOff {
  std::vector<std::vector<int>> between;  ///< targets of each group, by number; none in two groups
  bool keep_wishes = false;               ///< the wishes of targets in no group hold like musts
  double resolution = 0.1;                ///< neighbours' distance on the front, in the box that it spans
};

struct SearchOptions {
  std::uint64_t seed = 1;
  int units = 64;                      ///< work units of a run without another budget
  int samples = 2048;                  ///< layouts screened in a unit
  int refine = 6;                      ///< diverse starts refined in a unit
  int evaluations = 300;               ///< most evaluations of one refinement
  std::string algorithm = "LD_LBFGS";  ///< by NLopt's own name
  int shortlist = 8;                   ///< layouts reported
  double distinct = 0.2;               ///< least distance between shortlisted layouts, RMS over the ranges
  double distinct_curves = 1.0;        ///< the same in what the targets look at, in tolerances
  double room = 0.25;                  ///< margin that every must and rule is to keep before wishes count, 0 … 1
  std::vector<TradeOff> trade_offs;
  bool rank_by_yield = false;   ///< the shortlist is ordered by the share of built frames that keep the musts
  std::optional<double> yield;  ///< that refinement aims at, 0 < yield < 1; absent = the musts as drawn
  double grid = 0.0;            ///< mm, on which varied coordinates are reported; 0 = a thousandth of a millimetre
  double eye_error = 0.0;       ///< mm that the eyes' distance may be off the shock's, so that both are on the grid
};

/// A brief without `vary`, `targets` is a layout; every field below `layout` then holds its default.
struct Brief {
  bike::Layout layout;            ///< the drawn layout: start of dependent coordinates, and the branch of every dyad
  std::vector<Vary> vary;         ///< in an order in which every point that another needs is placed before it
  std::vector<ShockSize> shocks;  ///< choices; empty = the layout's own
  std::vector<int> idlers;        ///< teeth to choose from; empty = the layout's own
  std::vector<int> chainrings;    ///< likewise
  std::vector<objectives::Target> targets;
  objectives::Packaging packaging;
  SearchOptions search;
  std::string references;  ///< folder of existing layouts to compare with, as given: beside the brief; empty = none
  std::optional<Tolerances> tolerances;
  bool inches_too = false;  ///< reports give lengths in mm and in inches
  std::string text;         ///< the file as read
  std::string file;         ///< its name, for messages
  /// As a study keeps it: all that was read from other files is in its text, and it names none that is still to be
  /// read.
  bool kept = false;

  /// Of a brief that names linkage templates: one whole brief each, alike but for layout, vary and idlers, and the
  /// points that their packaging speaks of. All of the above is then the first one's.
  std::vector<Brief> linkages;
  std::string linkage;        ///< in one of these: the template's name …
  std::string linkage_title;  ///< … and what reports call it
};

/// The linkages of a brief; of one that draws its own, that brief alone.
inline std::span<const Brief> linkages_of(const Brief& brief) {
  return brief.linkages.empty() ? std::span<const Brief>(&brief, 1) : std::span<const Brief>(brief.linkages);
}

}  // namespace trammel::brief
