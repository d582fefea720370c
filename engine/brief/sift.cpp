#include "brief/sift.hpp"

#include <algorithm>
#include <initializer_list>
#include <set>

namespace trammel::brief {
namespace {

void drop(Node& map, std::size_t at) {
  map.keys.erase(map.keys.begin() + static_cast<std::ptrdiff_t>(at));
  map.items.erase(map.items.begin() + static_cast<std::ptrdiff_t>(at));
}

void sift_keys(Node* group, const Keep& keep) {
  if (group == nullptr || group->kind != Node::Kind::map) return;
  for (std::size_t i = group->keys.size(); i-- > 0;)
    if (!keep(group->keys[i].text, group->keys[i].mark, group->where)) drop(*group, i);
}

void sift_names(Node* list, const Keep& keep) {
  if (list == nullptr || list->kind != Node::Kind::list) return;
  std::erase_if(list->items, [&](const Node& item) { return !item.flawed && !keep(item.text, item.mark, item.where); });
}

/// Takes away a list or group that was left empty.
void drop_if_empty(Node* group, std::string_view key) {
  const Node* value = group == nullptr ? nullptr : group->find(key);
  if (value != nullptr && value->items.empty() && value->kind != Node::Kind::scalar) drop(*group, key);
}

/// Leaves out of a list the entries that a condition holds for.
template <class Condition>
void sift_items(Node* list, Condition leaves_out) {
  if (list != nullptr && list->kind == Node::Kind::list) std::erase_if(list->items, leaves_out);
}

/// Bodies that stand on points which the linkage lacks, what is said of them, and of such points.
void sift_room(Node& packaging, const Keep& keep) {
  const auto kept = [&](const Node& name) {
    return name.kind != Node::Kind::scalar || name.flawed || keep(name.text, name.mark, name.where);
  };
  const auto lacks = [&](const Node& group, std::initializer_list<std::string_view> keys) {
    return std::any_of(keys.begin(), keys.end(), [&](std::string_view key) {
      const Node* value = group.find(key);
      if (value == nullptr) return false;
      return value->kind == Node::Kind::list && !value->items.empty() && value->items[0].kind == Node::Kind::scalar &&
                     key == "between"
                 ? !std::all_of(value->items.begin(), value->items.end(), kept)
                 : !kept(*value);
    });
  };
  std::set<std::string> gone;
  if (Node* bodies = packaging.find("bodies"); bodies != nullptr && bodies->kind == Node::Kind::map)
    for (std::size_t i = bodies->keys.size(); i-- > 0;)
      if (lacks(bodies->items[i], {"centre", "from", "to", "body_from"})) {
        gone.insert(bodies->keys[i].text);
        drop(*bodies, i);
      }
  const auto is_gone = [&](const Node& name) { return gone.contains(name.text); };
  sift_items(packaging.find("clearances"), [&](Node& entry) {
    const Node* to = entry.find("to");
    const bool listed = to != nullptr && to->kind == Node::Kind::list && !to->items.empty();
    sift_items(entry.find("to"), is_gone);
    sift_items(entry.find("but"), is_gone);
    drop_if_empty(&entry, "but");
    const Node* of = entry.find("of");
    return (of != nullptr && is_gone(*of)) || (listed && entry.find("to")->items.empty()) ||
           (to != nullptr && to->kind == Node::Kind::scalar && is_gone(*to));
  });
  sift_items(packaging.find("keep_in"), [&](const Node& entry) { return lacks(entry, {"point"}); });
  sift_items(packaging.find("lengths"), [&](const Node& entry) { return lacks(entry, {"between"}); });
  for (const char* key : {"bodies", "clearances", "keep_in", "lengths"}) drop_if_empty(&packaging, key);
}

}  // namespace

void drop(Node& map, std::string_view key) {
  for (std::size_t i = 0; i < map.keys.size(); ++i)
    if (map.keys[i].text == key) return drop(map, i);
}

void sift(Node& root, const Keep& keep) {
  if (Node* packaging = root.find("packaging")) {
    sift_keys(packaging->find("boxes"), keep);
    drop_if_empty(packaging, "boxes");
    sift_room(*packaging, keep);
  }
  if (Node* train = root.find("drivetrain")) {
    sift_names(train->find("clear_of"), keep);
    drop_if_empty(train, "clear_of");
  }
  if (Node* tolerances = root.find("tolerances")) {
    sift_keys(tolerances->find("of"), keep);
    drop_if_empty(tolerances, "of");
  }
  if (Node* settings = root.find("settings"); settings != nullptr && settings->kind == Node::Kind::list) {
    for (Node& setting : settings->items) {
      sift_keys(setting.find("move"), keep);
      drop_if_empty(&setting, "move");
    }
  }
}

}  // namespace trammel::brief
