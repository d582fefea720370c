// The kernel in a layout's page, compiled to WebAssembly from the sources that the program has: positions, curves and
// verdicts of a layout whose points the page moves. Not compiled into the program.
//
// The page calls `trammel_space`, writes a record (report/record.hpp) there and calls `trammel_take`; then, as often as
// it likes, `trammel_place` and `trammel_compute`. What comes of it is a row of numbers: see `Answer`. A layout that
// cannot be moved ends in `page.fail` (math/raise.hpp), after which the page makes a new instance.
#include <cmath>
#include <limits>

#include "bike/cases.hpp"
#include "bike/table.hpp"
#include "objectives/assessor.hpp"
#include "objectives/merge.hpp"
#include "report/frame_sketch.hpp"
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
  const std::vector<double>& numbers() const { return numbers_; }

 private:
  std::vector<double> numbers_;
};

struct Live {
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

/// Curves: how many, then station by station. Then the stations' places and scenes, the bike's and one a gear.
void put(const bike::Layout& layout, const bike::Motion& motion, bool drawing, Answer& out) {
  out.put(motion.poses.size());
  out.put(motion.table.columns.size());
  for (const bike::Column& column : motion.table.columns)
    for (const std::optional<double>& value : column.values) out.put(value);
  if (!drawing) return;
  for (const bike::Pose& pose : motion.poses) {
    out.put(pose.travel);
    out.put(pose.shock);
    out.put(pose.instant_centre ? std::optional(pose.instant_centre->x) : std::nullopt);
    out.put(pose.instant_centre ? std::optional(pose.instant_centre->y) : std::nullopt);
    Scene scene = make_scene(layout, pose, nullptr);
    sketch_frame(scene, layout, pose);
    put(scene, out);
    for (const bike::Gear& gear : layout.drivetrain.gears) put(chain_scene(layout, pose, gear), out);
  }
}

objectives::Assessment judged(const bike::Layout& layout, const std::vector<objectives::Target>& targets,
                              const objectives::Packaging& packaging) {
  const bike::Model model = bike::make_model(layout);
  const auto demands = objectives::Demands::without_formulas(model, targets, packaging);
  objectives::Assessor<double> assessor(demands);
  assessor.march(layout.mechanism.points);
  assessor.curves();
  return assess(demands, assessor.outcome());
}

/// Of each target in the brief's order: achieved, its travel, its margin, whether met. Of each rule likewise.
void put(const objectives::Assessment& all, Answer& out) {
  out.put(all.targets.size());
  for (const objectives::Verdict& v : all.targets)
    for (const double x : {v.achieved, v.at_travel, v.margin, v.met ? 1.0 : 0.0}) out.put(x);
  out.put(all.rules.size());
  for (const objectives::RuleVerdict& v : all.rules)
    for (const double x : {v.achieved, v.at_travel, v.margin, v.met ? 1.0 : 0.0}) out.put(x);
}

objectives::Assessment judged(const record::Task& task) {
  std::vector<objectives::CaseAssessment> cases;
  for (const record::CaseTask& one : task.cases)
    cases.push_back(
        {one.name, one.numbers, judged(bike::layout_of(task.layout, one.which), one.targets, task.packaging)});
  return cases.size() == 1
             ? cases.front().assessment
             : objectives::merged(cases, task.targets, objectives::comparisons_of(task.layout, task.targets));
}

void compute(const record::Task& task, int setting, int size, int stations, bool page, Answer& out) {
  out.clear();
  const bike::Layout layout = bike::layout_of(task.layout, {setting, size});
  std::vector<bike::CurveKey> named;
  for (const objectives::Target& target : task.targets)
    if (bike::holds_in(task.layout, {setting, size}, target.in) && bike::named_by_target(target.curve))
      named.push_back(target.curve);
  put(layout, bike::trace(layout, stations, page, page ? named : std::vector<bike::CurveKey>{}), page, out);
  if (page) put(judged(task), out);
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

/// Moves the layout in a setting and size (−1 without) through its stroke; `page` ≠ 0 with drawings and verdicts, else
/// the columns of the curves CSV alone. Returns how many numbers the answer has.
int trammel_compute(int setting, int size, int stations, int page) {
  compute(live().task, setting, size, stations, page != 0, live().answer);
  return static_cast<int>(live().answer.numbers().size());
}

const double* trammel_answer() {
  return live().answer.numbers().data();
}
}
