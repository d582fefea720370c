// The memory that machine code lies in and works on: never written and run at once, and nothing beyond its arrays
// touched. Sanitizers see nothing of what such code reads and writes; pages that fault do.
#ifdef __x86_64__
#include <linux/audit.h>
#include <linux/filter.h>
#include <linux/seccomp.h>
#include <sys/mman.h>
#include <sys/prctl.h>
#include <sys/syscall.h>
#include <sys/wait.h>
#include <unistd.h>

#include <catch2/catch.hpp>
#include <csignal>
#include <cstddef>
#include <cstring>
#include <fstream>
#include <iterator>
#include <memory>
#include <random>
#include <string>
#include <vector>

#include "tape/code_pages.hpp"
#include "tape/executor.hpp"
#include "tape/machine_code.hpp"
#include "tests/support/random_tape.hpp"
#include "tests/support/register_widths.hpp"
#include "tests/support/same_bits.hpp"

using namespace trammel;

namespace {

constexpr int width = 8;
using Pack = math::Pack<width>;

/// Packs that touch a page on either side which nothing may read or write: with their end, or with their beginning.
class Fenced {
 public:
  Fenced(std::size_t packs, bool at_end) : size_(packs * sizeof(Pack)) {
    const auto page = static_cast<std::size_t>(::sysconf(_SC_PAGESIZE));
    const std::size_t inner = (size_ + page - 1) / page * page;
    mapped_ = inner + 2 * page;
    begin_ = static_cast<std::byte*>(::mmap(nullptr, mapped_, PROT_NONE, MAP_PRIVATE | MAP_ANONYMOUS, -1, 0));
    REQUIRE(begin_ != MAP_FAILED);
    if (inner > 0) REQUIRE(::mprotect(begin_ + page, inner, PROT_READ | PROT_WRITE) == 0);
    packs_ = begin_ + page + (at_end ? inner - size_ : 0);
  }
  Fenced(const Fenced&) = delete;
  Fenced& operator=(const Fenced&) = delete;
  ~Fenced() { ::munmap(begin_, mapped_); }

  double* data() { return reinterpret_cast<double*>(packs_); }
  Pack& operator[](std::size_t i) { return reinterpret_cast<Pack*>(packs_)[i]; }

 private:
  std::size_t size_, mapped_ = 0;
  std::byte *begin_ = nullptr, *packs_ = nullptr;
};

/// How a process of its own ends that does the work: its exit code, or the negative number of the signal.
template <class Work>
int end_of(Work work) {
  const pid_t child = ::fork();
  REQUIRE(child >= 0);
  if (child == 0) {
    // As the system has it, instead of a report by whoever caught it.
    for (const int signal : {SIGSEGV, SIGBUS, SIGSYS}) ::signal(signal, SIG_DFL);
    ::_exit(work());
  }
  int status = 0;
  REQUIRE(::waitpid(child, &status, 0) == child);
  return WIFSIGNALED(status) ? -WTERMSIG(status) : WEXITSTATUS(status);
}

/// From now on this process dies of asking for memory that can be written and run. False where the system has no such
/// filters.
bool dies_of_writable_code() {
  constexpr auto number = offsetof(seccomp_data, nr), third = offsetof(seccomp_data, args) + 2 * sizeof(__u64);
  constexpr unsigned both = PROT_WRITE | PROT_EXEC;
  sock_filter steps[] = {
      BPF_STMT(BPF_LD | BPF_W | BPF_ABS, number),
      BPF_JUMP(BPF_JMP | BPF_JEQ | BPF_K, SYS_mmap, 1, 0),
      BPF_JUMP(BPF_JMP | BPF_JEQ | BPF_K, SYS_mprotect, 0, 3),
      BPF_STMT(BPF_LD | BPF_W | BPF_ABS, third),
      BPF_STMT(BPF_ALU | BPF_AND | BPF_K, both),
      BPF_JUMP(BPF_JMP | BPF_JEQ | BPF_K, both, 1, 0),
      BPF_STMT(BPF_RET | BPF_K, SECCOMP_RET_ALLOW),
      BPF_STMT(BPF_RET | BPF_K, SECCOMP_RET_KILL_PROCESS),
  };
  const sock_fprog program{static_cast<unsigned short>(std::size(steps)), steps};
  return ::prctl(PR_SET_NO_NEW_PRIVS, 1, 0, 0, 0) == 0 && ::prctl(PR_SET_SECCOMP, SECCOMP_MODE_FILTER, &program) == 0;
}

/// Makes code for random tapes in all register widths; what there is of it.
std::vector<std::unique_ptr<tape::MachineCode>> some_code() {
  std::mt19937_64 random(21);
  std::vector<std::unique_ptr<tape::MachineCode>> out;
  for (int trial = 0; trial < 12; ++trial) {
    const math::Tape tape = test::random_tape(random, 6, 10 + 40 * trial, 3);
    for (const int registers : test::register_widths())
      out.push_back(tape::MachineCode::make(tape, trial % 3, width, registers));
  }
  return out;
}

/// Mappings of this process whose rights begin with these three letters.
int mappings(const std::string& rights) {
  std::ifstream maps("/proc/self/maps");
  int count = 0;
  for (std::string line; std::getline(maps, line);) count += line.substr(line.find(' ') + 1, 3) == rights ? 1 : 0;
  return count;
}

}  // namespace

