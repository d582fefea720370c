// Machine code made from tapes against the same tapes run step by step: the same digits, whatever the tape.
#include "tape/machine_code.hpp"

#include <catch2/catch.hpp>
#include <memory>
#include <optional>
#include <random>
#include <thread>
#include <vector>

#include "tape/adjoint.hpp"
#include "tape/executor.hpp"
#include "tape/schedule.hpp"
#include "tests/support/random_tape.hpp"
#include "tests/support/register_widths.hpp"
#include "tests/support/same_bits.hpp"

using namespace trammel;

namespace {

constexpr int width = 8;
using Pack = math::Pack<width>;
using math::Symbol;

}  // namespace

TEST_CASE("code gives the digits of a run step by step") {
  const std::vector<int> widths = test::register_widths();
  if (widths.empty()) WARN("this processor runs no code of the kind");
  std::mt19937_64 random(11);
  std::uniform_real_distribution<double> number(-2.0, 2.0);
  for (int trial = 0; trial < 60; ++trial) {
    const int inputs = 4 + trial % 9, results = 1 + trial % 7;
    const math::Tape values = test::random_tape(random, inputs, 5 + 7 * trial, results);
    const math::Tape tape = trial % 2 == 0 ? values : tape::adjoint(values);
    tape::Executor<width> stepped(tape::CompiledTape(tape), true);
    for (const int registers : widths) {
      // Some of the inputs come in an array of their own, and the results go to one.
      const int coming = trial % (inputs + 1);
      const std::unique_ptr<tape::MachineCode> code = tape::MachineCode::make(tape, coming, width, registers);
      REQUIRE(code != nullptr);
      std::vector<Pack> in(static_cast<std::size_t>(coming)), out(static_cast<std::size_t>(tape.results()));
      std::vector<Pack> list(code->slots().end, Pack(std::nan("")));
      for (const auto& [slot, constant] : code->slots().constants)
        list[static_cast<std::size_t>(slot)] = Pack(constant);
      std::size_t differ = 0;
      for (int run = 0; run < 10; ++run) {
        for (int i = 0; i < tape.inputs(); ++i) {
          const int comes = i - (tape.inputs() - coming);
          Pack& x = comes < 0 ? list[static_cast<std::size_t>(i)] : in[static_cast<std::size_t>(comes)];
          for (std::size_t k = 0; k < width; ++k) math::set_lane(x, k, number(random));
          stepped.input(i) = x;
        }
        code->run(reinterpret_cast<double*>(list.data()), reinterpret_cast<const double*>(in.data()),
                  reinterpret_cast<double*>(out.data()));
        stepped.run();
        for (int r = 0; r < tape.results(); ++r)
          differ += test::same_bits(out[static_cast<std::size_t>(r)], stepped.result(r)) ? 0 : 1;
      }
      INFO("tape " << trial << ", registers of " << registers << ": " << tape.operations().size() << " operations");
      CHECK(differ == 0);
    }
  }
  CHECK(tape::MachineCode::make(math::Tape(), 0, width, 0) == nullptr);
}

TEST_CASE("angles of unit vectors: the quick way up to 44°, the whole one when any lane is beyond") {
  math::Tape tape;
  const Symbol x = tape.input(false), y = tape.input(false);
  tape.result(unit_angle(y, x) + x);
  tape.finish();
  const std::optional<math::Tape> quick = tape::lowered_for_small_angles(tape);
  REQUIRE(quick.has_value());
  CHECK(quick->operations().size() < tape::lowered(tape).operations().size() - 15);
  CHECK_FALSE(tape::lowered_for_small_angles(tape::lowered(tape)).has_value());
  tape::Executor<width> stepped(tape::CompiledTape(tape), true);
  const auto is_stepped = [&](const tape::MachineCode& code, double widest, double odd_one) {
    std::vector<Pack> list(code.slots().end);
    for (const auto& [slot, constant] : code.slots().constants) list[static_cast<std::size_t>(slot)] = Pack(constant);
    for (std::size_t k = 0; k < width; ++k) {
      const double angle = k == 5 ? odd_one : widest * (static_cast<double>(k) / 3.5 - 1.0);
      math::set_lane(list[0], k, std::cos(angle));
      math::set_lane(list[1], k, std::sin(angle));
    }
    stepped.input(0) = list[0];
    stepped.input(1) = list[1];
    stepped.run();
    Pack out;
    code.run(reinterpret_cast<double*>(list.data()), nullptr, reinterpret_cast<double*>(&out));
    return test::same_bits(out, stepped.result(0));
  };
  for (const int registers : test::register_widths()) {
    const std::unique_ptr<tape::MachineCode> code = tape::MachineCode::make(tape, 0, width, registers);
    REQUIRE(code != nullptr);
    for (double widest = 0.01; widest < 3.1; widest += 0.01) {
      CHECK(is_stepped(*code, widest, 0.003));
      CHECK(is_stepped(*code, 0.5, widest));  // one lane alone
      CHECK(is_stepped(*code, 0.5, -widest));
    }
  }
}

