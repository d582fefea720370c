#ifdef TRAMMEL_ASMJIT
#include "tape/x86.hpp"

#include <bit>
#include <cmath>
#include <cstdint>
#include <iterator>

namespace trammel::tape {
namespace {

namespace x86 = asmjit::x86;
using Instruction = x86::Inst::Id;
using Kind = MachineOp::Kind;

// What the C library computes, as the packs do.
void powers(double* to, const double* of, double power, int lanes) {
  for (int i = 0; i < lanes; ++i) to[i] = std::pow(of[i], power);
}
void logarithms(double* to, const double* of, double, int lanes) {
  for (int i = 0; i < lanes; ++i) to[i] = std::log(of[i]);
}

/// The instructions of the arithmetic: of the narrowest registers, and of the wider ones.
struct Pair {
  Instruction narrow, wider;
};
Pair arithmetic_of(Kind kind) {
  switch (kind) {
    case Kind::add:
      return {x86::Inst::kIdAddpd, x86::Inst::kIdVaddpd};
    case Kind::subtract:
      return {x86::Inst::kIdSubpd, x86::Inst::kIdVsubpd};
    case Kind::multiply:
      return {x86::Inst::kIdMulpd, x86::Inst::kIdVmulpd};
    case Kind::divide:
      return {x86::Inst::kIdDivpd, x86::Inst::kIdVdivpd};
    case Kind::greater:
      return {x86::Inst::kIdMaxpd, x86::Inst::kIdVmaxpd};
    default:
      return {x86::Inst::kIdMinpd, x86::Inst::kIdVminpd};
  }
}

class Writer {
 public:
  Writer(asmjit::CodeHolder& to, const Arrays& arrays, int lanes, int register_lanes, int sign_slot)
      : to_(&to), arrays_(arrays), lanes_(lanes), register_lanes_(register_lanes), sign_slot_(sign_slot) {}

  void write(const MachineOps& ops, const std::optional<Judgement>& judgement) {
    const x86::Gp kept[] = {list, in, out, rounds, beyond};  // an odd number: calls want the stack at a multiple of 16
    for (const x86::Gp& r : kept) to_.push(r);
    to_.xor_(beyond.r32(), beyond.r32());
    to_.mov(list, x86::rdi);
    to_.mov(in, x86::rsi);
    to_.mov(out, x86::rdx);
    to_.mov(rounds, lanes_ / register_lanes_);
    const asmjit::Label again = to_.newLabel();
    to_.bind(again);
    for (const MachineOp& op : ops.list) write(op);
    if (judgement) judge(*judgement);
    for (const x86::Gp& r : {list, in, out}) to_.add(r, register_bytes());
    to_.dec(rounds);
    to_.jnz(again);
    leave_wide();
    to_.mov(x86::eax, beyond.r32());
    for (std::size_t i = std::size(kept); i-- > 0;) to_.pop(kept[i]);
    to_.ret();
  }

 private:
  // Registers that a call leaves alone.
  static constexpr x86::Gp list = x86::rbx, rounds = x86::r12, beyond = x86::r13, in = x86::r14, out = x86::r15;

  static constexpr std::uint32_t first_mask = 1;  // k0 stands for no mask
  // Comparisons that are false where a number is none; the wider registers' trap on nothing.
  static constexpr int less_ordered = 17, no_less = 29, less_narrow = 1, no_greater_narrow = 2;

  bool narrow() const { return register_lanes_ == 2; }
  bool widest() const { return register_lanes_ == 8; }
  int register_bytes() const { return register_lanes_ * static_cast<int>(sizeof(double)); }

  x86::Vec vec(int number) const {
    const auto id = static_cast<std::uint32_t>(number);
    return widest() ? x86::Vec(x86::zmm(id)) : narrow() ? x86::Vec(x86::xmm(id)) : x86::Vec(x86::ymm(id));
  }
  /// Past those for numbers: masks, and one for what an instruction would overwrite.
  x86::Vec mask_vec(int number) const { return vec(x86_registers(register_lanes_).numbers + number); }
  x86::Vec spare() const { return vec(15); }
  x86::Mem slot(int number) const {
    const int in_array = number - arrays_.first_in, in_results = in_array - arrays_.coming;
    if (in_array < 0 || in_results >= arrays_.results) return element(list, number);
    return in_results < 0 ? element(in, in_array) : element(out, in_results);
  }
  x86::Mem element(const x86::Gp& array, int number) const {
    return x86::ptr(array, number * lanes_ * static_cast<int>(sizeof(double)),
                    static_cast<std::uint32_t>(register_bytes()));
  }
  asmjit::Operand place(const Location& p) const {
    return p.is_register() ? asmjit::Operand(vec(p.number())) : asmjit::Operand(slot(p.number()));
  }
  static bool is(const Location& p, int number) { return p.is_register() && p.number() == number; }

  void move(const asmjit::Operand& to, const asmjit::Operand& from) {
    if (to == from) return;
    to_.emit(narrow() ? x86::Inst::kIdMovapd : x86::Inst::kIdVmovupd, to, from);
  }

