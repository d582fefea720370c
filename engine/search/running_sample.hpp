// Mean, spread and two quantiles of a sample that is too long to keep.
#pragma once

#include <array>
#include <cstdint>
#include <vector>

namespace trammel::search {

/// Takes numbers one by one. Up to `kept` of them it keeps, and everything is exact; the further ones only count. Then
/// mean and deviation are updated (Welford, Technometrics 4 (1962) 419–420, from memory), and each quantile is read off
/// counts in narrow bins around where the first numbers had it. The numbers are to be of one distribution, in no
/// order: the bins reach so far that a quantile leaves them as good as never, and then it is given as their end.
class RunningSample {
 public:
  static constexpr std::int64_t kept = 2048;

  /// `q` rising, 0 < q < 1.
  explicit RunningSample(double low, double high) : quantiles_{low, high} {}

  void add(double y);

  std::int64_t count() const { return count_; }
  /// Whether all numbers so far are finite; nothing else means anything if not.
  bool finite() const { return finite_; }
  double mean() const;
  /// Standard deviation of the sample; 0 of a single number.
  double deviation() const;
  /// The low and the high quantile, straight between ordered values as in search::quantile. For count() > 0.
  std::array<double, 2> quantiles() const;

 private:
  /// Counts of the numbers around one quantile.
  struct Bins {
    static constexpr int number = 256;

    double from = 0.0, width = 0.0;  ///< of a bin
    std::int64_t below = 0;
    std::vector<std::uint32_t> counts;

    void take(double y);
    /// Where the number of this rank, 0 for the least, lies.
    double at(double rank) const;
  };

  void begin_counting();

  std::array<double, 2> quantiles_;
  std::int64_t count_ = 0;
  bool finite_ = true;
  std::vector<double> first_;  ///< the numbers, as long as they are kept
  double mean_ = 0.0, squares_ = 0.0;
  std::array<Bins, 2> bins_;
};

}  // namespace trammel::search