TEST_CASE("no memory is writable and executable at once, neither while code is made nor afterwards") {
  const auto code = some_code();
  for (const auto& made : code) REQUIRE(made != nullptr);
  CHECK(mappings("r-x") > 0);
  CHECK(mappings("rwx") == 0);
  CHECK(mappings("-wx") == 0);
  constexpr int no_filter = 3;
  if (end_of([] { return dies_of_writable_code() ? 0 : no_filter; }) == no_filter) {
    WARN("this system has no filters of calls");
    return;
  }
  // The filter does kill.
  CHECK(end_of([] {
          if (!dies_of_writable_code()) return no_filter;
          ::mmap(nullptr, 4096, PROT_READ | PROT_WRITE | PROT_EXEC, MAP_PRIVATE | MAP_ANONYMOUS, -1, 0);
          return 0;
        }) == -SIGSYS);
  CHECK(end_of([] {
          if (!dies_of_writable_code()) return no_filter;
          for (const auto& made : some_code())
            if (!made) return 1;
          return 0;
        }) == 0);
}

TEST_CASE("pages of code can be written until they are sealed, and run from then on") {
  constexpr unsigned char give_7[] = {0xb8, 7, 0, 0, 0, 0xc3};  // mov eax, 7; ret
  tape::CodePages pages;
  std::uint8_t* const at = pages.take(sizeof give_7);
  REQUIRE(at != nullptr);
  std::memcpy(at, give_7, sizeof give_7);
  const auto run = [&] { return reinterpret_cast<int (*)()>(at)(); };
  CHECK(end_of(run) == -SIGSEGV);
  REQUIRE(pages.seal());
  CHECK(run() == 7);
  CHECK(end_of([&] { return *static_cast<volatile std::uint8_t*>(at) = 0, 0; }) == -SIGSEGV);
}

TEST_CASE("code touches nothing before or behind its list, what comes and its results") {
  // The fence holds.
  for (const std::ptrdiff_t beyond : {std::ptrdiff_t{-1}, static_cast<std::ptrdiff_t>(3 * width)}) {
    CHECK(end_of([&] {
            Fenced packs(3, beyond > 0);
            static_cast<volatile double*>(packs.data())[beyond] = 1.0;
            return 0;
          }) == -SIGSEGV);
  }
  std::mt19937_64 random(22);
  std::uniform_real_distribution<double> number(-2.0, 2.0);
  int runs = 0;
  for (int trial = 0; trial < 120; ++trial) {
    const int inputs = 2 + trial % 9, coming = trial % (inputs + 1);
    const math::Tape tape = test::random_tape(random, inputs, 3 * trial, 1 + trial % 5);
    tape::Executor<width> stepped(tape::CompiledTape(tape), true);
    for (const int registers : test::register_widths())
      for (const bool at_end : {false, true}) {
        const auto code = tape::MachineCode::make(tape, coming, width, registers);
        REQUIRE(code != nullptr);
        Fenced list(code->slots().end, at_end), in(static_cast<std::size_t>(coming), at_end),
            out(static_cast<std::size_t>(tape.results()), at_end);
        for (const auto& [slot, constant] : code->slots().constants)
          list[static_cast<std::size_t>(slot)] = Pack(constant);
        for (int i = 0; i < inputs; ++i) {
          const int comes = i - (inputs - coming);
          Pack x;
          for (std::size_t k = 0; k < width; ++k) math::set_lane(x, k, number(random));
          (comes < 0 ? list[static_cast<std::size_t>(i)] : in[static_cast<std::size_t>(comes)]) = x;
          stepped.input(i) = x;
        }
        INFO("tape " << trial << ", registers of " << registers << (at_end ? ", at the end" : ", at the beginning"));
        // A fault ends the program here, with this test's name.
        code->run(list.data(), in.data(), out.data());
        stepped.run();
        for (int r = 0; r < tape.results(); ++r)
          CHECK(test::same_bits(out[static_cast<std::size_t>(r)], stepped.result(r)));
        ++runs;
      }
  }
  CHECK(runs == 240 * static_cast<int>(test::register_widths().size()));
}
#endif
