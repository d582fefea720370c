#include "brief/notes.hpp"

#include "brief/values.hpp"
#include "brief/yaml_loader.hpp"

namespace trammel::brief {
namespace {

std::string notes_in(const Node& group) {
  std::string text = word(&group, "notes");
  text.erase(text.find_last_not_of(" \n") + 1);
  return text;
}

}  // namespace

Notes notes_of(const Brief& brief) {
  Problems none;
  const auto root = load_yaml(brief.text, none);
  if (!root) return {};
  Notes out{notes_in(*root), {}};
  if (const Node* targets = root->find("targets"))
    for (const Node& target : targets->items) out.targets.push_back(notes_in(target));
  return out;
}

}  // namespace trammel::brief
