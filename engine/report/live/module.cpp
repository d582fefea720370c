// The kernel in a layout's page, compiled to WebAssembly from the sources that the program has: positions, curves and
// verdicts of a layout whose points the page moves. Not compiled into the program.
//
// The page calls `trammel_space`, writes a record (report/record.hpp) there and calls `trammel_take`; then, as often as
// it likes, `trammel_place` and `trammel_compute`. What comes of it is a row of numbers: see `Answer`. A layout that
// cannot be moved ends in `page.fail` (math/raise.hpp), after which the page makes a new instance.
#include <algorithm>
#include <cmath>
#include <limits>
#include <set>

#include "bike/body_outlines.hpp"
#include "bike/cases.hpp"
#include "bike/table.hpp"
#include "brief/ranges_around.hpp"
#include "objectives/assessor.hpp"
#include "objectives/merge.hpp"
#include "report/moving_scene.hpp"
#include "report/record.hpp"
#include "report/scene.hpp"

namespace trammel::report {
namespace {

/// Numbers in the order in which they are put; a missing one is NaN, which the page shows as a dash.
class Answer {
 public:
  void clear() { numbers_.clear(); }
  void put(double x) { numbers_.push_back(x); }
  void put(std::size_t n) { put(static_cast<double>(n)); }
  void put(bike::Point p) {
    put(p.x);
    put(p.y);
  }
  void put(const std::optional<double>& x) { put(x.value_or(std::numeric_limits<double>::quiet_NaN())); }
  void put(const std::string& words) {
    put(words.size());
    for (const char c : words) put(static_cast<double>(static_cast<unsigned char>(c)));
  }
  const std::vector<double>& numbers() const { return numbers_; }