  void write(const MachineOp& op) {
    switch (op.kind) {
      case Kind::load:
        return move(vec(op.to), place(op.b));
      case Kind::store:
        return move(slot(op.slot), vec(op.a));
      case Kind::negate:
        return negate(op);
      case Kind::root:
        to_.emit(narrow() ? x86::Inst::kIdSqrtpd : x86::Inst::kIdVsqrtpd, vec(op.to), place(op.b));
        return;
      case Kind::compare:
        return compare(op);
      case Kind::blend:
        return blend(op);
      case Kind::power:
        return call(op, powers);
      case Kind::logarithm:
        return call(op, logarithms);
      default:
        return arithmetic(op);
    }
  }

  void arithmetic(const MachineOp& op) {
    const Pair instructions = arithmetic_of(op.kind);
    if (!narrow()) {
      to_.emit(instructions.wider, vec(op.to), vec(op.a), place(op.b));
      return;
    }
    // What is read second must not be overwritten by the copy of the first.
    const bool overwrites = op.to != op.a && is(op.b, op.to);
    const x86::Vec result = overwrites ? spare() : vec(op.to);
    move(result, vec(op.a));
    to_.emit(instructions.narrow, result, place(op.b));
    move(vec(op.to), result);
  }

  void negate(const MachineOp& op) {
    if (narrow() || !op.b.is_register()) move(vec(op.to), place(op.b));
    if (narrow())
      to_.emit(x86::Inst::kIdXorpd, vec(op.to), slot(sign_slot_));
    else
      to_.emit(x86::Inst::kIdVxorpd, vec(op.to), vec(op.b.is_register() ? op.b.number() : op.to), slot(sign_slot_));
  }

  void compare(const MachineOp& op) {
    if (narrow()) {
      move(mask_vec(op.to), vec(op.a));
      to_.emit(x86::Inst::kIdCmppd, mask_vec(op.to), place(op.b), asmjit::Imm(less_narrow));
      return;
    }
    to_.emit(x86::Inst::kIdVcmppd, mask(op.to), vec(op.a), place(op.b), asmjit::Imm(less_ordered));
  }
  asmjit::Operand mask(int number) const {
    return widest() ? asmjit::Operand(x86::k(first_mask + static_cast<std::uint32_t>(number)))
                    : asmjit::Operand(mask_vec(number));
  }

  void blend(const MachineOp& op) {
    if (widest()) {
      to_.k(x86::k(first_mask + static_cast<std::uint32_t>(op.mask)))
          .emit(x86::Inst::kIdVblendmpd, vec(op.to), vec(op.a), place(op.b));
    } else if (narrow()) {
      move(spare(), mask_vec(op.mask));
      to_.emit(x86::Inst::kIdAndnpd, spare(), vec(op.a));
      move(vec(op.to), place(op.b));
      to_.emit(x86::Inst::kIdAndpd, vec(op.to), mask_vec(op.mask));
      to_.emit(x86::Inst::kIdOrpd, vec(op.to), spare());
    } else {
      to_.emit(x86::Inst::kIdVblendvpd, vec(op.to), vec(op.a), place(op.b), mask(op.mask));
    }
  }

  void judge(const Judgement& judgement) {
    if (narrow()) {  // it has no "not less": least ≤ judged instead
      move(vec(0), slot(judgement.least));
      to_.emit(x86::Inst::kIdCmppd, vec(0), slot(judgement.judged), asmjit::Imm(no_greater_narrow));
      to_.movmskpd(x86::eax, x86::xmm0);
    } else {
      move(vec(0), slot(judgement.judged));
      to_.emit(x86::Inst::kIdVcmppd, mask(0), vec(0), slot(judgement.least), asmjit::Imm(no_less));
      if (widest())
        to_.kmovb(x86::eax, x86::k(first_mask));
      else
        to_.vmovmskpd(x86::eax, mask_vec(0).ymm());
    }
    to_.cmp(x86::eax, (1 << register_lanes_) - 1);
    to_.setne(x86::al);
    to_.movzx(x86::eax, x86::al);
    to_.add(beyond.r32(), x86::eax);
  }

  void call(const MachineOp& op, void (*function)(double*, const double*, double, int)) {
    to_.lea(x86::rdi, slot(op.slot));
    to_.lea(x86::rsi, slot(op.b.number()));
    to_.mov(x86::rax, asmjit::Imm(std::bit_cast<std::uint64_t>(op.constant)));
    if (narrow())
      to_.movq(x86::xmm0, x86::rax);
    else
      to_.vmovq(x86::xmm0, x86::rax);
    to_.mov(x86::edx, register_lanes_);
    leave_wide();
    to_.call(asmjit::Imm(reinterpret_cast<std::uint64_t>(function)));
  }
  /// Before instructions of the narrowest registers, which a wide register's upper half would slow down.
  void leave_wide() {
    if (!narrow()) to_.vzeroupper();
  }

  x86::Assembler to_;
  Arrays arrays_;
  int lanes_, register_lanes_, sign_slot_;
};

}  // namespace

Registers x86_registers(int register_lanes) {
  // The widest have registers of their own for masks.
  return register_lanes == 8 ? Registers{32, 7} : register_lanes == 4 ? Registers{14, 2} : Registers{13, 2};
}

void write_x86(const MachineOps& ops, const Arrays& arrays, int lanes, int register_lanes, int sign_slot,
               const std::optional<Judgement>& judgement, asmjit::CodeHolder& to) {
  Writer(to, arrays, lanes, register_lanes, sign_slot).write(ops, judgement);
}

}  // namespace trammel::tape
#endif
