// Any tape: machine code, the run step by step and the template that it was noted from give the same bits.
#include <memory>

#include "math/pack.hpp"
#include "tape/executor.hpp"
#include "tape/machine_code.hpp"
#include "tests/fuzz/bytes.hpp"
#include "tests/support/random_tape.hpp"
#include "tests/support/register_widths.hpp"
#include "tests/support/same_bits.hpp"

namespace {

using namespace trammel;
constexpr int width = 8;
using Pack = math::Pack<width>;

}  // namespace

extern "C" int LLVMFuzzerTestOneInput(const std::uint8_t* data, std::size_t size) {
  test::Bytes bytes(data, size);
  const int inputs = 2 + static_cast<int>(bytes.below(9)), results = 1 + static_cast<int>(bytes.below(7));
  const int operations = static_cast<int>(bytes.below(256)), coming = static_cast<int>(bytes.below(3)) % (inputs + 1);
  std::vector<Pack> numbers(static_cast<std::size_t>(inputs));
  for (Pack& x : numbers)
    for (std::size_t k = 0; k < width; ++k) math::set_lane(x, k, bytes.number(-2.0, 2.0));
  test::Bytes again = bytes;
  const math::Tape tape = test::random_tape(bytes, inputs, operations, results);
  const std::vector<Pack> wanted = test::random_results(again, numbers, operations, results);

  tape::Executor<width> stepped(tape::CompiledTape(tape), true);
  for (int i = 0; i < inputs; ++i) stepped.input(i) = numbers[static_cast<std::size_t>(i)];
  stepped.run();
  for (int r = 0; r < tape.results(); ++r)
    test::demand(test::same_bits(stepped.result(r), wanted[static_cast<std::size_t>(r)]));

  for (const int registers : test::register_widths()) {
    const std::unique_ptr<tape::MachineCode> code = tape::MachineCode::make(tape, coming, width, registers);
    test::demand(code != nullptr);
    std::vector<Pack> in(numbers.end() - coming, numbers.end()), out(wanted.size()), list(code->slots().end);
    for (const auto& [slot, constant] : code->slots().constants) list[static_cast<std::size_t>(slot)] = Pack(constant);
    std::copy(numbers.begin(), numbers.end() - coming, list.begin());
    code->run(reinterpret_cast<double*>(list.data()), reinterpret_cast<const double*>(in.data()),
              reinterpret_cast<double*>(out.data()));
    for (std::size_t r = 0; r < out.size(); ++r) test::demand(test::same_bits(out[r], wanted[r]));
  }
  return 0;
}
