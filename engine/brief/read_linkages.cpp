#include <algorithm>
#include <cmath>
#include <filesystem>
#include <sstream>

#include "brief/expand_template.hpp"
#include "brief/fields.hpp"
#include "brief/parts.hpp"
#include "brief/shape_check.hpp"
#include "brief/shipped_templates.hpp"
#include "brief/side_file.hpp"
#include "brief/values.hpp"
#include "brief/yaml_loader.hpp"

namespace trammel::brief {
namespace {

constexpr std::string_view file_ending = ".yaml";

/// A template from the text of its file. Nothing, with problems, when it is not one.
std::optional<Template> from_text(std::string name, std::string text, const std::string& file, Problems& problems) {
  const int number = problems.add_file(file);
  Problems own = problems.emptied();
  auto tree = load_yaml(text, own, number);
  if (tree) check_template(*tree, "", own);
  problems.merge(own);
  if (!tree || !own.empty()) return std::nullopt;
  return Template{std::move(name), std::move(*tree), std::move(text)};
}

/// The templates that a brief names, in its order.
class Finder {
 public:
  Finder(Node& root, const Brief& brief, Problems& problems)
      : own_(root.find("templates")),
        brief_(brief),
        folder_(std::filesystem::path(brief.file).parent_path()),
        problems_(problems) {}

  /// Nothing when any is flawed.
  std::vector<Template> find(const Node& list) {
    if (list.flawed) return {};
    if (list.kind == Node::Kind::scalar) {
      for (const std::string& name : known()) take(by_name(name, list));
    } else {
      for (const Node& item : list.items) {
        if (item.flawed)
          sound_ = false;
        else
          take(item.text.ends_with(file_ending) ? by_file(item) : by_name(item.text, item));
      }
    }
    return sound_ ? std::move(found_) : std::vector<Template>{};
  }

 private:
  std::vector<std::string> known() const {
    std::vector<std::string> names;
    if (own_ != nullptr)
      for (const Key& key : own_->keys) names.push_back(key.text);
    else
      for (const ShippedTemplate& shipped : shipped_templates()) names.push_back(shipped.name);
    return names;
  }

  void take(std::optional<Template> one) {
    if (one)
      found_.push_back(std::move(*one));
    else
      sound_ = false;
  }

  /// One of the brief's own templates; where it has any, the others are not looked at, so that a study holds all.
  std::optional<Template> by_name(const std::string& name, const Node& where) {
    if (own_ == nullptr) {
      for (const ShippedTemplate& shipped : shipped_templates())
        if (shipped.name == name)
          return from_text(name, std::string(shipped.text), "linkage template " + name, problems_);
    } else if (const Node* tree = own_->find(name)) {
      Node copy = *tree;
      Problems told;  // by the check of the whole brief
      check_template(copy, tree->where, told);
      if (!told.empty()) return std::nullopt;
      return Template{name, std::move(copy), ""};
    }
    problems_.add(where, "no linkage template is named " + printable(name) + "; " +
                             (own_ != nullptr ? "templates has " : "those that ship are ") + join(known()) +
                             suggestion(name, known()) + (own_ != nullptr ? "" : "; a file's name ends in .yaml"));
    return std::nullopt;
  }

  std::optional<Template> by_file(const Node& item) {
    const std::filesystem::path path(item.text);
    std::string name = path.stem().string();
    if (own_ != nullptr) return by_name(name, item);  // as a study keeps it
    if (!is_name(name)) {
      problems_.add(item, describe(item) + " was given, but the file's name is no name; allowed: " + name_rule());
      return std::nullopt;
    }
    const auto same = [&](const Template& other) { return other.name == name; };
    if (std::any_of(found_.begin(), found_.end(), same)) {
      problems_.add(item, "another template is named " + name);
      return std::nullopt;
    }
    auto text = side_file(item, brief_, "a linkage template", problems_);
    if (!text) return std::nullopt;
    read_ += text->size();
    if (read_ > size_limit) {
      problems_.add(item, "with " + describe(item) + " the linkage templates hold more than " +
                              std::to_string(size_limit) + " bytes, which brief and templates may hold together");
      return std::nullopt;
    }
    return from_text(std::move(name), std::move(*text), (folder_ / path).string(), problems_);
  }

