#include "app/draft_from.hpp"

#include <fmt/core.h>

#include <algorithm>
#include <cmath>

#include "app/origin.hpp"
#include "app/references.hpp"
#include "app/verbs.hpp"
#include "bike/stance.hpp"
#include "brief/fields.hpp"
#include "brief/notes.hpp"
#include "brief/ranges_around.hpp"
#include "draft/answers.hpp"
#include "draft/moved_points.hpp"
#include "draft/onward.hpp"
#include "report/digits.hpp"
#include "report/wording.hpp"
#include "search/drawn.hpp"

namespace trammel::app {
namespace {

using report::shown;

using Messages = std::vector<std::string>;

/// The study's copy of the existing layouts, as a path from where the brief will lie; empty where there is none, or
/// where the path is longer than a brief takes.
std::string references_for(const Origin& origin, const std::optional<std::filesystem::path>& out, Messages& say) {
  if (!origin.of || origin.of->references.empty()) return "";
  const std::filesystem::path folder =
      origin.study
          ? *origin.study / references_folder
          : std::filesystem::absolute(std::filesystem::path(origin.of->file).parent_path() / origin.of->references);
  const std::filesystem::path from =
      out ? std::filesystem::absolute(*out).parent_path() : std::filesystem::current_path();
  std::string near = folder.lexically_normal().lexically_relative(from.lexically_normal()).string();
  if (!near.empty() && near.size() <= brief::longest_text) return near;
  say.push_back("warning: the path of the existing layouts, " + folder.string() +
                ", is longer than a brief takes; put in another");
  return "";
}

draft::Onward start(const FromArguments& a, const Origin& origin, Messages& say) {
  draft::Onward out;
  out.layout = origin.file.layout;
  out.name = a.layout.string();
  out.notes = brief::notes_of(origin.file).layout;
  if (out.notes.empty() && origin.of) out.notes = brief::notes_of(*origin.of).layout;
  out.of = origin.of;
  out.keep = a.keep;
  out.within = a.within;
  out.references = references_for(origin, a.out, say);
  if (a.kind) {
    const auto kind = draft::read_kind(*a.kind);
    if (!kind.value) throw BadInput("--kind: " + kind.flaw);
    out.kind = kind.value;
  }
  return out;
}

void say_where_from(const FromArguments& a, const Origin& origin, const draft::Onward& from, Messages& say) {
  if (!origin.remark.empty()) say.push_back("warning: " + origin.remark);
  if (from.layout.reading > 0.0)
    say.push_back("its points were read off a picture; they go on as millimetres, to " + shown(from.layout.reading, 1) +
                  " mm");
  if (origin.of) {
    if (!a.wishes && origin.study && origin.file.vary.empty())
      say.push_back("targets: those of the study in " + origin.study->string());
    return;
  }
  const bool kind = from.layout.kind || from.kind;
  say.push_back(a.layout.string() +
                (kind ? " lies in no study and has no targets: those usual for its kind are put in; --targets BRIEF "
                        "takes those of a brief"
                      : " lies in no study, has no targets and says no kind of bike: only its travel is put in; "
                        "--targets BRIEF takes those of a brief, --kind puts in what is usual"));
}

search::Drawn judged(const brief::Brief& brief) {
  return search::judge_drawn(brief.layout, brief.targets, brief.packaging);
}

brief::Brief read_draft(const std::string& text, const std::filesystem::path& layout) {
  brief::Reading reading = brief::read_text(text, layout.string());
  if (!reading.ok()) throw std::logic_error(reading.message());
  return std::move(reading.brief);
}

/// What no longer holds of a layout whose points were moved, a line each.
class Losses {
 public:
  Losses(const brief::Brief& before, const brief::Brief& after) : before_(before), after_(after) {
    const search::Drawn was = judged(before), is = judged(after);
    shock();
    level();
    if (!is.moves()) {
      for (const search::DrawnCase& one : is.cases)
        if (one.failure) add("it " + *one.failure + (one.name.empty() ? "" : " in " + one.name));
      return;
    }
    targets(was, is);
    rules(was, is);
  }

  const std::vector<std::string>& lines() const { return lines_; }

 private:
  void add(std::string line) { lines_.push_back(std::move(line)); }

  void shock() {
    const auto& drive = after_.layout.mechanism.drive;
    if (!after_.layout.shock || drive.a < 0 || drive.b < 0) return;
    const auto& points = after_.layout.mechanism.points;
    const double apart = norm(points[static_cast<std::size_t>(drive.a)] - points[static_cast<std::size_t>(drive.b)]);
    if (std::abs(apart - after_.layout.shock->length) > brief::length_slack)
      add("the shock's eyes are " + shown(apart, 2) + " mm apart, and it is " + shown(after_.layout.shock->length, 2) +
          " mm long; the search holds its length");
  }

