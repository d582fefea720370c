// Numbers by chance: normal errors from addressed random numbers, and what a count says about a share.
#pragma once

#include <vector>

#include "search/stream.hpp"
#include "search/tolerance_sheet.hpp"

namespace trammel::search {

/// Natural logarithm of x > 0, finite, in + − × ÷ only: the same digits on every processor. Good to a few units of the
/// last place.
double logarithm(double x);

/// Normal, mean 0, standard deviation 1, number `index` < 2³¹ of the stream. By the method of Box & Muller, Ann. Math.
/// Stat. 29 (1958) 610–611 (from memory).
double normal(const Stream& stream, std::uint32_t index);

/// z with P(Z ≤ z) = p for a normal Z, 0 < p < 1; good to 1e-12.
double normal_quantile(double p);

/// The share with its 95 % interval: the score interval of Wilson, J. Am. Stat. Assoc. 22 (1927) 209–212 (from memory),
/// the p for which |kept/of − p| ≤ 1.96·√(p(1 − p)/of). 0 to 1 when `of` is 0.
Share share_of_sample(std::int64_t kept, std::int64_t of);

/// The q-quantile of a sample, 0 ≤ q ≤ 1, straight between its ordered values (definition 7 of Hyndman & Fan, Am. Stat.
/// 50 (1996) 361–365, from memory). `rising` is the sample in order, not empty.
double quantile(const std::vector<double>& rising, double q);

}  // namespace trammel::search
