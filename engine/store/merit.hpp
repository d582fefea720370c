// The order of merit of layouts; it stands here alone, for rows in memory and for those that SQLite sorts.
#pragma once

#include <algorithm>
#include <cmath>
#include <string>

#include "store/study_file.hpp"

namespace trammel::store {

/// One question of the order: the layout with the smaller answer comes first. `sql` and `of` are the same number.
struct MeritTerm {
  const char* sql;
  double (*of)(const LayoutRow&);
};

/// More musts met; then more room in the musts, as far as it counts; then the lower score; then the greater margin in
/// hundredths, since below that no workshop tells layouts apart; then the greater margin of all musts, those that the
/// brief does not write down among them; then the greater margin; then the earlier id.
inline constexpr MeritTerm merit_terms[] = {
    {"musts - musts_met", [](const LayoutRow& row) { return static_cast<double>(row.musts - row.musts_met); }},
    {"-room", [](const LayoutRow& row) { return -row.room; }},
    {"score", [](const LayoutRow& row) { return row.score; }},
    {"-CAST(max(-1e9, min(1e9, margin * 100.0 + 0.5)) AS INTEGER)",
     [](const LayoutRow& row) { return -std::trunc(std::clamp(row.margin * 100.0 + 0.5, -1e9, 1e9)); }},
    {"-must_margin", [](const LayoutRow& row) { return -row.must_margin; }},
    {"-margin", [](const LayoutRow& row) { return -row.margin; }},
    {"unit", [](const LayoutRow& row) { return static_cast<double>(row.unit); }},
    {"place", [](const LayoutRow& row) { return static_cast<double>(row.place); }},
};

/// Whether `a` comes before `b`.
inline bool ranks_before(const LayoutRow& a, const LayoutRow& b) {
  for (const MeritTerm& term : merit_terms) {
    const double of_a = term.of(a), of_b = term.of(b);
    if (of_a != of_b) return of_a < of_b;
  }
  return false;
}

/// The same for ORDER BY over the table of layouts.
inline std::string merit_order() {
  std::string order;
  for (const MeritTerm& term : merit_terms) order += (order.empty() ? "" : ", ") + std::string(term.sql);
  return order;
}

}  // namespace trammel::store
