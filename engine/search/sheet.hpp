// A finished study as its reader wants it: everything the report prints, already computed.
#pragma once

#include <cstdint>
#include <optional>
#include <string>
#include <vector>

#include "bike/body_outlines.hpp"
#include "bike/geometry.hpp"
#include "bike/loads.hpp"
#include "bike/set_up.hpp"
#include "bike/table.hpp"
#include "brief/brief.hpp"
#include "objectives/guidance.hpp"
#include "objectives/merge.hpp"
#include "search/account.hpp"
#include "search/close_places.hpp"
#include "search/conflict.hpp"
#include "search/departure.hpp"
#include "search/family_sheet.hpp"
#include "search/front_set.hpp"
#include "search/tolerance_sheet.hpp"

namespace trammel::search {

/// One varied number of the brief.
struct VariedValue {
  std::string name;  ///< e.g. "main.x", "eye.length", "eye.angle"
  std::string unit;  ///< mm or °
  double lo = 0.0;
  double hi = 0.0;
  double value = 0.0;
};

/// A shortlisted layout in one of its settings and sizes.
struct CaseSheet {
  std::string name;                   ///< "low", "M", "low-M"
  bike::Layout layout;                ///< as a layout of its own
  objectives::CaseAssessment judged;  ///< the targets that hold in it
  bike::CurveTable curves;            ///< through the whole stroke, every curve
  double travel = 0.0;                ///< bottomed, mm
  std::vector<bike::GeometryRow> geometry;
  std::vector<bike::SetUpRow> set_up;
  std::vector<objectives::Remark> guidance;
};

/// A shortlisted layout.
struct Sheet {
  int rank = 0;         ///< from 1
  std::string id;       ///< "unit-index", stable for a brief and seed
  bike::Layout layout;  ///< with its numbers; of several cases the first
  objectives::Assessment assessment;
  std::vector<std::optional<Departure>> departures;  ///< one a target; of several cases empty
  std::vector<VariedValue> varied;
  bike::Motion motion;  ///< through the whole stroke, every curve
  bike::Pose topped_out, at_sag, bottomed;
  std::vector<bike::BodyOutline> bodies_topped_out, bodies_at_sag, bodies_bottomed;
  std::vector<ClosePlace> close_places;  ///< of several cases the first
  std::vector<bike::GeometryRow> geometry;
  std::vector<bike::SetUpRow> set_up;        ///< one a rider; empty without a spring and masses
  std::vector<bike::CaseLoads> loads;        ///< one a load case
  std::vector<objectives::Remark> guidance;  ///< of several cases of the first
  std::optional<bike::Layout> drawn;         ///< with its settings and sizes, where it has any
  std::vector<CaseSheet> cases;              ///< likewise, every setting in every size
  std::string go_on;                         ///< a brief that goes on from it, every point free; empty where none can
  Account account;                           ///< among the others of the shortlist
  std::optional<ToleranceSheet> tolerance;
  std::string linkage;       ///< what reports call its linkage; empty when the brief draws its own
  bool closer_look = false;  ///< found by the closer look at a conflict, and not by a work unit of the study

  /// As drawn, with its settings and sizes where it has any.
  const bike::Layout& whole() const { return drawn ? *drawn : layout; }
};

/// An existing layout, judged by the brief's targets as drawn.
struct ReferenceSheet {
  std::string name;
  Sheet sheet;                                  ///< its assessment is of the targets that it can be judged by
  std::vector<std::optional<double>> achieved;  ///< one a target of the brief; of a path, how far off it
  /// With tolerances: between which values nine tenths of the bikes lie that it may be; else empty.
  std::vector<std::optional<std::pair<double, double>>> spread;
};

struct References {
  std::vector<ReferenceSheet> layouts;
  std::vector<std::vector<double>> values;  ///< of each target, those that the references achieve, rising
  std::vector<std::string> left_out;        ///< those that do not move, and why
  std::vector<double> fractions;            ///< of wheel travel, at which …
  std::vector<CurveBand> bands;  ///< … a tenth of the references lies below and a tenth above; keys are the
                                 ///< brief's
};

/// A ranked layout that the report shows only as a mark in its scatter and parallel-axes views.
struct Mark {
  std::string id;
  bool feasible = false;
  double score = 0.0;
  double margin = 0.0;
  std::vector<double> achieved;     ///< one a target, in the brief's order
  std::vector<double> varied;       ///< one a varied value, in sheet order
  int rank_in_shortlist = 0;        ///< 0 = not shortlisted
  std::string linkage;              ///< as in a sheet
  std::vector<bike::Point> points;  ///< topped out, frame axes, mm, in the layout's order
};

/// A layout on the front of a trade-off.
struct TradeOffPoint {
  std::vector<double> figures;  ///< one a group: tolerances beyond what is wished; negative = inside
  Sheet sheet;                  ///< its rank is its place on the front
};

/// The front of one of the brief's trade-offs; without points when no layout met every must.
struct TradeOffSheet {
  std::vector<std::vector<int>> between;  ///< targets of each group, by number
  bool keep_wishes = false;               ///< the wishes of targets in no group hold as well
  double resolution = 0.0;
  std::vector<VariedValue> varied;    ///< names, units and ranges of the points' own; no values
  std::vector<TradeOffPoint> points;  ///< by the figures in order
  double hypervolume = 0.0;           ///< share of the front's box that the points outdo
  Spread spread;
  std::int64_t evaluations = 0;
  std::string linkage;  ///< as in a sheet
};

struct FailureCount {
  std::string cause;  ///< e.g. "does not assemble at tail"
  std::int64_t count = 0;
};

/// What a study found for one of the linkages that its brief names.
struct LinkageSheet {
  std::string name;   ///< the template's
  std::string title;  ///< what reports call it
  std::int64_t units = 0, screened = 0, refined = 0;
  std::int64_t kept = 0;                    ///< refined layouts in the study file
  std::int64_t feasible = 0;                ///< of those, how many meet every must
  std::vector<FailureCount> failures = {};  ///< most frequent first
  std::vector<std::string> proven = {};     ///< why no layout of it can meet every must, see `proven_conflicts`
  std::optional<Sheet> best = {};  ///< first in order of merit, whether it meets every must or not; absent when no
                                   ///< layout was kept
};

struct StudySummary {
  std::string study;  ///< the folder's name
  std::string engine_version;
  std::uint64_t seed = 0;
  std::int64_t units = 0;     ///< committed work units
  std::int64_t screened = 0;  ///< layouts screened
  std::int64_t refined = 0;   ///< refinements run
  std::int64_t kept = 0;      ///< refined layouts in the study file
  std::int64_t feasible = 0;  ///< of those, how many meet every must
  std::string digest;
  std::vector<FailureCount> failures;  ///< most frequent first
};

struct StudyReport {
  brief::Brief brief;
  StudySummary summary;
  std::vector<Sheet> shortlist;           ///< in rank order
  Families families;                      ///< of the layouts that meet every must
  std::vector<TradeOffSheet> trade_offs;  ///< in the brief's order
  std::vector<Mark> marks;                ///< the best kept layouts, in rank order, shortlisted ones included
  References references;                  ///< empty unless the brief names some
  std::optional<Conflict> conflict;       ///< set when no work unit found a layout that meets every must
  std::vector<LinkageSheet> linkages;     ///< in the brief's order; empty when the brief draws its own
};

}  // namespace trammel::search
