// Tapes of every kind of operation, put together at random.
#pragma once

#include <algorithm>
#include <vector>

#include "math/tape.hpp"

namespace trammel::test {

/// Random operations on `inputs`, many of them used far from where they are made. The same source gives the same
/// operations for every type of number. Results: `results` of them, an input as it is, and a constant.
template <class T, class Random>
std::vector<T> random_results(Random& random, const std::vector<T>& inputs, int operations, int results) {
  using math::abs, math::atan2, math::log, math::pow, math::select, math::sqrt, math::unit_angle, math::value;
  std::vector<T> numbers = inputs;
  const auto any = [&]() -> T {
    const std::size_t n = numbers.size(), recent = std::min<std::size_t>(n, 12);
    const bool far = random() % 4 == 0;
    return numbers[far ? random() % n : n - 1 - random() % recent];
  };
  for (int i = 0; i < operations; ++i) {
    const T a = any(), b = any(), c = any(), d = any();
    T made;
    switch (random() % 16) {
      case 0:
      case 1:
      case 2:
        made = a + b;
        break;
      case 3:
      case 4:
        made = a - b;
        break;
      case 5:
      case 6:
      case 7:
        made = a * b;
        break;
      case 8:
        made = a / (b * b + 1.0);
        break;
      case 9:
        made = sqrt(a * a + 0.25);
        break;
      case 10:
        made = math::max(a, b) - math::min(c, d);
        break;
      case 11:
        made = select(a < b, c, -d);
        break;
      case 12:
        made = abs(a) * 0.5 + value(b);
        break;
      case 13:
        made = atan2(a, b);
        break;
      case 14: {
        const T r = sqrt(a * a + b * b + 1e-3);
        made = unit_angle(a / r, b / r);
        break;
      }
      default:
        made = random() % 4 == 0 ? pow(T(a * a + 0.1), 1.3) + log(T(b * b + 0.1)) : T(2.0) - a;
    }
    // Kept near 1, so that nothing grows beyond all bounds.
    numbers.push_back(made / sqrt(made * made * 0.1 + 1.0));
  }
  std::vector<T> out;
  out.reserve(static_cast<std::size_t>(results));
  for (int r = 0; r < results; ++r) out.push_back(r == 0 ? numbers.back() : any());
  out.push_back(numbers[1]);
  out.push_back(T(0.75));
  return out;
}

/// The same as a tape.
template <class Random>
math::Tape random_tape(Random& random, int inputs, int operations, int results) {
  math::Tape tape;
  std::vector<math::Symbol> numbers;
  numbers.reserve(static_cast<std::size_t>(inputs));
  for (int i = 0; i < inputs; ++i) numbers.push_back(tape.input(i % 4 != 3));
  for (const math::Symbol& x : random_results(random, numbers, operations, results)) tape.result(x);
  tape.finish();
  return tape;
}

}  // namespace trammel::test
