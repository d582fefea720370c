#include "tape/machine_code.hpp"

#include "tape/schedule.hpp"

#ifdef TRAMMEL_ASMJIT
#include <cstdint>
#include <optional>
#include <utility>

#include "math/trigonometry.hpp"
#include "tape/code_pages.hpp"
#include "tape/x86.hpp"
#endif

namespace trammel::tape {

#ifdef TRAMMEL_ASMJIT
namespace {

class X86Code : public MachineCode {
 public:
  /// Whether it came about.
  bool make(const Tape& tape, int coming, int lanes, int register_lanes) {
    arrays_ = {tape.inputs() - coming, coming, tape.results()};
    lanes_ = lanes;
    register_lanes_ = register_lanes;
    const int least_cosine = tape.inputs() + tape.results();  // its slot, after those of the results
    slots_.end = static_cast<std::size_t>(least_cosine) + 1;
    const std::optional<Tape> quick = lowered_for_small_angles(tape);
    asmjit::CodeHolder quick_code, whole_code;
    if (quick && !write(*quick, least_cosine, quick_code)) return false;
    if (!write(lowered(tape), std::nullopt, whole_code)) return false;
    const std::size_t whole_at = quick ? aligned(quick_code.codeSize()) : 0;
    std::uint8_t* const pages = pages_.take(whole_at + whole_code.codeSize());
    if (pages == nullptr || (quick && !settle(quick_code, pages, whole_at))) return false;
    if (!settle(whole_code, pages + whole_at, whole_code.codeSize()) || !pages_.seal()) return false;
    if (quick) quick_ = reinterpret_cast<Run>(pages);
    whole_ = reinterpret_cast<Run>(pages + whole_at);
    return true;
  }

 private:
  static std::size_t aligned(std::size_t size) { return (size + 63) / 64 * 64; }

  bool write(const Tape& tape, std::optional<int> judged, asmjit::CodeHolder& to) {
    MachineOps ops = allocate_registers(tape, x86_registers(register_lanes_), slots_.end);
    slots_.end = ops.slots.end;
    slots_.results = std::move(ops.slots.results);
    slots_.constants.insert(slots_.constants.end(), ops.slots.constants.begin(), ops.slots.constants.end());
    const auto constant = [&](double x) {
      slots_.constants.emplace_back(static_cast<int>(slots_.end), x);
      return static_cast<int>(slots_.end++);
    };
    std::optional<Judgement> judgement;
    if (judged) judgement = {*judged, constant(math::quick_cosine)};
    if (to.init(asmjit::Environment::host()) != asmjit::kErrorOk) return false;
    // Otherwise an instruction that cannot be written down would be left out in silence.
    Failed failed;
    to.setErrorHandler(&failed);
    write_x86(ops, arrays_, lanes_, register_lanes_, constant(-0.0), judgement, to);
    return !failed.any && to.flatten() == asmjit::kErrorOk && to.resolveUnresolvedLinks() == asmjit::kErrorOk;
  }

  /// Lays code down in `size` bytes at `at`, where it will run.
  static bool settle(asmjit::CodeHolder& code, std::uint8_t* at, std::size_t size) {
    return code.relocateToBase(reinterpret_cast<std::uint64_t>(at)) == asmjit::kErrorOk && code.codeSize() <= size &&
           code.copyFlattenedData(at, size) == asmjit::kErrorOk;
  }

  struct Failed : asmjit::ErrorHandler {
    bool any = false;
    void handleError(asmjit::Error, const char*, asmjit::BaseEmitter*) override { any = true; }
  };

  CodePages pages_;
  Arrays arrays_;
  int lanes_ = 0, register_lanes_ = 0;
};

}  // namespace

std::unique_ptr<MachineCode> MachineCode::make(const Tape& tape, int coming, int lanes, int register_lanes) {
  if (register_lanes != 2 && register_lanes != 4 && register_lanes != 8) return nullptr;
  auto code = std::make_unique<X86Code>();
  if (!code->make(tape, coming, lanes, register_lanes)) return nullptr;
  return code;
}
#else
std::unique_ptr<MachineCode> MachineCode::make(const Tape&, int, int, int) {
  return nullptr;
}
#endif

}  // namespace trammel::tape
