#include "math/formula_code.hpp"

#include "math/formula_order.hpp"

#ifdef TRAMMEL_ASMJIT
#include <asmjit/x86.h>

#include <bit>
#include <cmath>
#include <cstdint>
#include <iterator>
#include <optional>

#include "math/formula_pages.hpp"
#include "math/trigonometry.hpp"
#endif

namespace trammel::math {

#ifdef TRAMMEL_ASMJIT
namespace {

namespace x86 = asmjit::x86;

// What the C library computes, as the packs do.
void powers(double* to, const double* of, double power, int lanes) {
  for (int i = 0; i < lanes; ++i) to[i] = std::pow(of[i], power);
}
void logarithms(double* to, const double* of, double, int lanes) {
  for (int i = 0; i < lanes; ++i) to[i] = std::log(of[i]);
}

/// What registers of 8 and of 4 numbers offer; the narrower set has no others for masks.
constexpr Registers wide{32, 7}, narrow{14, 2};

/// Writes actions down for registers of 4 or 8 numbers. A pack that fills several registers is worked on in as many
/// rounds.
class Writer {
 public:
  /// Where the slots of a formula are: `coming` ones from `first_in` on in one array, `results` ones that follow in
  /// another, all others in the list.
  struct Arrays {
    int first_in = 0, coming = 0, results = 0;
  };
  Writer(x86::Assembler& to, const Arrays& arrays, int lanes, int register_lanes)
      : to_(to), arrays_(arrays), lanes_(lanes), register_lanes_(register_lanes), wide_(register_lanes == 8) {}

  /// What the code returns: in how many rounds a number of slot `judged` is less than that of slot `least`; 0 without.
  struct Judgement {
    int judged, least;
  };
  void write(const Actions& actions, int sign_slot, std::optional<Judgement> judgement) {
    sign_slot_ = sign_slot;
    const x86::Gp kept[] = {list, in, out, rounds, beyond};  // an odd number: calls want the stack at a multiple of 16
    for (const x86::Gp& r : kept) to_.push(r);
    to_.xor_(beyond.r32(), beyond.r32());
    to_.mov(list, x86::rdi);
    to_.mov(in, x86::rsi);
    to_.mov(out, x86::rdx);
    to_.mov(rounds, lanes_ / register_lanes_);
    const asmjit::Label again = to_.newLabel();
    to_.bind(again);
    for (const Action& action : actions.list) write(action);
    if (judgement) judge(*judgement);
    for (const x86::Gp& r : {list, in, out}) to_.add(r, register_bytes());
    to_.dec(rounds);
    to_.jnz(again);
    to_.vzeroupper();
    to_.mov(x86::eax, beyond.r32());
    for (std::size_t i = std::size(kept); i-- > 0;) to_.pop(kept[i]);
    to_.ret();
  }

 private:
  using Instruction = x86::Inst::Id;

  // Registers that a call leaves alone.
  static constexpr x86::Gp list = x86::rbx, rounds = x86::r12, beyond = x86::r13, in = x86::r14, out = x86::r15;

  x86::Vec vec(int number) const {
    const auto id = static_cast<std::uint32_t>(number);
    return wide_ ? x86::Vec(x86::zmm(id)) : x86::Vec(x86::ymm(id));
  }
  int register_bytes() const { return register_lanes_ * static_cast<int>(sizeof(double)); }
  x86::Mem slot(int number) const {
    const int in_array = number - arrays_.first_in, in_results = in_array - arrays_.coming;
    if (in_array < 0 || in_results >= arrays_.results) return element(list, number);
    return in_results < 0 ? element(in, in_array) : element(out, in_results);
  }
  x86::Mem element(const x86::Gp& array, int number) const {
    return x86::ptr(array, number * lanes_ * static_cast<int>(sizeof(double)),
                    static_cast<std::uint32_t>(register_bytes()));
  }
  asmjit::Operand place(const Place& p) const {
    return p.is_register() ? asmjit::Operand(vec(p.number())) : asmjit::Operand(slot(p.number()));
  }

  void emit(Instruction instruction, const asmjit::Operand& a, const asmjit::Operand& b) {
    to_.emit(instruction, a, b);
  }
  void emit(Instruction instruction, const asmjit::Operand& a, const asmjit::Operand& b, const asmjit::Operand& c) {
    to_.emit(instruction, a, b, c);
  }

  void write(const Action& action) {
    const auto three = [&](Instruction instruction) {
      emit(instruction, vec(action.to), vec(action.a), place(action.b));
    };
    switch (action.kind) {
      case Action::Kind::load:
        emit(x86::Inst::kIdVmovupd, vec(action.to), place(action.b));
        break;
      case Action::Kind::store:
        emit(x86::Inst::kIdVmovupd, slot(action.slot), vec(action.a));
        break;
      case Action::Kind::add:
        three(x86::Inst::kIdVaddpd);
        break;
      case Action::Kind::subtract:
        three(x86::Inst::kIdVsubpd);
        break;
      case Action::Kind::multiply:
        three(x86::Inst::kIdVmulpd);
        break;
      case Action::Kind::divide:
        three(x86::Inst::kIdVdivpd);
        break;
      case Action::Kind::greater:
        three(x86::Inst::kIdVmaxpd);
        break;
      case Action::Kind::lesser:
        three(x86::Inst::kIdVminpd);
        break;
      case Action::Kind::negate:
        if (action.b.is_register()) {
          emit(x86::Inst::kIdVxorpd, vec(action.to), vec(action.b.number()), slot(sign_slot_));
        } else {
          emit(x86::Inst::kIdVmovupd, vec(action.to), place(action.b));
          emit(x86::Inst::kIdVxorpd, vec(action.to), vec(action.to), slot(sign_slot_));
        }
        break;
      case Action::Kind::root:
        emit(x86::Inst::kIdVsqrtpd, vec(action.to), place(action.b));
        break;
      case Action::Kind::compare:
        to_.emit(x86::Inst::kIdVcmppd, mask(action.to), vec(action.a), place(action.b), asmjit::Imm(less_ordered));
        break;
      case Action::Kind::blend:
        if (wide_)
          to_.k(x86::k(first_mask + static_cast<std::uint32_t>(action.mask)))
              .emit(x86::Inst::kIdVblendmpd, vec(action.to), vec(action.a), place(action.b));
        else
          to_.emit(x86::Inst::kIdVblendvpd, vec(action.to), vec(action.a), place(action.b), mask(action.mask));
        break;
      case Action::Kind::power:
        call(action, powers);
        break;
      case Action::Kind::logarithm:
        call(action, logarithms);
        break;
    }
  }

