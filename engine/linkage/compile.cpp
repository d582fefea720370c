#include <algorithm>
#include <optional>
#include <set>
#include <utility>

#include "linkage/opener.hpp"
#include "linkage/try_compile.hpp"
#include "math/raise.hpp"

namespace trammel::linkage {
namespace {

std::size_t index(int i) {
  return static_cast<std::size_t>(i);
}

std::string joined(const std::vector<std::string>& names) {
  std::string text;
  for (std::size_t i = 0; i < names.size(); ++i) text += (i == 0 ? "" : ", ") + names[i];
  return text;
}

std::string names_where(const Mechanism& m, const std::vector<bool>& flags, bool wanted) {
  std::vector<std::string> names;
  for (std::size_t k = 0; k < m.members.size(); ++k)
    if (static_cast<int>(k) != m.frame && flags[k] == wanted) names.push_back(m.members[k].name);
  return joined(names);
}

void check_shape(const Mechanism& m, std::vector<std::string>& problems) {
  for (std::size_t p = 0; p < m.points.size(); ++p) {
    const bool carried = std::any_of(m.members.begin(), m.members.end(), [&](const Member& member) {
      return std::find(member.points.begin(), member.points.end(), static_cast<int>(p)) != member.points.end();
    });
    if (!carried) problems.push_back("point '" + m.point_names[p] + "' is on no member");
  }
  for (std::size_t i = 0; i < m.members.size(); ++i) {
    const auto& a = m.members[i].points;
    for (std::size_t j = i + 1; j < m.members.size(); ++j) {
      std::vector<std::string> shared;
      for (int p : m.members[j].points)
        if (std::find(a.begin(), a.end(), p) != a.end()) shared.push_back(m.point_names[index(p)]);
      if (shared.size() > 1)
        problems.push_back("members '" + m.members[i].name + "' and '" + m.members[j].name + "' share " +
                           joined(shared) + ": two pivots weld them together; make them one member");
    }
    for (std::size_t p = 0; p < a.size(); ++p)
      for (std::size_t q = p + 1; q < a.size(); ++q)
        if (norm(m.points[index(a[p])] - m.points[index(a[q])]) < 1e-6)
          problems.push_back("points '" + m.point_names[index(a[p])] + "' and '" + m.point_names[index(a[q])] +
                             "' of member '" + m.members[i].name + "' lie on the same spot; make them one point");
  }
}

/// Only a line on a member shows its turning.
void check_drive(const Mechanism& m, std::vector<std::string>& problems) {
  if (m.drive.kind != DriveKind::turn) return;
  const Member& member = m.members[index(m.drive.member)];
  if (member.points.size() < 2)
    problems.push_back("member '" + member.name +
                       "' has one point, so that nothing shows how it turns; list another, or " +
                       "turn another member");
}

void check_mobility(const Mechanism& m, std::vector<std::string>& problems) {
  const Mobility mob = mobility(m);
  if (mob.freedoms == 1 && std::find(mob.loose.begin(), mob.loose.end(), true) == mob.loose.end()) return;
  std::string text = "a linkage needs exactly one degree of freedom, this one has " + std::to_string(mob.freedoms);
  const std::string loose = names_where(m, mob.loose, true);
  const std::string locked = names_where(m, mob.moves, false);
  if (mob.freedoms == 0) text += "; locked: " + locked;
  if (mob.freedoms == 1) text += ", but the drive does not hold it; still moving with the drive held: " + loose;
  if (mob.freedoms > 1) text += "; loose with the drive held: " + loose;
  if (mob.freedoms > 1 && !locked.empty()) text += "; locked: " + locked;
  problems.push_back(text);
}

/// The tears that let `start` go on with as many closures, fewest tears and then fewest steps first.
std::optional<Opener> tear_open(const Opener& start, std::size_t count, std::size_t target) {
  std::optional<Opener> best;
  for (const Step& tear : start.tears()) {
    Opener trial = start;
    trial.take(tear);
    trial.advance(target);
    std::optional<Opener> outcome;
    if (count == 1) {
      if (trial.closures().size() == target) outcome = trial;
    } else if (trial.closures().size() < target) {
      outcome = tear_open(trial, count - 1, target);
    }
    if (outcome && (!best || outcome->steps().size() < best->steps().size())) best = outcome;
  }
  return best;
}

std::vector<int> inputs(const Step& step) {
  std::vector<int> points{step.a, step.b};
  for (const Constraint& c : {step.one, step.two}) points.insert(points.end(), {c.a, c.b});
  return points;
}

/// Moves steps that the closures do not depend on behind the group, so that they run once.
/// Returns how many of the steps from `first` stay in the group.
std::size_t keep_needed(std::vector<Step>& steps, std::size_t first, const std::vector<Closure>& closures) {
  std::set<int> needed;
  for (const Closure& c : closures) needed.insert({c.point, c.rule.a, c.rule.b});
  std::vector<Step> inside, after;
  for (std::size_t i = steps.size(); i-- > first;) {
    const Step& s = steps[i];
    const bool tear = (s.kind == StepKind::spin || s.kind == StepKind::slide) && s.tear >= 0;
    if (tear || needed.count(s.point) != 0) {
      for (int p : inputs(s)) needed.insert(p);
      inside.insert(inside.begin(), s);
    } else {
      after.insert(after.begin(), s);
    }
  }
  std::copy(inside.begin(), inside.end(), steps.begin() + static_cast<std::ptrdiff_t>(first));
  std::copy(after.begin(), after.end(), steps.begin() + static_cast<std::ptrdiff_t>(first + inside.size()));
  return inside.size();
}

class Builder {
 public:
  explicit Builder(const Mechanism& m) { program_.mechanism = m; }