 private:
  std::vector<double> numbers_;
};

struct Live {
  std::set<int> kept;  ///< points that a brief that goes on keeps where they are
  std::string record;
  record::Task task;
  Answer answer;
};

Live& live() {
  static Live all;
  return all;
}

void put(const Scene& scene, Answer& out) {
  out.put(scene.strokes.size());
  for (const Stroke& s : scene.strokes) {
    out.put(static_cast<double>(s.part));
    out.put(s.closed ? 1.0 : 0.0);
    out.put(s.width);
    out.put(s.points.size());
    for (const bike::Point& p : s.points) out.put(p);
  }
  out.put(scene.discs.size());
  for (const Disc& d : scene.discs) {
    out.put(static_cast<double>(d.part));
    out.put(d.radius);
    out.put(d.width);
    out.put(d.centre);
  }
  out.put(scene.joints.size());
  for (const Joint& j : scene.joints) out.put(j.at);
}

/// Every column: how many stations, how many columns, then column by column.
void put_table(const bike::CurveTable& table, std::size_t stations, Answer& out) {
  out.put(stations);
  out.put(table.columns.size());
  for (const bike::Column& column : table.columns)
    for (const std::optional<double>& value : column.values) out.put(value);
}

/// The curves that the page shows, one after the other; one that the case has not is missing throughout.
void put_shown(const record::Task& task, const bike::Motion& motion, Answer& out) {
  for (const bike::CurveKey& key : task.shown) {
    const bike::Column* column = motion.table.find(key);
    for (std::size_t s = 0; s < motion.poses.size(); ++s) out.put(column ? column->values[s] : std::nullopt);
  }
}

/// The points topped out, then station by station where it is, with its scenes: the bike's and one a gear.
void put_drawing(const bike::Layout& layout, const record::Task& task, const bike::Motion& motion, Answer& out) {
  for (const bike::Point& p : layout.mechanism.points) out.put(p);
  for (std::size_t k = 0; k < motion.poses.size(); ++k) {
    const bike::Pose& pose = motion.poses[k];
    out.put(pose.travel);
    out.put(pose.shock);
    out.put(pose.instant_centre ? std::optional(pose.instant_centre->x) : std::nullopt);
    out.put(pose.instant_centre ? std::optional(pose.instant_centre->y) : std::nullopt);
    put(moving_scene(layout, task.packaging.bodies, motion, k), out);
    for (std::size_t gear = 0; gear < layout.drivetrain.gears.size(); ++gear)
      put(moving_chain(layout, motion, k, gear), out);
  }
}

objectives::Assessment judged(const bike::Layout& layout, const std::vector<objectives::Target>& targets,
                              const objectives::Packaging& packaging) {
  const bike::Model model = bike::make_model(layout);
  const auto demands = objectives::Demands::without_tapes(model, targets, packaging);
  objectives::Assessor<double> assessor(demands);
  assessor.march(layout.mechanism.points);
  assessor.curves();
  return assess(demands, assessor.outcome());
}

void put(const objectives::Verdict& v, Answer& out) {
  for (const double x : {v.achieved, v.at_travel, v.margin, v.met ? 1.0 : 0.0}) out.put(x);
}

void put(const objectives::RuleVerdict& v, Answer& out) {
  for (const double x : {v.achieved, v.demanded, v.at_travel, v.margin, v.met ? 1.0 : 0.0}) out.put(x);
  for (const std::string* words : {&v.name, &v.unit, &v.where, &v.in}) out.put(*words);
}

/// Each target in the brief's order: the worst of all cases, and whether it holds in the one that is shown, with its
/// verdict there. Then the rules, the worst of all cases.
void put_verdicts(const record::Task& task, bike::Case which, Answer& out) {
  std::vector<objectives::CaseAssessment> cases;
  std::size_t shown = 0;
  for (const record::CaseTask& one : task.cases) {
    if (one.which.setting == which.setting && one.which.size == which.size) shown = cases.size();
    cases.push_back(
        {one.name, one.numbers, judged(bike::layout_of(task.layout, one.which), one.targets, task.packaging)});
  }
  const objectives::CaseAssessment& here = cases[shown];
  const objectives::Assessment all =
      cases.size() == 1
          ? here.assessment
          : objectives::merged(cases, task.targets, objectives::comparisons_of(task.layout, task.targets));
  out.put(all.targets.size());
  for (std::size_t t = 0; t < all.targets.size(); ++t) {
    put(all.targets[t], out);
    const auto found = std::find(here.numbers.begin(), here.numbers.end(), t);
    out.put(found == here.numbers.end() ? 0.0 : 1.0);
    if (found != here.numbers.end())
      put(here.assessment.targets[static_cast<std::size_t>(found - here.numbers.begin())], out);
  }
  out.put(all.rules.size());
  for (const objectives::RuleVerdict& v : all.rules) put(v, out);
}

void compute(Live& all, bike::Case which, int stations, bool page) {
  const record::Task& task = all.task;
  Answer& out = all.answer;
  out.clear();
  const bike::Layout layout = bike::layout_of(task.layout, which);
  std::vector<bike::CurveKey> named;
  for (const objectives::Target& target : task.targets)
    if (page && bike::holds_in(task.layout, which, target.in) && bike::named_by_target(target.curve))
      named.push_back(target.curve);
  const bike::Motion motion = bike::trace(layout, stations, page, named);
  if (!page) return put_table(motion.table, motion.poses.size(), out);
  put_shown(task, motion, out);
  put_drawing(layout, task, motion, out);
  if (!task.cases.empty()) put_verdicts(task, which, out);
}

/// The ranges of a brief that goes on from where the points are.
std::string ranges(const Live& all, double within) {
  const record::Placing& placing = all.task.placing;
  brief::Brief of;
  of.vary = placing.vary;
  of.layout.mechanism.point_names = placing.names;
  of.layout.mechanism.points = placing.drawn;
  return brief::ranges_around({all.task.layout, placing.vary.empty() ? nullptr : &of, all.kept, within});
}

}  // namespace
}  // namespace trammel::report

using trammel::report::live;

extern "C" {

/// Room for a record of so many bytes.
char* trammel_space(int bytes) {
  live().record.resize(static_cast<std::size_t>(bytes));
  return live().record.data();
}

/// Takes the record that was written there.
void trammel_take() {
  live().task = trammel::report::record::read(live().record);
}

/// Puts a linkage point, topped out, frame axes, mm.
void trammel_place(int point, double x, double y) {
  live().task.layout.mechanism.points[static_cast<std::size_t>(point)] = {x, y};
}

/// Moves the layout in a setting and size (−1 without) through its stroke; `page` ≠ 0 for what a page shows (the curves
/// of its record, drawings, verdicts), else every column of the curves CSV. Returns how many numbers the answer has.
int trammel_compute(int setting, int size, int stations, int page) {
  compute(live(), {setting, size}, stations, page != 0);
  return static_cast<int>(live().answer.numbers().size());
}

/// Whether a point stays where it is in a brief that goes on.
void trammel_keep(int point, int keep) {
  if (keep != 0)
    live().kept.insert(point);
  else
    live().kept.erase(point);
}

/// Makes the answer the text of the group `vary` for points that move by up to so many mm; returns as trammel_compute.
int trammel_ranges(double within) {
  live().answer.clear();
  live().answer.put(trammel::report::ranges(live(), within));
  return static_cast<int>(live().answer.numbers().size());
}

const double* trammel_answer() {
  return live().answer.numbers().data();
}
}
