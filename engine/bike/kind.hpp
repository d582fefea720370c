// What a bike is for, as a brief may say it. Only guidance looks at it.
#pragma once

#include <array>
#include <optional>
#include <string_view>

namespace trammel::bike {

enum class Kind { cross_country, trail, enduro, downhill, e_bike, kids };

struct KindRecord {
  Kind kind;
  std::string_view key;   ///< its name in a brief
  std::string_view name;  ///< in reports
};

inline constexpr std::array<KindRecord, 6> kind_table{{
    {Kind::cross_country, "cross_country", "cross-country"},
    {Kind::trail, "trail", "trail"},
    {Kind::enduro, "enduro", "enduro"},
    {Kind::downhill, "downhill", "downhill"},
    {Kind::e_bike, "e_bike", "e-bike"},
    {Kind::kids, "kids", "children's"},
}};

inline std::optional<Kind> find_kind(std::string_view key) {
  for (const KindRecord& r : kind_table)
    if (r.key == key) return r.kind;
  return std::nullopt;
}

inline const KindRecord& record(Kind kind) {
  return kind_table[static_cast<std::size_t>(kind)];
}

}  // namespace trammel::bike
