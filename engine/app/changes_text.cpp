// trammel compare A B, in tables.
#include <fmt/core.h>

#include <algorithm>

#include "app/changes.hpp"
#include "app/print.hpp"
#include "app/text.hpp"
#include "brief/problems.hpp"
#include "report/digits.hpp"
#include "report/wording.hpp"
#include "search/references.hpp"

namespace trammel::app {
namespace {

using report::shown;
using Align = TextTable::Align;

/// With its sign; a plain 0 where nothing shows.
std::string difference(double by, int decimals) {
  const std::string text = shown(by, decimals);
  const bool none = text.find_first_not_of("-0.") == text.npos;
  return none ? "0" : (by > 0.0 ? "+" : "") + text;
}

std::string cell(const std::optional<double>& value, int decimals) {
  return value ? shown(*value, decimals) : "–";
}

std::string noted(const Changes::File& file, const std::string& target) {
  const auto found = file.noted.find(target);
  return found == file.noted.end() ? "" : found->second;
}

/// Those of both in one, where they are the same.
void print_notes(const std::string& what, const std::string& a, const std::string& b) {
  if (a == b) return print_out("{}", folded_notes(what + ": ", a, 2));
  print_out("{}{}", folded_notes(what + " in A: ", a, 2), folded_notes(what + " in B: ", b, 2));
}

void print_written(const Changes& changes) {
  if (changes.written.empty() && changes.only_a.empty() && changes.only_b.empty()) {
    print_out("\nwritten: the same, title and points apart\n");
    return;
  }
  TextTable table({Align::left, Align::left, Align::left});
  const auto value = [](const std::string& v) { return v.empty() ? std::string("left out") : v; };
  if (!changes.written.empty()) table.add({"key", "A", "B"});
  for (const brief::Difference& d : changes.written) table.add({d.path, value(d.before), value(d.after)});
  print_out("\nwritten differently:\n{}", table.text(2));
  if (!changes.only_a.empty()) print_out("{}", folded("only A has: " + brief::join(changes.only_a), 2, 4));
  if (!changes.only_b.empty()) print_out("{}", folded("only B has: " + brief::join(changes.only_b), 2, 4));
}

void print_points(const Changes& changes) {
  TextTable table(
      {Align::left, Align::right, Align::right, Align::right, Align::right, Align::right, Align::right, Align::right});
  table.add({"point", "A: x", "y", "B: x", "y", "difference: x", "y", "moved"});
  bool same = true;
  for (const Changes::Point& point : changes.points) {
    std::vector<std::string> row{point.name};
    for (const auto& at : {point.a, point.b})
      row.insert(row.end(), {at ? shown(at->x, 3) : "–", at ? shown(at->y, 3) : "–"});
    if (point.a && point.b) {
      const bike::Point by = *point.b - *point.a;
      row.insert(row.end(),
                 {difference(by.x, 3), difference(by.y, 3), norm(by) > 0.0 ? shown(norm(by), 3) : std::string("0")});
      same = same && norm(by) == 0.0;
    } else {
      row.insert(row.end(), {"", "", point.a ? "only in A" : "only in B"});
      same = false;
    }
    table.add(std::move(row));
  }
  print_out("\npoints, mm{}:\n{}", same ? ": all the same" : "", table.text(2));
}

/// What it achieves; of a path how far off it, since where that is decided may differ.
std::string with_mark(const std::optional<objectives::Verdict>& verdict, const objectives::Target& target) {
  if (!verdict) return "–";
  return (verdict->met ? "✓ " : "✗ ") +
         report::quantity(search::compared(target, *verdict), report::decimals_for(target.tolerance), unit_of(target)) +
         (target.wish.along_path() ? " off" : "");
}

void print_targets(const Changes& changes) {
  if (changes.targets.empty()) return;
  TextTable table({Align::left, Align::left, Align::left, Align::right, Align::right, Align::right});
  table.add({"target", "", "asked for", "A", "B", "difference"});
  for (const Changes::Judged& one : changes.targets) {
    const objectives::Target& target = one.target();
    std::string wished = report::wish(target);
    if (const std::string theirs = one.b ? report::wish(*one.b) : wished; theirs != wished)
      wished.append(" → ").append(theirs);
    table.add({one.name, target.must ? "required" : "preferred", wished, with_mark(one.was, target),
               with_mark(one.is, target),
               one.was && one.is ? difference(search::compared(target, *one.is) - search::compared(target, *one.was),
                                              report::decimals_for(target.tolerance))
                                 : ""});
  }
  print_out("\ntargets:\n{}", table.text(2));
  for (const Changes::Judged& one : changes.targets)
    print_notes("note on " + one.name, noted(changes.a, one.name), noted(changes.b, one.name));
}

void print_curves(const Changes& changes) {
  TextTable table({Align::left, Align::left, Align::right, Align::right, Align::right});
  table.add({"curve", "place", "A", "B", "difference"});
  for (const Changes::Curve& curve : changes.curves) {
    std::string title = curve.unit.empty() ? curve.title : curve.title + ", " + curve.unit;
    for (const Changes::Value& value : curve.values) {
      table.add({title, value.place, cell(value.a, curve.decimals), cell(value.b, curve.decimals),
                 value.a && value.b ? difference(*value.b - *value.a, curve.decimals) : ""});
      title.clear();
    }
  }
  print_out("\ncurves, each layout at its own places; differences are B less A:\n{}", table.text(2));
}

}  // namespace

void print_changes(const Changes& changes) {
  print_out("A: {}, {}\nB: {}, {}\n", changes.a.title, changes.a.path.string(), changes.b.title,
            changes.b.path.string());
  for (const Changes::File* file : {&changes.a, &changes.b})
    if (!file->remark.empty()) complain("warning: {}\n", file->remark);
  print_notes("notes", changes.a.notes, changes.b.notes);
  print_written(changes);
  if (!changes.drawn) {
    print_out("\n{}", folded("A brief that names linkages draws none: points, targets and curves are compared of "
                             "layouts, such as those of its study.",
                             0, 0));
    return;
  }
  print_points(changes);
  for (const auto& [file, name] : {std::pair(&changes.a, "A"), std::pair(&changes.b, "B")})
    if (!file->failure.empty()) print_out("\n{}", folded(std::string(name) + " " + file->failure, 0, 2));
  print_targets(changes);
  if (!changes.no_curves.empty())
    print_out("\n{}", folded("as drawn one of them " + changes.no_curves + "; no curves are compared", 0, 2));
  else if (!changes.curves.empty())
    print_curves(changes);
}

}  // namespace trammel::app
