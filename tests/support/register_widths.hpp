// How wide the registers are that machine code is made for.
#pragma once

#include <vector>

namespace trammel::test {

/// Register widths, in numbers, that code can be made for and that this processor runs.
inline std::vector<int> register_widths() {
  std::vector<int> widths;
#ifdef __x86_64__
  widths.push_back(2);
  if (__builtin_cpu_supports("avx2")) widths.push_back(4);
  if (__builtin_cpu_supports("avx512f") && __builtin_cpu_supports("avx512dq")) widths.push_back(8);
#endif
  return widths;
}

}  // namespace trammel::test
