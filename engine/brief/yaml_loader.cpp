#include "brief/yaml_loader.hpp"

#include <yaml-cpp/eventhandler.h>
#include <yaml-cpp/exceptions.h>
#include <yaml-cpp/mark.h>
#include <yaml-cpp/parser.h>

#include <map>
#include <sstream>
#include <unordered_map>
#include <utility>

namespace trammel::brief {
namespace {

Mark to_mark(const YAML::Mark& mark, int file) {
  return mark.is_null() ? Mark{1, 1, file} : Mark{mark.line + 1, mark.column + 1, file};
}

/// Raised to leave the parser once a problem that ends the reading has been reported.
struct Abandoned {};

/// Builds the tree from the parser's events, so that no graph of the library's own is ever made: an alias of an open
/// anchor is seen as a loop before anything walks it, and every value is counted as it is placed.
class TreeBuilder : public YAML::EventHandler {
 public:
  TreeBuilder(Problems& problems, int file) : problems_(problems), file_(file) {}

  std::optional<Node> take_root() { return std::move(root_); }

  void OnDocumentStart(const YAML::Mark& mark) override {
    if (seen_document_) abandon(mark, "a second document begins here; a brief is one document");
    seen_document_ = true;
  }
  void OnDocumentEnd() override {}

  void OnNull(const YAML::Mark& mark, YAML::anchor_t anchor) override {
    place(make(Node::Kind::nothing, mark), anchor);
  }
  void OnScalar(const YAML::Mark& mark, const std::string& tag, YAML::anchor_t anchor,
                const std::string& value) override {
    Node node = make(Node::Kind::scalar, mark);
    node.text = value;
    node.plain = tag != "!";  // the parser's own tag of a quoted scalar
    if (node.plain) refuse_tag(mark, tag);
    place(std::move(node), anchor);
  }
  void OnAlias(const YAML::Mark& mark, YAML::anchor_t anchor) override {
    const auto found = anchors_.find(anchor);
    if (found == anchors_.end()) abandon(mark, "an alias stands inside the value that it names, which has no end");
    count_ += count_nodes(found->second) - 1;
    place(found->second, 0);
  }
  void OnSequenceStart(const YAML::Mark& mark, const std::string& tag, YAML::anchor_t anchor,
                       YAML::EmitterStyle::value) override {
    open(Node::Kind::list, mark, tag, anchor);
  }
  void OnMapStart(const YAML::Mark& mark, const std::string& tag, YAML::anchor_t anchor,
                  YAML::EmitterStyle::value) override {
    open(Node::Kind::map, mark, tag, anchor);
  }
  void OnSequenceEnd() override { close(); }
  void OnMapEnd() override { close(); }

 private:
  struct Open {
    Node node;
    YAML::anchor_t anchor = 0;
    bool key_pending = false;  ///< map: the last key still waits for its value
    bool dropped = false;      ///< map: … which is to be dropped
    std::unordered_map<std::string, Mark> keys_seen;
  };

  [[noreturn]] void abandon(const YAML::Mark& mark, std::string what) {
    problems_.add(to_mark(mark, file_), "file", std::move(what));
    throw Abandoned{};
  }

  Node make(Node::Kind kind, const YAML::Mark& mark) {
    Node node;
    node.kind = kind;
    node.mark = to_mark(mark, file_);
    return node;
  }

  void refuse_tag(const YAML::Mark& mark, const std::string& tag) {
    if (!tag.empty() && tag != "?") {
      problems_.add(to_mark(mark, file_), "file",
                    "tag '" + printable(tag) + "'; a brief has no tags, write the bare value");
    }
  }

  void open(Node::Kind kind, const YAML::Mark& mark, const std::string& tag, YAML::anchor_t anchor) {
    if (open_.size() >= depth_limit) {
      abandon(mark, "more than " + std::to_string(depth_limit) + " lists and groups inside each other");
    }
    if (awaits_key()) abandon(mark, "a list or group stands where a key is wanted");
    refuse_tag(mark, tag);
    open_.push_back({make(kind, mark), anchor, false, false, {}});
  }

  void close() {
    Open done = std::move(open_.back());
    open_.pop_back();
    place(std::move(done.node), done.anchor);
  }

  bool awaits_key() const {
    return !open_.empty() && open_.back().node.kind == Node::Kind::map && !open_.back().key_pending;
  }

  void place(Node node, YAML::anchor_t anchor) {
    if (++count_ > node_limit) {
      problems_.add(node.mark, "file", "more than " + std::to_string(node_limit) + " values, aliases written out");
      throw Abandoned{};
    }
    if (anchor != 0) anchors_[anchor] = node;
    if (open_.empty()) {
      root_ = std::move(node);
    } else if (awaits_key()) {
      place_key(node);
    } else {
      Open& parent = open_.back();
      parent.key_pending = false;
      if (!std::exchange(parent.dropped, false)) parent.node.items.push_back(std::move(node));
    }
  }

  void place_key(const Node& node) {
    Open& parent = open_.back();
    parent.key_pending = true;
    parent.dropped = true;
    if (node.kind != Node::Kind::scalar) {
      problems_.add(node.mark, "file", "a key is missing or null");
    } else if (node.text == "<<" && node.plain) {
      problems_.add(node.mark, "file", "merge key '<<'; it is not applied, write the keys out");
    } else if (const auto [seen, is_new] = parent.keys_seen.emplace(node.text, node.mark); !is_new) {
      problems_.add(node.mark, "file",
                    "key '" + printable(node.text) + "' is given twice, on line " + std::to_string(seen->second.line) +
                        " and on line " + std::to_string(node.mark.line));
    } else {
      parent.dropped = false;
      parent.node.keys.push_back({node.text, node.mark});
    }
  }

  Problems& problems_;
  int file_;
  std::vector<Open> open_;
  std::map<YAML::anchor_t, Node> anchors_;
  std::optional<Node> root_;
  std::size_t count_ = 0;
  bool seen_document_ = false;
};

}  // namespace

std::optional<Node> load_yaml(const std::string& text, Problems& problems, int file) {
  const Mark start{1, 1, file};
  if (text.size() > size_limit) {
    problems.add(
        start, "file",
        "holds " + std::to_string(text.size()) + " bytes; at most " + std::to_string(size_limit) + " are allowed");
    return {};
  }
  TreeBuilder builder(problems, file);
  try {
    std::istringstream stream(text);
    YAML::Parser parser(stream);
    while (parser.HandleNextDocument(builder)) {
    }
  } catch (const Abandoned&) {
    return {};
  } catch (const YAML::Exception& error) {
    problems.add(to_mark(error.mark, file), "file", "is not YAML: " + error.msg);
    return {};
  }
  auto root = builder.take_root();
  if (!root || root->kind == Node::Kind::nothing) {
    problems.add(start, "file",
                 file == 0 ? "is empty; a layout has at least the keys trammel, bike and linkage"
                           : "is empty; a linkage template has at least points, members, axle and shock");
    return {};
  }
  return root;
}

}  // namespace trammel::brief