  asmjit::Operand mask(int number) const {
    const auto id = static_cast<std::uint32_t>(number);
    return wide_ ? asmjit::Operand(x86::k(first_mask + id)) : asmjit::Operand(vec(narrow.numbers + number));
  }

  void judge(const Judgement& judgement) {
    emit(x86::Inst::kIdVmovupd, vec(0), slot(judgement.judged));
    to_.emit(x86::Inst::kIdVcmppd, mask(0), vec(0), slot(judgement.least), asmjit::Imm(no_less));
    if (wide_)
      to_.kmovb(x86::eax, x86::k(first_mask));
    else
      to_.vmovmskpd(x86::eax, x86::ymm(static_cast<std::uint32_t>(narrow.numbers)));
    to_.cmp(x86::eax, (1 << register_lanes_) - 1);
    to_.setne(x86::al);
    to_.movzx(x86::eax, x86::al);
    to_.add(beyond.r32(), x86::eax);
  }

  void call(const Action& action, void (*function)(double*, const double*, double, int)) {
    to_.lea(x86::rdi, slot(action.slot));
    to_.lea(x86::rsi, slot(action.b.number()));
    to_.mov(x86::rax, asmjit::Imm(std::bit_cast<std::uint64_t>(action.constant)));
    to_.vmovq(x86::xmm0, x86::rax);
    to_.mov(x86::edx, register_lanes_);
    to_.vzeroupper();
    to_.call(asmjit::Imm(reinterpret_cast<std::uint64_t>(function)));
  }

  static constexpr std::uint32_t first_mask = 1;  // k0 stands for no mask
  // Comparisons that trap on nothing and are false where a number is none.
  static constexpr int less_ordered = 17, no_less = 29;

  x86::Assembler& to_;
  Arrays arrays_;
  int lanes_, register_lanes_;
  bool wide_;
  int sign_slot_ = 0;
};

class X86Code : public FormulaCode {
 public:
  /// Whether it came about.
  bool make(const Formula& formula, int coming, int lanes, int register_lanes) {
    arrays_ = {formula.inputs() - coming, coming, formula.results()};
    lanes_ = lanes;
    register_lanes_ = register_lanes;
    const int least_cosine = formula.inputs() + formula.results();  // its slot, after those of the results
    slots_.end = static_cast<std::size_t>(least_cosine) + 1;
    const std::optional<Formula> quick = written_out_quickly(formula);
    asmjit::CodeHolder quick_code, whole_code;
    if (quick && !write(*quick, least_cosine, quick_code)) return false;
    if (!write(written_out(formula), std::nullopt, whole_code)) return false;
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

  bool write(const Formula& formula, std::optional<int> judged, asmjit::CodeHolder& to) {
    Actions actions = allocate_registers(formula, register_lanes_ == 8 ? wide : narrow, slots_.end);
    slots_.end = actions.slots.end;
    slots_.results = std::move(actions.slots.results);
    slots_.constants.insert(slots_.constants.end(), actions.slots.constants.begin(), actions.slots.constants.end());
    const auto constant = [&](double x) {
      slots_.constants.emplace_back(static_cast<int>(slots_.end), x);
      return static_cast<int>(slots_.end++);
    };
    std::optional<Writer::Judgement> judgement;
    if (judged) judgement = {*judged, constant(quick_cosine)};
    if (to.init(asmjit::Environment::host()) != asmjit::kErrorOk) return false;
    // Otherwise an instruction that cannot be written down would be left out in silence.
    Failed failed;
    to.setErrorHandler(&failed);
    x86::Assembler assembler(&to);
    Writer(assembler, arrays_, lanes_, register_lanes_).write(actions, constant(-0.0), judgement);
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

  FormulaPages pages_;
  Writer::Arrays arrays_;
  int lanes_ = 0, register_lanes_ = 0;
};

}  // namespace

std::unique_ptr<FormulaCode> FormulaCode::make(const Formula& formula, int coming, int lanes, int register_lanes) {
  if (register_lanes != 4 && register_lanes != 8) return nullptr;
  auto code = std::make_unique<X86Code>();
  if (!code->make(formula, coming, lanes, register_lanes)) return nullptr;
  return code;
}
#else
std::unique_ptr<FormulaCode> FormulaCode::make(const Formula&, int, int, int) {
  return nullptr;
}
#endif

}  // namespace trammel::math
