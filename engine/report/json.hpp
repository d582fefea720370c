// Data for a page's script.
#pragma once

#include <cmath>
#include <nlohmann/json.hpp>
#include <optional>
#include <string>

#include "report/html.hpp"

namespace trammel::report {

using Json = nlohmann::ordered_json;

/// null for what is no finite number.
inline Json json_number(double x) {
  return std::isfinite(x) ? Json(x) : Json(nullptr);
}

inline Json json_number(const std::optional<double>& x) {
  return x ? json_number(*x) : Json(nullptr);
}

/// As the content of a script element, which no text in it can end.
inline Html script_json(const Json& data) {
  std::string out;
  for (const char c : data.dump(-1, ' ', false, Json::error_handler_t::replace))
    out += c == '<' ? std::string("\\u003c") : std::string(1, c);
  return Html(out);
}

}  // namespace trammel::report
