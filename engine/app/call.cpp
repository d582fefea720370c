#include "app/call.hpp"

#include "report/digits.hpp"
#include "search/setup.hpp"

namespace trammel::app {
namespace {

/// Version of the document's keys.
constexpr int output_version = 1;

Json json_of(const brief::Problem& problem) {
  const bool placed = problem.line > 0;
  return {{"file", text_or_null(problem.file)},
          {"line", placed ? Json(problem.line) : Json(nullptr)},
          {"column", placed ? Json(problem.column) : Json(nullptr)},
          {"where", text_or_null(problem.where)},
          {"message", problem.what}};
}

}  // namespace

Json text_or_null(const std::string& text) {
  return text.empty() ? Json(nullptr) : Json(text);
}

std::string json_text(const Json& tree) {
  if (tree.is_number_float()) return report::exact(tree.get<double>());
  if (!tree.is_structured()) return tree.dump(-1, ' ', true, Json::error_handler_t::replace);
  std::string out(1, tree.is_object() ? '{' : '[');
  for (const auto& item : tree.items()) {
    if (out.size() > 1) out += ',';
    if (tree.is_object()) out += json_text(Json(item.key())) + ":";
    out += json_text(item.value());
  }
  return out + (tree.is_object() ? '}' : ']');
}

std::string document_of(const Call& call, const std::string& command) {
  Json problems = Json::array();
  for (const brief::Problem& problem : call.problems) problems.push_back(json_of(problem));
  return json_text({{"output", output_version},
                    {"engine", search::engine_version()},
                    {"command", text_or_null(command)},
                    {"exit", call.exit},
                    {"problems", problems},
                    {"result", call.result}}) +
         "\n";
}

}  // namespace trammel::app
