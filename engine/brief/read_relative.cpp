// Targets that are told by what another layout has: `of`, with `times`, `plus` and `as`.
#include "brief/read_relative.hpp"

#include <algorithm>
#include <cmath>
#include <filesystem>
#include <map>

#include "bike/cases.hpp"
#include "bike/table.hpp"
#include "brief/readings.hpp"
#include "brief/shape_check.hpp"
#include "brief/side_file.hpp"
#include "brief/sift.hpp"
#include "brief/values.hpp"
#include "brief/yaml_loader.hpp"
#include "linkage/program.hpp"
#include "objectives/evaluator.hpp"
#include "objectives/transfer.hpp"

namespace trammel::brief {
namespace {

using objectives::Relative;
using objectives::Target;
using objectives::Wish;

/// What a reference's file may say beside its layout.
constexpr const char* beside_layout[] = {"vary",   "choose",     "targets",   "packaging",
                                         "search", "references", "tolerances"};

/// A number as both ends, or a range.
void take_range(const Node* node, std::pair<double, double>& out) {
  if (node == nullptr) return;
  if (const auto both = two_numbers(node))
    out = *both;
  else if (const auto one = read_number(*node).value)
    out = {*one, *one};
}

/// A layout that targets are told by.
struct Source {
  Node root;
  bike::Layout layout;
};

/// A layout from a file from the brief's folder; nothing, with problems, when it is not one.
std::optional<Source> read_source(const Node& of, const Brief& brief, Problems& problems) {
  auto text = side_file(of, brief, "the word " + std::string(drawn_word) + " or a layout's file", problems);
  if (!text) return std::nullopt;
  if (text->starts_with("\xEF\xBB\xBF")) text->erase(0, 3);
  const std::filesystem::path path = std::filesystem::path(brief.file).parent_path() / of.text;
  const int number = problems.add_file(path.string());
  Problems own = problems.emptied();
  auto root = load_yaml(*text, own, number);
  Brief source;
  source.file = path.string();
  source.text = *text;
  if (root && root->find("linkages") != nullptr) {
    own.add(*root->find("linkages"), "names linkage templates; a layout that a target is told by draws its linkage");
  } else if (root) {
    for (const char* key : beside_layout) drop(*root, key);
    check_shape(*root, own);
    read_parts(*root, source, own);
  }
  problems.merge(own);
  if (!root || !own.empty()) return std::nullopt;
  return Source{std::move(*root), std::move(source.layout)};
}

/// The wish that comes of what the other layout has, kind as read.
Wish wish_of(const Relative& relative, Wish::Kind kind) {
  const auto at = [&](double found) {
    const auto [least, most] = std::minmax({relative.times.first * found, relative.times.second * found});
    return std::pair(least + relative.plus.first, most + relative.plus.second);
  };
  Wish wish{kind, 0.0, 0.0, {}};
  if (wish.along_path()) {
    for (const auto& [fraction, found] : relative.found) wish.path.emplace_back(fraction, at(found).first);
  } else {
    std::tie(wish.lo, wish.hi) = at(relative.found.front().second);
  }
  return wish;
}

/// The setting and size of a layout that a target looks at: the first in which it holds, else the first.
bike::Case case_for(const bike::Layout& layout, const std::string& in) {
  const std::vector<bike::Case> cases = bike::cases_of(layout);
  const auto found =
      std::find_if(cases.begin(), cases.end(), [&](const bike::Case& c) { return bike::holds_in(layout, c, in); });
  return found == cases.end() ? cases.front() : *found;
}

bool beyond(const objectives::Station& station, double travel) {
  return station.kind == objectives::Station::Kind::travel && station.amount > travel;
}

/// Looks targets up in the layouts that they are told by.
class LookUp {
 public:
  LookUp(const Node& root, Brief& brief, Problems& problems) : root_(root), brief_(brief), problems_(problems) {}

  /// Reads the file, whatever else is wrong with the brief.
  void read(const Node& of, const Target& target) {
    const std::string& name = target.relative->of;
    if (name.empty() || !target.relative->found.empty() || sources_.contains(name)) return;
    sources_.emplace(name, read_source(of, brief_, problems_));
  }

  void look_up(const Node& of, Target& target) {
    Relative& relative = *target.relative;
    if (relative.found.empty()) {
      const std::optional<Source>* source = relative.of.empty() ? nullptr : &sources_.at(relative.of);
      if (source != nullptr && !*source) return;
      const Node& root = source == nullptr ? root_ : (*source)->root;
      const std::string whose = relative.of.empty() ? "the layout as drawn" : relative.of;
      try {
        evaluate(of, whose, root, source == nullptr ? brief_.layout : (*source)->layout, target);
      } catch (const bike::MotionFailure& failure) {
        problems_.add(of, describe(of) + " was given, but " + whose + " " + failure.text);
      } catch (const linkage::CompileFailure&) {
        problems_.add(of, describe(of) + " was given, but " + whose + " does not come together in " + relative.in);
      }
    }
    if (!relative.found.empty()) target.wish = wish_of(relative, target.wish.kind);
  }