  void level() {
    const double slack = bike::level_slack(after_.layout);
    const double was = bike::stance(before_.layout).front_higher, is = bike::stance(after_.layout).front_higher;
    if (std::abs(is) > slack && std::abs(was) <= slack)
      add("the bike is no longer level: the front tyre stands " + shown(std::abs(is), 1) + " mm " +
          (is < 0.0 ? "below" : "above") + " the rear one");
  }

  void targets(const search::Drawn& was, const search::Drawn& is) {
    for (std::size_t t = 0; t < after_.targets.size(); ++t) {
      const objectives::Target& target = after_.targets[t];
      const objectives::Verdict& now = is.judged->targets[t];
      const bool met_before = !was.moves() || was.judged->targets[t].met;
      if (now.met || !met_before) continue;
      const int digits = report::decimals_for(target.tolerance);
      add(target.name + (target.must ? " (required): " : " (preferred): ") +
          report::quantity(now.achieved, digits, unit_of(target)) + ", asked for " + report::wish(target) +
          (was.moves() ? ", was " + report::quantity(was.judged->targets[t].achieved, digits, unit_of(target)) : ""));
    }
  }

  /// Verdicts on rules come in an order of their own: the worst of a kind may be of another joint.
  void rules(const search::Drawn& was, const search::Drawn& is) {
    for (const objectives::RuleVerdict& rule : is.judged->rules) {
      if (rule.met) continue;
      const auto same = [&](const objectives::RuleVerdict& other) {
        return other.name == rule.name && other.where == rule.where && !other.met;
      };
      if (was.moves() && std::any_of(was.judged->rules.begin(), was.judged->rules.end(), same)) continue;
      add(rule.name + ", " + rule.where + ": " + report::quantity(rule.achieved, 2, rule.unit) + ", demanded " +
          report::quantity(rule.demanded, 2, rule.unit));
    }
  }

  const brief::Brief& before_;
  const brief::Brief& after_;
  std::vector<std::string> lines_;
};

std::string moved_words(const bike::Layout& before, const bike::Layout& after) {
  std::string moved;
  for (std::size_t p = 0; p < before.mechanism.points.size(); ++p) {
    const bike::Point by = after.mechanism.points[p] - before.mechanism.points[p];
    if (norm(by) > 0.0)
      moved += fmt::format("{}{} by {}, {}", moved.empty() ? "" : "; ", before.mechanism.point_names[p], shown(by.x, 3),
                           shown(by.y, 3));
  }
  return "moved: " + (moved.empty() ? "no point" : moved + " (mm)");
}

/// Puts the moved points in, and says everything that no longer holds.
std::string with_moved_points(const FromArguments& a, const Origin& origin, draft::Onward from, Messages& say) {
  const bike::Layout before = from.layout;
  const brief::Brief drafted_before = read_draft(draft::onward(from), a.layout);
  const draft::MovedPoints moved = draft::read_moved(*a.points, before);
  from.layout.mechanism.points = moved.points;
  std::string text = draft::onward(from);
  say.insert(say.end(), moved.remarks.begin(), moved.remarks.end());
  say.push_back(moved_words(before, from.layout));
  const Losses losses(drafted_before, read_draft(text, a.layout));
  const std::string outside =
      origin.of && origin.of->linkages.empty() ? brief::outside_ranges(from.layout, *origin.of) : std::string();
  if (losses.lines().empty() && outside.empty()) {
    say.emplace_back("all that held still holds");
    return text;
  }
  say.emplace_back("no longer holds:");
  for (const std::string& line : losses.lines()) say.push_back("  " + line);
  for (std::size_t at = 0; at < outside.size();) {
    const std::size_t end = outside.find('\n', at);
    say.push_back("  " + outside.substr(at, end - at));
    at = end + 1;
  }
  return text;
}

}  // namespace

Draft draft_from(const FromArguments& a) {
  const Origin origin = read_with_origin(a.layout, a.wishes);
  if (!origin.file.linkages.empty())
    throw BadInput("--from: " + a.layout.string() +
                   " names linkages and draws none; give a layout of its study, such as layouts/01/layout.yaml");
  Draft out;
  const draft::Onward from = start(a, origin, out.messages);
  try {
    out.text = a.points ? with_moved_points(a, origin, from, out.messages) : draft::onward(from);
    say_where_from(a, origin, from, out.messages);
    return out;
  } catch (const draft::NoWayOn& e) {
    throw BadInput(e.what());
  }
}

}  // namespace trammel::app
