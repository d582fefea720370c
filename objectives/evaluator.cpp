#include "objectives/evaluator.hpp"

#include <algorithm>
#include <array>
#include <stdexcept>

namespace trammel::objectives {

// One a compilation of wide/evaluator.cpp.
using Make = std::unique_ptr<Evaluator>(const Demands&);
Make make_evaluator_baseline;
#ifdef TRAMMEL_WIDE_X86
Make make_evaluator_avx2;
Make make_evaluator_avx512;
#endif

namespace {

struct Entry {
  InstructionSet set;
  std::string_view name;
  Make* make;  ///< null where the program has not got it
};

#ifdef TRAMMEL_WIDE_X86
constexpr std::array entries{Entry{InstructionSet::baseline, "baseline", make_evaluator_baseline},
                             Entry{InstructionSet::avx2, "avx2", make_evaluator_avx2},
                             Entry{InstructionSet::avx512, "avx512", make_evaluator_avx512}};

bool runs_here(InstructionSet set) {
  switch (set) {
    case InstructionSet::baseline:
      return true;
    case InstructionSet::avx2:
      return __builtin_cpu_supports("avx2") != 0;
    case InstructionSet::avx512:
      return __builtin_cpu_supports("avx512f") != 0 && __builtin_cpu_supports("avx512vl") != 0 &&
             __builtin_cpu_supports("avx512dq") != 0 && __builtin_cpu_supports("avx512bw") != 0;
  }
  return false;
}
#else
constexpr std::array entries{Entry{InstructionSet::baseline, "baseline", make_evaluator_baseline},
                             Entry{InstructionSet::avx2, "avx2", nullptr},
                             Entry{InstructionSet::avx512, "avx512", nullptr}};

bool runs_here(InstructionSet) {
  return true;
}
#endif

}  // namespace

std::string_view name_of(InstructionSet set) {
  return entries[static_cast<std::size_t>(set)].name;
}

std::optional<InstructionSet> find_instruction_set(std::string_view name) {
  const auto found = std::find_if(entries.begin(), entries.end(), [&](const Entry& e) { return e.name == name; });
  if (found == entries.end()) return std::nullopt;
  return found->set;
}

std::vector<InstructionSet> usable_instruction_sets() {
  std::vector<InstructionSet> usable;
  for (const Entry& e : entries)
    if (e.make != nullptr && runs_here(e.set)) usable.push_back(e.set);
  return usable;
}

std::unique_ptr<Evaluator> make_evaluator(const Demands& demands, InstructionSet set) {
  const std::vector<InstructionSet> usable = usable_instruction_sets();
  if (std::find(usable.begin(), usable.end(), set) == usable.end())
    throw std::invalid_argument("this processor cannot run the instruction set " + std::string(name_of(set)));
  return entries[static_cast<std::size_t>(set)].make(demands);
}

}  // namespace trammel::objectives
