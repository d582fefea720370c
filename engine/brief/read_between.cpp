#include "brief/read_between.hpp"

#include <algorithm>

#include "brief/fields.hpp"
#include "brief/parts.hpp"
#include "brief/values.hpp"

namespace trammel::brief {
namespace {

/// `all` names no setting or size; what is not known has been told of.
void all_named(const Node& between, Problems& problems) {
  for (const Node& item : between.items)
    if (item.text == every_case)
      problems.add(between, "all was given among two; to compare all write settings or sizes");
}

bool is_setting(const bike::Layout& layout, const std::string& name) {
  return std::any_of(layout.settings.begin(), layout.settings.end(),
                     [&](const bike::Setting& s) { return s.name == name; });
}

}  // namespace

void read_between(const Node& node, const bike::Layout& layout, objectives::Target& target, Problems& problems) {
  const Node* between = sound(&node, "between");
  if (between == nullptr) return;
  using Of = objectives::Between::Of;
  objectives::Between out;
  if (between->kind == Node::Kind::list) {
    out.first = find_case(&between->items[0], layout, problems);
    out.second = find_case(&between->items[1], layout, problems);
    if (out.first.empty() || out.second.empty()) return all_named(*between, problems);
    const bool first = is_setting(layout, out.first), second = is_setting(layout, out.second);
    if (first != second)
      problems.add(*between, "a setting is compared with a setting, and a size with a size; " + out.first + " and " +
                                 out.second + " are one of each");
    out.of = first ? Of::settings : Of::sizes;
  } else {
    out.of = between->text == settings_word ? Of::settings : Of::sizes;
    const std::size_t count = out.of == Of::settings ? layout.settings.size() : layout.sizes.size();
    if (count < 2)
      problems.add(*between, between->text + " was given, but the layout has " + (count == 0 ? "none" : "one of them") +
                                 "; a difference is between two");
  }
  if (!target.in.empty() && is_setting(layout, target.in) == (out.of == Of::settings))
    problems.add(*node.find("in"), target.in + " was given, but what is compared are the " +
                                       (out.of == Of::settings ? "settings; give a size" : "sizes; give a setting") +
                                       ", or all");
  const bool path = target.measure && record(*target.measure).reduction == objectives::Reduction::path;
  const bool spread = target.measure && record(*target.measure).reduction == objectives::Reduction::spread;
  if ((target.over && !target.measure) || path || (!target.gears.empty() && !spread))
    problems.add(*between, "what is compared is one number: a curve at one place in one gear, or a measure");
  if (target.relative)
    problems.add(*between, "a difference is told by no layout; give a band, ceiling, floor or value for it");
  target.between = std::move(out);
}

}  // namespace trammel::brief
