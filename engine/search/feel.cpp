#include "search/feel.hpp"

#include <algorithm>
#include <cmath>

namespace trammel::search {

Feel::Feel(const Setup& setup) : setup_(&setup) {
  for (std::int64_t l = 0; l < setup.linkage_count(); ++l)
    scorers_.emplace_back(static_cast<std::size_t>(setup.of(l).design.choices()));
}

std::vector<double> Feel::of(const store::LayoutRow& row) {
  const Setup& own = setup_->of(row.linkage);
  std::unique_ptr<Scorer>& scorer =
      scorers_.at(static_cast<std::size_t>(row.linkage)).at(static_cast<std::size_t>(row.choice));
  if (!scorer) scorer = std::make_unique<Scorer>(own, static_cast<int>(row.choice));
  std::vector<double> felt;
  scorer->values(row.design, felt);
  std::size_t next = 0;
  for (std::size_t k = 0; k < own.cases.size(); ++k) {
    const auto& allowed = own.demands[k].allowed;  // of every choice the same
    for (std::size_t t = 0; t < allowed.size(); ++t)
      for (std::size_t i = 0; i < allowed[t].size(); ++i) felt[next++] /= own.cases[k].targets[t].tolerance;
  }
  return felt;
}

double difference(const std::vector<double>& a, const std::vector<double>& b) {
  double most = 0.0;
  for (std::size_t i = 0; i < a.size(); ++i) most = std::max(most, std::abs(a[i] - b[i]));
  return most;
}

}  // namespace trammel::search