  const Node* own_;
  const Brief& brief_;
  std::filesystem::path folder_;
  std::size_t read_ = 0;  ///< bytes of files
  Problems& problems_;
  std::vector<Template> found_;
  bool sound_ = true;
};

/// Leverage of the usual size on which templates are drawn where the brief leaves the size to a word: in the middle of
/// what bikes have (common practice, no source).
constexpr double drawn_leverage = 2.7;

/// The shock on which templates are drawn: the first of those listed; of the usual sizes, the one whose stroke suits
/// the travel best. Sizes of 0 where there is none.
ShockSize drawn_shock(const Node& choose, double travel) {
  const Node* sizes = sound(&choose, "shock");
  ShockSize drawn;
  if (sizes == nullptr) return drawn;
  if (sizes->kind == Node::Kind::list) {
    take_number(&sizes->items.front(), "length", drawn.length);
    take_number(&sizes->items.front(), "stroke", drawn.stroke);
    return drawn;
  }
  const std::vector<ShockSize> usual = usual_shocks(choose);
  const auto off = [&](const ShockSize& size) { return std::abs(size.stroke - travel / drawn_leverage); };
  const auto best = std::min_element(usual.begin(), usual.end(),
                                     [&](const ShockSize& a, const ShockSize& b) { return off(a) < off(b); });
  return best == usual.end() ? drawn : *best;
}

/// What the words of a template stand for on the brief's bike; nothing where that could not be read.
std::optional<Scale> scale_of(const Node& root, Problems& problems) {
  const Node* choose = sound(&root, "choose");
  if (choose != nullptr && choose->find("shock") == nullptr) {
    problems.add(*choose, "linkages need choose.shock, the shock sizes to choose from");
    return std::nullopt;
  }
  const Node* bike = sound(&root, "bike");
  const Node* wheels = sound(bike, "wheels");
  const double rear = wheel_radius(sound(wheels, "rear")), front_wheel = wheel_radius(sound(wheels, "front"));
  const auto travel = number(&root, "travel"), chainstay = number(&root, "chainstay");
  const ShockSize shock = choose == nullptr ? ShockSize{} : drawn_shock(*choose, travel.value_or(0.0));
  bike::Front front;
  if (const Node* sizes = sound(choose, "shock");
      sizes != nullptr && sizes->kind != Node::Kind::list && shock.stroke == 0.0)
    problems.add(*sizes, describe(*sizes) + " was given, but no usual size is within the limits");
  if (!travel || !chainstay || !(shock.length > 0.0) || !(shock.stroke > 0.0) || !(rear > 0.0) ||
      !(front_wheel > 0.0) || !read_front(sound(bike, "front"), front))
    return std::nullopt;
  Scale scale{*travel, *chainstay, rear, shock.length, shock.stroke, *travel / shock.stroke, 0.0, 0.0};
  scale.axle_y = front.axle.y - front_wheel + rear;  // both wheels on level ground
  if (!(std::abs(scale.axle_y) < *chainstay)) {
    problems.add(*root.find("chainstay"),
                 rounded_text(*chainstay) + " was given, but for the bike to stand level the rear axle lies " +
                     rounded_text(std::abs(scale.axle_y)) + " mm above or below the bottom bracket");
    return std::nullopt;
  }
  scale.axle_x = -std::sqrt(*chainstay * *chainstay - scale.axle_y * scale.axle_y);
  return scale;
}

/// A template's text as it stands under `templates`.
std::string indented(const Template& one) {
  std::string out = "  " + one.name + ":\n";
  std::istringstream lines(one.text);
  for (std::string line; std::getline(lines, line);) {
    if (line.ends_with('\r')) line.pop_back();
    out += (line.empty() ? "" : "    ") + line + "\n";
  }
  return out;
}

/// Puts templates that came from elsewhere into the brief's text, so that a study depends on no other file. False when
/// brief or template is written in a way that does not allow it.
bool put_into_text(const std::vector<Template>& templates, std::string& text) {
  std::string changed = text + (text.ends_with('\n') ? "" : "\n") + "templates:\n";
  for (const Template& one : templates) changed += indented(one);
  Problems none;
  const auto root = load_yaml(changed, none);
  const Node* own = root ? root->find("templates") : nullptr;
  if (own == nullptr || !none.empty()) return false;
  for (const Template& one : templates) {
    const Node* kept = own->find(one.name);
    if (kept == nullptr || !same_tree(*kept, one.tree)) return false;
  }
  text = std::move(changed);
  return true;
}

}  // namespace

void read_linkages(Node& root, Brief& brief, Problems& problems) {
  const Node& list = *root.find("linkages");
  const std::vector<Template> templates = Finder(root, brief, problems).find(list);
  const std::optional<Scale> scale = scale_of(root, problems);
  if (const Node* train = sound(&root, "drivetrain"); train != nullptr && train->find("idler") != nullptr)
    problems.add(*train->find("idler"), "the idler is a linkage template's own; with linkages leave it out");
  // Which keys go together has been told of; what is left out would be reported once more of every linkage.
  if (templates.empty() || !scale || root.flawed) return;
  report_unknown_points(root, templates, problems);
  Problems all = problems.emptied();
  for (const Template& one : templates) {
    Problems own = problems.emptied();
    Brief& linkage = brief.linkages.emplace_back();
    linkage.file = brief.file;
    linkage.kept = brief.kept;
    linkage.linkage = one.name;
    linkage.linkage_title = one.tree.find("title") != nullptr ? one.tree.find("title")->text : one.name;
    if (auto tree = expand(root, one, *scale, templates, own)) {
      check_shape(*tree, own);
      read_parts(*tree, linkage, own);
    }
    all.merge(own);
  }
  problems.merge(all);
  if (!problems.empty()) return;
  const bool elsewhere =
      std::any_of(templates.begin(), templates.end(), [](const Template& t) { return !t.text.empty(); });
  if (elsewhere && !put_into_text(templates, brief.text))
    problems.add(list,
                 "a linkage template cannot be kept with a study; write brief and template as plain groups of "
                 "keys, a line each");
  std::vector<Brief> linkages = std::move(brief.linkages);
  Brief first = linkages.front();
  first.text = brief.text;
  first.linkages = std::move(linkages);
  first.linkage = first.linkage_title = "";
  brief = std::move(first);
}

}  // namespace trammel::brief
