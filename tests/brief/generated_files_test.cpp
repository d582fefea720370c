// The field table and what is made from it.
#include <algorithm>
#include <catch2/catch.hpp>
#include <set>

#include "brief/fields.hpp"
#include "brief/read.hpp"
#include "brief/reference.hpp"
#include "corpus.hpp"

namespace trammel::test {
namespace {

TEST_CASE("the committed schema and reference are what the table gives") {
  // Made anew by: trammel_brief_docs schema > configs/trammel.schema.json; trammel_brief_docs reference > docs/brief.md
  CHECK(read_whole("configs/trammel.schema.json") == brief::schema());
  CHECK(read_whole("configs/trammel-inch.schema.json") == brief::schema(true));
  CHECK(read_whole("docs/brief.md") == brief::reference());
  CHECK(read_whole("docs/guidance.md") == brief::guidance());  // trammel_brief_docs guidance > docs/guidance.md
}

TEST_CASE("every record stands once, under a group that has one, and says what it means") {
  std::set<std::string> seen;
  for (const auto& field : brief::fields()) {
    INFO(field.path);
    CHECK(seen.insert(field.path).second);
    CHECK(field.meaning.ends_with('.') == !field.meaning.empty());
    CHECK(field.meaning.size() > 5);
    const auto cut = field.path.find_last_of(".[");
    const std::string parent = cut == std::string::npos ? "" : field.path.substr(0, cut);
    CHECK(brief::find_field(parent) != nullptr);
    if (field.shape == brief::Shape::names) CHECK(brief::find_field(field.path + ".*") != nullptr);
    if (field.shape == brief::Shape::list) CHECK(brief::find_field(field.path + "[]") != nullptr);
    if (field.shape == brief::Shape::word) CHECK_FALSE(field.words.empty());
  }
}

TEST_CASE("choices speak of keys that exist") {
  for (const auto& choice : brief::choices()) {
    const auto known = brief::keys_of(choice.path);
    auto keys = choice.concerned();
    if (!choice.when_key.empty()) keys.push_back(choice.when_key);
    CHECK_FALSE(choice.forms.empty());
    for (const auto& key : keys) {
      INFO(choice.path << " " << key);
      CHECK(std::any_of(known.begin(), known.end(), [&](const auto* field) { return brief::key_of(*field) == key; }));
    }
  }
}

TEST_CASE("no key or word is one that YAML 1.1 reads as a flag") {
  // https://yaml.org/type/bool.html lists them.
  for (const auto& field : brief::fields()) {
    for (const std::string barred : {"y", "n", "yes", "no", "on", "off", "true", "false"}) {
      INFO(field.path << " " << barred);
      // The coordinate y is a key all the same: it is read as text here, and every layout format has it.
      if (barred != "y") CHECK(brief::key_of(field) != barred);
      CHECK(std::find(field.words.begin(), field.words.end(), barred) == field.words.end());
    }
  }
}

TEST_CASE("limits in words and in force") {
  const brief::Limits open{0.0, 90.0, true, true};
  CHECK(open.words() == "above 0, below 90");
  CHECK_FALSE(open.hold(0.0));
  CHECK(open.hold(89.9));
  CHECK_FALSE(open.hold(90.0));
  const brief::Limits turn{-180.0, 180.0, false, false, true};
  CHECK(turn.words() == "from -180 to 180, not 0");
  CHECK(turn.hold(-180.0));
  CHECK_FALSE(turn.hold(0.0));
  CHECK(brief::Limits{}.hold(1e300));
}

TEST_CASE("names") {
  for (const std::string good : {"a", "main", "link_low", "eye-2", "Y2", "nod", "onto", "yes_"})
    CHECK(brief::is_name(good));
  for (const std::string wrong : {"", "2a", "_a", "a b", "a.b", "Yes", "NO", "n", "Y", "null", "True", "é"}) {
    CHECK_FALSE(brief::is_name(wrong));
  }
  CHECK(brief::is_name(std::string(40, 'a')));
  CHECK_FALSE(brief::is_name(std::string(41, 'a')));
}

}  // namespace
}  // namespace trammel::test
