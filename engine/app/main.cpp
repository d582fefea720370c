#include <malloc.h>
#include <sys/resource.h>

#include <sstream>

#include "app/print.hpp"
#include "app/program.hpp"
#include "app/verbs.hpp"

namespace {

/// Where a process may use so many addresses only (ulimit -v), threads share one heap: the C library otherwise sets
/// aside 64 MB of addresses for each thread's own, and what is left for the work ends long before the memory does.
void share_heap_where_addresses_are_limited() {
  rlimit limit{};
  if (getrlimit(RLIMIT_AS, &limit) == 0 && limit.rlim_cur != RLIM_INFINITY) mallopt(M_ARENA_MAX, 1);
}

}  // namespace

int main(int argc, char** argv) {
  using namespace trammel::app;
  share_heap_where_addresses_are_limited();
  CLI::App program{"From a wanted ride feel to pivot positions: searches rear-suspension layouts for a brief."};
  program.set_version_flag("--version", version_text());
  program.require_subcommand(1);
  program.footer(
      "Exit codes: 0 done, 1 failed, 2 bad input, 3 done but nothing meets the requirements, 4 stopped early by "
      "Ctrl-C, the clock or a nearly full disk (resume goes on).");
  int exit = done;
  for (auto add : {add_draft, add_curves, add_check, add_search, add_resume, add_gather, add_report, add_digest,
                   add_compare, add_linkages, add_schema, add_manual, add_completions})
    add(program, exit);
  const auto asked_for = [&](CLI::App* verb) { return verb->check_name(argv[1]); };
  if (argc > 1 && argv[1][0] != '-' && program.get_subcommands(asked_for).empty()) {
    complain("'{}' is no command of trammel; `trammel --help` lists them\n", argv[1]);
    return bad_input;
  }
  try {
    program.parse(argc, argv);
  } catch (const CLI::ParseError& e) {
    // Help and version are not errors; every other refusal of the command line is bad input.
    std::ostringstream out, err;
    exit = program.exit(e, out, err) == 0 ? done : bad_input;
    say(out.str());
    tell(err.str());
  }
  if (std::fflush(stdout) != 0 || std::ferror(stdout) != 0) {
    tell("error: standard output cannot be written");
    return exit == interrupted ? interrupted : failed;
  }
  return exit;
}
