#include "search/feel.hpp"

#include <algorithm>
#include <cmath>

namespace trammel::search {

Feel::Feel(const Setup& setup) : setup_(&setup), scorers_(static_cast<std::size_t>(setup.design.choices())) {}

std::vector<double> Feel::of(const store::LayoutRow& row) {
  std::unique_ptr<Scorer>& scorer = scorers_[static_cast<std::size_t>(row.choice)];
  if (!scorer) scorer = std::make_unique<Scorer>(*setup_, static_cast<int>(row.choice));
  std::vector<double> felt;
  scorer->values(row.design, felt);
  std::size_t next = 0;
  for (std::size_t k = 0; k < setup_->cases.size(); ++k) {
    const auto& allowed = setup_->demands[k].allowed;  // of every choice the same
    for (std::size_t t = 0; t < allowed.size(); ++t)
      for (std::size_t i = 0; i < allowed[t].size(); ++i) felt[next++] /= setup_->cases[k].targets[t].tolerance;
  }
  return felt;
}

double difference(const std::vector<double>& a, const std::vector<double>& b) {
  double most = 0.0;
  for (std::size_t i = 0; i < a.size(); ++i) most = std::max(most, std::abs(a[i] - b[i]));
  return most;
}

}  // namespace trammel::search