 private:
  void evaluate(const Node& of, const std::string& whose, const Node& root, const bike::Layout& whole, Target& target) {
    const bike::CurveRecord& record = bike::record(target.curve.curve);
    if (const std::string lack = lacking(record.needs, root); !lack.empty()) {
      problems_.add(of, whose + ": " + std::string(record.key) + " needs " + lack);
      return;
    }
    const bike::Case which = case_for(whole, target.in);
    target.relative->in = bike::name_of(whole, which);
    bike::Layout layout = bike::layout_of(whole, which);
    auto like = objectives::target_for(target, brief_.layout, layout);
    if (!like) {
      problems_.add(of, whose + " has no point or pivot of the name that " + std::string(record.key) + " is asked for");
      return;
    }
    like->wish = {Wish::Kind::floor, 0.0, 0.0, {}};
    const double travel = bike::trace(layout, 2, true).poses.back().travel;
    if (beyond(like->at, travel) || (like->measure && beyond(like->to, travel))) {
      problems_.add(of, whose + " has " + rounded_text(travel) + " mm of wheel travel, and the target looks beyond");
      return;
    }
    const bike::Model model = bike::make_model(layout);
    const std::vector<Target> targets{*like};
    const objectives::Packaging none;
    const auto demands = objectives::Demands::without_tapes(model, targets, none);
    const auto evaluator = make_evaluator(demands, objectives::InstructionSet::baseline);
    const std::vector<double> values = evaluator->evaluate(layout.mechanism.points).values.front();
    if (!std::all_of(values.begin(), values.end(), [](double y) { return std::isfinite(y); })) {
      problems_.add(of, whose + " has no finite " + std::string(record.key) + " there");
      return;
    }
    for (std::size_t i = 0; i < values.size(); ++i)
      target.relative->found.emplace_back(
          like->over && !like->measure ? demands.places.targets.front().fractions[i] : 0.0, values[i]);
  }

  const Node& root_;
  Brief& brief_;
  Problems& problems_;
  std::map<std::string, std::optional<Source>> sources_;
};

/// Where the targets stand; the i-th is the i-th target.
const std::vector<Node>& nodes_of(const Node& root) {
  static const std::vector<Node> none;
  const Node* targets = sound(&root, "targets");
  return targets == nullptr ? none : targets->items;
}

}  // namespace

void read_relative(const Node& node, const Brief& brief, Target& target, Problems& problems) {
  const Node* of = sound(&node, "of");
  if (of == nullptr) return;
  Relative relative;
  if (of->text != drawn_word) relative.of = of->text;
  if (relative.of.empty() && !brief.linkage.empty())
    problems.add(*of, "drawn was given, but with linkages no layout is drawn; name a layout's file");
  take_range(sound(&node, "times"), relative.times);
  take_range(sound(&node, "plus"), relative.plus);
  const bool range = relative.times.first != relative.times.second || relative.plus.first != relative.plus.second;
  const bool curve = target.over && !target.measure;
  const std::string as = word(&node, "as");
  using Kind = Wish::Kind;
  target.wish.kind = as == "ceiling" ? (curve ? Kind::under : Kind::ceiling)
                     : as == "floor" ? (curve ? Kind::over : Kind::floor)
                     : range         ? Kind::band
                     : curve         ? Kind::follow
                                     : Kind::value;
  if (range && !as.empty())
    problems.add(*node.find("as"), "as goes with one number; a range under times or plus is a band of its own");
  if (range && curve)
    problems.add(node,
                 "a range under times or plus holds at one place or for a measure; over a stretch give "
                 "tolerance, or two targets with as");
  const bool spread = target.measure && record(*target.measure).reduction == objectives::Reduction::spread;
  if (!target.gears.empty() && !spread)
    problems.add(*node.find("gears"), "a target that is told by a layout is about one gear; give a target for each");
  if (target.measure && record(*target.measure).reduction == objectives::Reduction::path)
    problems.add(*of, "path_deviation is from a path of its own; to keep to a layout's path give curve: rearward");
  for (const char* key : {"found", "found_curve"})
    if (relative.of.empty() && node.find(key) != nullptr)
      problems.add(*node.find(key), std::string(key) + " goes with a layout's file, not with the layout as drawn");
  if (const auto found = number(&node, "found")) relative.found = {{0.0, *found}};
  if (const Node* found = sound(&node, "found_curve"))
    for (const Node& item : found->items)
      if (const auto pair = two_numbers(&item)) relative.found.push_back(*pair);
  if (const Node* found = node.find(curve ? "found" : "found_curve"))
    problems.add(*found,
                 curve ? "over a stretch what was found is a found_curve" : "what was found is one number, found");
  target.relative = std::move(relative);
}

void look_up_references(const Node& root, Brief& brief, Problems& problems) {
  const std::vector<Node>& nodes = nodes_of(root);
  LookUp look_up(root, brief, problems);
  const std::size_t count = std::min(nodes.size(), brief.targets.size());
  const auto each = [&](auto&& take) {
    for (std::size_t i = 0; i < count; ++i)
      if (brief.targets[i].relative)
        if (const Node* of = nodes[i].find("of")) take(*of, brief.targets[i]);
  };
  // With a flawed target its followers' numbers are not those of the list; but then nothing is looked up.
  each([&](const Node& of, Target& target) { look_up.read(of, target); });
  if (!problems.empty()) return;
  each([&](const Node& of, Target& target) { look_up.look_up(of, target); });
}

void keep_references(const Node& root, Brief& brief, Problems& problems) {
  const std::vector<Node>& nodes = nodes_of(root);
  // From the last to the first, so that lines further up stay where they were.
  for (std::size_t i = nodes.size(); i-- > 0;) {
    const Target& target = brief.targets[i];
    if (!target.relative || target.relative->of.empty()) continue;
    if (nodes[i].find("found") != nullptr || nodes[i].find("found_curve") != nullptr) continue;
    const bool curve = target.wish.along_path();
    const std::string key = curve ? "found_curve" : "found";
    const std::string value =
        curve ? list_text(target.relative->found) : exact_text(target.relative->found.front().second);
    add_to_text(
        nodes[i], "of", key, value, [i](const Node& whole) { return &nodes_of(whole).at(i); }, brief.text, problems);
  }
}

}  // namespace trammel::brief
