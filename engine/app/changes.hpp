// trammel compare A B: what changed between two briefs or two revisions of a layout.
#pragma once

#include <filesystem>
#include <map>
#include <optional>
#include <string>
#include <vector>

#include "app/call.hpp"
#include "bike/layout.hpp"
#include "brief/meaning.hpp"
#include "objectives/target.hpp"
#include "objectives/verdict.hpp"

namespace trammel::app {

struct Changes {
  struct File {
    std::filesystem::path path;
    std::string title;
    std::string notes;                         ///< of the whole
    std::map<std::string, std::string> noted;  ///< of targets, by their names
    std::string remark;                        ///< why the study that it lies in tells nothing; else empty
    std::string failure;                       ///< why it does not move; else empty
  };
  struct Point {
    std::string name;
    std::optional<bike::Point> a, b;  ///< mm; absent where only the other has it
  };
  /// A target of either, as each can be judged by it; at least one can.
  struct Judged {
    std::string name;
    std::optional<objectives::Target> a, b;
    std::optional<objectives::Verdict> was, is;  ///< absent where it cannot be judged, or does not move
    const objectives::Target& target() const { return a ? *a : *b; }
  };
  /// A curve at a place, whose travel may differ in the two.
  struct Value {
    std::string place;
    std::optional<double> a, b;  ///< one at least
  };
  struct Curve {
    std::string key, title, unit, gear;
    int decimals = 0;  ///< places that show a tenth of its tolerance
    std::vector<Value> values;
  };

  File a, b;
  std::vector<brief::Difference> written;   ///< what both say, titles and points left out, and say differently
  std::vector<std::string> only_a, only_b;  ///< keys of a file's top
  bool drawn = true;                        ///< false where one names linkages and draws none: all below is empty
  std::vector<Point> points;
  std::vector<Judged> targets;
  std::vector<Curve> curves;
  std::string no_curves;  ///< why none are compared of two that move; else empty
};

/// Compares the two. `travels` are further places for the curves, in mm of wheel travel. Throws BadInput.
Changes changes_between(const std::filesystem::path& a, const std::filesystem::path& b,
                        const std::vector<double>& travels);

/// In tables, each with a column of differences, B less A.
void print_changes(const Changes& changes);

/// The same for programs.
Json changes_json(const Changes& changes);

}  // namespace trammel::app