TEST_CASE("few registers: every number is where it is read") {
  // Plays the ops on packs of one number, with memory and registers that hold nothing but what was put there.
  std::mt19937_64 random(12);
  std::uniform_real_distribution<double> number(-2.0, 2.0);
  for (int trial = 0; trial < 40; ++trial) {
    const math::Tape tape = tape::lowered(test::random_tape(random, 6, 10 + 5 * trial, 3));
    const int registers = 4 + trial % 5;
    const tape::MachineOps ops =
        tape::allocate_registers(tape, {registers, 1 + trial % 3}, 6 + static_cast<std::size_t>(tape.results()));
    std::vector<double> memory(ops.slots.end, std::nan("")), held(static_cast<std::size_t>(registers), std::nan(""));
    tape::Executor<width> stepped(tape::CompiledTape(tape), true);
    for (int i = 0; i < 6; ++i) {
      memory[static_cast<std::size_t>(i)] = number(random);
      stepped.input(i) = Pack(memory[static_cast<std::size_t>(i)]);
    }
    stepped.run();
    for (const auto& [slot, constant] : ops.slots.constants) memory[static_cast<std::size_t>(slot)] = constant;
    const auto at = [&](const tape::Location& p) {
      return (p.is_register() ? held : memory)[static_cast<std::size_t>(p.number())];
    };
    std::vector<bool> masks(1 + static_cast<std::size_t>(trial % 3));
    for (const tape::MachineOp& op : ops.list) {
      double& to = held[static_cast<std::size_t>(op.to) % held.size()];
      const double a = held[static_cast<std::size_t>(op.a)];
      using enum tape::MachineOp::Kind;
      switch (op.kind) {
        case load:
          REQUIRE(!op.b.is_register());
          to = at(op.b);
          break;
        case store:
          memory[static_cast<std::size_t>(op.slot)] = a;
          break;
        case add:
          to = a + at(op.b);
          break;
        case subtract:
          to = a - at(op.b);
          break;
        case multiply:
          to = a * at(op.b);
          break;
        case divide:
          to = a / at(op.b);
          break;
        case negate:
          to = -at(op.b);
          break;
        case root:
          to = std::sqrt(at(op.b));
          break;
        case greater:
          to = a > at(op.b) ? a : at(op.b);
          break;
        case lesser:
          to = a < at(op.b) ? a : at(op.b);
          break;
        case compare:
          masks[static_cast<std::size_t>(op.to)] = a < at(op.b);
          break;
        case blend:
          to = masks[static_cast<std::size_t>(op.mask)] ? at(op.b) : a;
          break;
        case power:
          REQUIRE(!op.b.is_register());
          memory[static_cast<std::size_t>(op.slot)] = std::pow(at(op.b), op.constant);
          std::fill(held.begin(), held.end(), std::nan(""));
          masks.flip();
          break;
        case logarithm:
          REQUIRE(!op.b.is_register());
          memory[static_cast<std::size_t>(op.slot)] = std::log(at(op.b));
          std::fill(held.begin(), held.end(), std::nan(""));
          masks.flip();
          break;
      }
    }
    INFO(registers << " registers, " << tape.operations().size() << " operations");
    for (int r = 0; r < tape.results(); ++r) {
      const double found = memory[static_cast<std::size_t>(ops.slots.results[static_cast<std::size_t>(r)])];
      CHECK(found == math::lane(stepped.result(r), 0));
    }
  }
}

TEST_CASE("threads that ask for a tape's code at once get the same, and its digits") {
  math::Tape tape;
  const Symbol x = tape.input(false), y = tape.input(false);
  tape.result(sqrt(x * x + y * y) / (x + 2.0));
  tape.finish();
  for (int round = 0; round < 20; ++round) {
    const tape::CompiledTape program(tape);
    std::vector<const tape::CompiledTape::Made*> made(4);
    std::vector<double> found(4);
    {
      std::vector<std::jthread> threads;
      for (std::size_t i = 0; i < made.size(); ++i)
        threads.emplace_back([&, i] {
          made[i] = &program.made(width, 4);
          tape::Executor<width> run(program);
          run.input(0) = Pack(3.0);
          run.input(1) = Pack(4.0);
          run.run();
          found[i] = math::lane(run.result(0), 0);
        });
    }
    for (std::size_t i = 0; i < made.size(); ++i) {
      CHECK(made[i] == made[0]);
      CHECK(found[i] == 1.0);  // the triangle of 3, 4 and 5
    }
  }
}
