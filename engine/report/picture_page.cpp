#include "report/picture_page.hpp"

#include <array>
#include <stdexcept>

#include "brief/fields.hpp"
#include "brief/shipped_templates.hpp"
#include "brief/yaml_loader.hpp"
#include "report/base64.hpp"
#include "report/embedded.hpp"
#include "report/files.hpp"
#include "report/html.hpp"
#include "report/json.hpp"
#include "report/parts.hpp"
#include "report/wording.hpp"
#include "store/digest.hpp"

namespace trammel::report {
namespace {

/// A number that the page asks for, with the key of the brief that it becomes.
struct Asked {
  const char* key;
  const char* path;
  const char* name;
  const char* group;
  bool required = true;
};

constexpr std::array asked{
    Asked{"reading", "linkage.picture.reading", "reading error along either axis", "reading"},
    Asked{"rear_radius", "bike.wheels.rear.radius", "radius of the rear wheel with its tyre", "bike"},
    Asked{"front_radius", "bike.wheels.front.radius", "radius of the front wheel with its tyre", "bike"},
    Asked{"head_angle", "bike.front.head_angle", "head angle", "bike"},
    Asked{"fork_travel", "bike.front.travel", "travel of the fork", "bike"},
    Asked{"shock_length", "shock.length", "length of the shock, eye to eye", "bike"},
    Asked{"shock_stroke", "shock.stroke", "stroke of the shock", "bike"},
    Asked{"cg_x", "bike.cg.x", "centre of gravity with rider, ahead of the bottom bracket", "bike"},
    Asked{"cg_height", "bike.cg.height", "centre of gravity with rider, over the ground", "bike"},
    Asked{"chainring", "drivetrain.chainring", "teeth of the chainring", "chain", false},
    Asked{"idler_teeth", "drivetrain.idler.teeth", "teeth of the idler", "chain", false},
};

Json numbers() {
  Json out = Json::object();
  for (const Asked& one : asked) {
    const brief::Field& field = *brief::find_field(one.path);
    out[one.key] = {{"name", one.name},
                    {"group", one.group},
                    {"required", one.required},
                    {"unit", field.unit},
                    {"least", json_number(field.limits.lo)},
                    {"most", json_number(field.limits.hi)},
                    {"open", field.limits.lo_open},
                    {"whole", field.shape == brief::Shape::whole}};
  }
  return out;
}

Json texts_of(const brief::Node* list) {
  Json out = Json::array();
  for (std::size_t i = 0; list != nullptr && i < list->items.size(); ++i) out.push_back(list->items[i].text);
  return out;
}

std::string text_at(const brief::Node& node, std::string_view group, std::string_view key) {
  const brief::Node* inside = node.find(group);
  const brief::Node* value = inside != nullptr ? inside->find(key) : nullptr;
  return value != nullptr ? value->text : std::string();
}

/// Names of points and members of a shipped linkage; where its points lie the picture says.
Json linkage(const brief::ShippedTemplate& one) {
  brief::Problems none;
  const auto tree = brief::load_yaml(std::string(one.text), none);
  if (!tree) throw std::logic_error("the linkage template " + one.name + " cannot be read");
  Json points = Json::array(), members = Json::object(), sliders = Json::array();
  const std::string axle = text_at(*tree, "axle", "point");
  for (const brief::Key& key : tree->find("points")->keys)
    if (key.text != axle) points.push_back(key.text);
  const brief::Node& all = *tree->find("members");
  for (std::size_t i = 0; i < all.keys.size(); ++i) members[all.keys[i].text] = texts_of(&all.items[i]);
  const brief::Node* rails = tree->find("sliders");
  for (std::size_t i = 0; rails != nullptr && i < rails->items.size(); ++i) {
    const brief::Node& rail = rails->items[i];
    sliders.push_back({{"point", rail.find("point")->text},
                       {"member", rail.find("member")->text},
                       {"along", texts_of(rail.find("along"))}});
  }
  Json out{{"title", tree->find("title")->text},
           {"points", std::move(points)},
           {"members", std::move(members)},
           {"sliders", std::move(sliders)},
           {"axle", axle},
           {"carrier", text_at(*tree, "axle", "member")},
           {"brake", text_at(*tree, "brake", "member")},
           {"eyes", texts_of(tree->find("shock")->find("between"))}};
  out["idler"] = tree->find("idler") == nullptr
                     ? Json(nullptr)
                     : Json{{"point", text_at(*tree, "idler", "point")}, {"run", text_at(*tree, "idler", "run")}};
  return out;
}

Json data_of(const std::optional<Photo>& photo) {
  Json linkages = Json::array(), kinds = Json::array();
  for (const brief::ShippedTemplate& one : brief::shipped_templates()) linkages.push_back(linkage(one));
  for (const bike::KindRecord& record : bike::kind_table) kinds.push_back({{"key", record.key}, {"name", record.name}});
  return {{"photo", photo ? Json{{"name", photo->name}} : Json(nullptr)},
          {"law",
           {{"agreement", brief::picture_agreement},
            {"reach", brief::picture_reach},
            {"reading", brief::picture_reading},
            {"slack", brief::length_slack},
            {"pixels", brief::find_field("linkage.picture.points.*")->limits.hi}}},
          {"names", {{"pattern", brief::name_pattern()}, {"rule", brief::name_rule()}}},
          {"longest_text", brief::longest_text},
          {"numbers", numbers()},
          {"kinds", std::move(kinds)},
          {"templates", std::move(linkages)}};
}

/// One script, so that its parts see each other and nothing else sees them.
std::string script() {
  std::string out = "(function () {\n\"use strict\";\n";
  out += "const data = JSON.parse(document.getElementById(\"picture-data\").textContent);\n";
  for (const std::string_view part : {embedded::picture_law(), embedded::picture_state(), embedded::picture_figures(),
                                      embedded::picture_layout(), embedded::picture_draw(), embedded::picture_stage(),
                                      embedded::picture_parts(), embedded::picture_panel(), embedded::picture_main()})
    out += part;
  return out + "})();\n";
}

/// The source of a script in a content security policy (W3C CSP Level 3, 2.3.1): the SHA-256 of its text.
std::string fingerprint(const std::string& text) {
  const std::string hex = store::sha256(text);
  std::string bytes;
  for (std::size_t i = 0; i < hex.size(); i += 2) bytes += static_cast<char>(std::stoi(hex.substr(i, 2), nullptr, 16));
  return "'sha256-" + base64(bytes) + "'";
}

}  // namespace

std::string picture_page(const std::optional<Photo>& photo) {
  const std::string run = script();
  const Html policy = closed("meta", {{"http-equiv", "Content-Security-Policy"},
                                      {"content",
                                       "default-src 'none'; img-src data: blob:; style-src 'unsafe-inline'; "
                                       "script-src " +
                                           fingerprint(run)}});
  Html body = title_block(
      "Rear suspension", "Points off a picture",
      {{"Writes", text("a layout with linkage: picture:")}, {"Read by", text("trammel curves, check, compare")}});
  body += element("main", Html(std::string(embedded::picture_body())) + cautions_block());
  if (photo)
    body += closed("img", {{"id", "photo"},
                           {"hidden", ""},
                           {"alt", ""},
                           {"src", "data:" + std::string(photo->kind) + ";base64," + base64(photo->bytes)}});
  body += element("script", {{"type", "application/json"}, {"id", "picture-data"}}, script_json(data_of(photo)));
  body += element("script", Html(run));
  const Html style = element("style", Html(std::string(embedded::picture_style())));
  return page("Points off a picture", body, {.first = policy, .last = style});
}

void write_picture_page(const std::optional<Photo>& photo, const std::filesystem::path& folder) {
  write_file(folder / "index.html", picture_page(photo));
}

}  // namespace trammel::report
