#include "search/running_sample.hpp"

#include <algorithm>
#include <cmath>

#include "math/number.hpp"
#include "search/chance.hpp"

namespace trammel::search {
namespace {

/// Standard deviations of a quantile's rank that the bins reach to both sides, of one found from `kept` numbers.
constexpr double reach = 8.0;

double mean_of(const std::vector<double>& sample) {
  double sum = 0.0;
  for (double y : sample) sum += y;
  return sum / static_cast<double>(sample.size());
}

double squares_of(const std::vector<double>& sample, double mean) {
  double squares = 0.0;
  for (double y : sample) squares += math::square(y - mean);
  return squares;
}

}  // namespace

void RunningSample::add(double y) {
  finite_ = finite_ && std::isfinite(y);
  ++count_;
  if (!finite_) {
    first_ = {};
    return;
  }
  if (count_ <= kept) {
    first_.push_back(y);
    return;
  }
  if (!first_.empty()) begin_counting();
  const double off = y - mean_;
  mean_ += off / static_cast<double>(count_);
  squares_ += off * (y - mean_);
  for (Bins& bins : bins_) bins.take(y);
}

void RunningSample::begin_counting() {
  mean_ = mean_of(first_);
  squares_ = squares_of(first_, mean_);
  std::vector<double> rising;
  rising.swap(first_);
  std::sort(rising.begin(), rising.end());
  for (std::size_t i = 0; i < bins_.size(); ++i) {
    const double q = quantiles_[i], off = reach * std::sqrt(q * (1.0 - q) / static_cast<double>(kept));
    const double from = quantile(rising, std::max(0.0, q - off)), to = quantile(rising, std::min(1.0, q + off));
    bins_[i].from = from;
    bins_[i].width = (to - from) / Bins::number;
    bins_[i].counts.assign(Bins::number, 0);
    for (double y : rising) bins_[i].take(y);
  }
}

double RunningSample::mean() const {
  return first_.empty() ? mean_ : mean_of(first_);
}

double RunningSample::deviation() const {
  if (count_ < 2) return 0.0;
  const double squares = first_.empty() ? squares_ : squares_of(first_, mean_of(first_));
  return std::sqrt(squares / (static_cast<double>(count_) - 1.0));
}

std::array<double, 2> RunningSample::quantiles() const {
  std::array<double, 2> out{};
  std::vector<double> rising = first_;
  std::sort(rising.begin(), rising.end());
  for (std::size_t i = 0; i < out.size(); ++i)
    out[i] =
        rising.empty() ? bins_[i].at(quantiles_[i] * static_cast<double>(count_ - 1)) : quantile(rising, quantiles_[i]);
  return out;
}

void RunningSample::Bins::take(double y) {
  if (y < from) {
    ++below;
    return;
  }
  // All numbers may be one: then there is nothing to tell apart.
  const double bin = width > 0.0 ? std::floor((y - from) / width) : (y > from ? number : 0.0);
  if (bin < number) ++counts[static_cast<std::size_t>(bin)];
}

double RunningSample::Bins::at(double rank) const {
  // Numbers count as evenly spread over their bin, each in the middle of its share.
  double before = static_cast<double>(below) - 0.5;
  if (rank <= before) return from;
  double i = 0.0;
  for (const double here : counts) {
    if (rank < before + here) return from + width * (i + (rank - before) / here);
    before += here;
    ++i;
  }
  return from + width * number;
}

}  // namespace trammel::search