  std::variant<Program, CompileFailure> build() {
    const Mechanism& m = program_.mechanism;
    Opener opener(m);
    while (true) {
      const std::size_t before = opener.steps().size();
      opener.advance(1);
      add_group(opener.steps(), before, opener.steps().size() - before, {});
      if (!opener.closures().empty())
        return CompileFailure{
            {"the linkage is locked where its parts meet at " + m.point_names[index(opener.closures().front().point)]}};
      if (opener.done()) break;
      if (!open_block(opener)) return left_over(opener);
    }
    if (!opener.driven()) return CompileFailure{{"the drive moves nothing"}};
    add_bases();
    for (std::size_t i = 0; i < program_.groups.size(); ++i) name_closures(program_.groups[i]);
    return std::move(program_);
  }

 private:
  /// Whether it found an order.
  bool open_block(Opener& opener) {
    const std::size_t before = opener.steps().size();
    for (std::size_t count = 1; count <= 4; ++count) {
      std::optional<Opener> opened = tear_open(opener, count, count);
      if (!opened) continue;
      std::vector<Step> steps = opened->steps();
      const std::vector<Closure> closures = opened->closures();
      const std::size_t inside = keep_needed(steps, before, closures);
      add_group(steps, before, inside, closures);
      add_group(steps, before + inside, steps.size() - before - inside, {});
      opener = *opened;
      opener.clear_closures();
      return true;
    }
    return false;
  }

  CompileFailure left_over(const Opener& opener) const {
    std::vector<std::string> names;
    for (std::size_t p = 0; p < program_.mechanism.points.size(); ++p)
      if (!opener.placed(static_cast<int>(p))) names.push_back(program_.mechanism.point_names[p]);
    return {{"no order was found in which the linkage can be assembled; left over: " + joined(names)}};
  }

  void add_group(const std::vector<Step>& steps, std::size_t from, std::size_t count, std::vector<Closure> closures) {
    if (count == 0) return;
    Group group;
    group.first = static_cast<int>(program_.steps.size());
    group.first_tear = program_.tears;
    for (std::size_t i = from; i < from + count; ++i) program_.steps.push_back(numbered(steps[i]));
    group.last = static_cast<int>(program_.steps.size());
    for (Closure& c : closures) c.rule.constant = constant(1);
    group.closures = std::move(closures);
    program_.groups.push_back(std::move(group));
  }

  Step numbered(Step s) {
    if ((s.kind == StepKind::spin || s.kind == StepKind::slide) && s.tear >= 0) s.tear = program_.tears++;
    if (s.kind == StepKind::meet) {
      s.one.constant = constant(1);
      s.two.constant = constant(1);
      s.constant = constant(1);  // the branch
      s.scratch = scratch(2);    // determinant, and 1 over it
    }
    if (s.kind == StepKind::place || s.kind == StepKind::spin) s.constant = constant(2);
    if (s.kind == StepKind::slide) s.constant = constant(2);
    if (s.kind == StepKind::hinge) {
      s.constant = constant(7);
      s.scratch = scratch(4);
    }
    Joint joint{program_.mechanism.point_names[index(s.point)], "", false};
    if (s.kind == StepKind::hinge) {
      joint.name = "rail at " + program_.mechanism.point_names[index(s.b)];
      joint.dead = part_of({Rule::line, -1, -1, s.part}) + " is square to the way from " +
                   program_.mechanism.point_names[index(s.a)] + " to it";
    }
    if (s.kind == StepKind::meet) {
      joint.shock = s.one.rule == Rule::shock || s.two.rule == Rule::shock;
      joint.dead = dead_at(s.one, s.two);
    }
    program_.joints.push_back(joint);
    return s;
  }

  /// What holds a point, in words.
  std::string part_of(const Constraint& c) const {
    const Mechanism& m = program_.mechanism;
    switch (c.rule) {
      case Rule::distance:
        return m.members[index(c.part)].name;
      case Rule::shock:
        return "the shock";
      case Rule::line:
        return "the rail on " + m.members[index(m.sliders[index(c.part)].member)].name;
      case Rule::level:
        break;
    }
    return "the wheel's way up";
  }

  /// Where two parts that hold one point no longer do: links in line, a link square to its rail, rails side by side.
  std::string dead_at(const Constraint& one, const Constraint& two) const {
    const auto straight = [](const Constraint& c) { return c.rule == Rule::line || c.rule == Rule::level; };
    const Constraint &link = straight(one) ? two : one, &other = straight(one) ? one : two;
    if (straight(link)) return part_of(link) + " and " + part_of(other) + " are parallel";
    if (other.rule == Rule::level) return part_of(link) + " is upright";
    return part_of(link) + (straight(other) ? " is square to " : " and ") + part_of(other) +
           (straight(other) ? "" : " are in line");
  }

  void name_closures(const Group& group) {
    if (group.closures.empty()) return;
    const auto& names = program_.mechanism.point_names;
    Joint joint;
    for (const Closure& c : group.closures) {
      if (!joint.name.empty()) joint.name += " and ";
      joint.name += names[index(c.point)];
      if (c.rule.a >= 0) joint.name += "–" + names[index(c.rule.a)];
      joint.shock = joint.shock || c.rule.rule == Rule::shock;
    }
    program_.joints.push_back(joint);
  }

  /// The first two points that a member lists: the same for every layout of a brief, and for one that is read back.
  void add_bases() {
    for (const Member& member : program_.mechanism.members)
      program_.bases.push_back(member.points.size() < 2 ? Base{} : Base{member.points[0], member.points[1]});
  }

  int constant(int n) { return std::exchange(program_.constants, program_.constants + n); }
  int scratch(int n) { return std::exchange(program_.scratch, program_.scratch + n); }

  Program program_;
};

}  // namespace

std::variant<Program, CompileFailure> try_compile(const Mechanism& mechanism) {
  std::vector<std::string> problems;
  check_shape(mechanism, problems);
  check_drive(mechanism, problems);
  if (problems.empty()) check_mobility(mechanism, problems);
  if (!problems.empty()) return CompileFailure{problems};
  return Builder(mechanism).build();
}

Program compile(const Mechanism& mechanism) {
  auto made = try_compile(mechanism);
  if (auto* failure = std::get_if<CompileFailure>(&made)) {
    const std::string words = failure->problems.front();
    math::raise(std::move(*failure), words);
  }
  return std::get<Program>(std::move(made));
}

}  // namespace trammel::linkage
