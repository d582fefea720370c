#include <malloc.h>
#include <sys/resource.h>

#include <algorithm>
#include <sstream>
#include <string_view>

#include "app/picture.hpp"
#include "app/print.hpp"
#include "app/program.hpp"
#include "app/verbs.hpp"

namespace trammel::app {
namespace {

/// Where a process may use so many addresses only (ulimit -v), threads share one heap: the C library otherwise sets
/// aside 64 MB of addresses for each thread's own, and what is left for the work ends long before the memory does.
void share_heap_where_addresses_are_limited() {
  rlimit limit{};
  if (getrlimit(RLIMIT_AS, &limit) == 0 && limit.rlim_cur != RLIM_INFINITY) mallopt(M_ARENA_MAX, 1);
}

/// Help and version are not errors; every other refusal of the command line is bad input.
void parse(CLI::App& program, int argc, char** argv, Call& call) {
  try {
    program.parse(argc, argv);
  } catch (const CLI::CallForVersion&) {
    if (call.json)
      call.result = version_json();
    else
      say(version_text() + "\n");
  } catch (const CLI::ParseError& e) {
    std::ostringstream out, err;
    if (program.exit(e, out, err) == 0) {
      call.json = false;  // help is for people
      say(out.str());
    } else {
      guarded(call, [&]() -> int { throw BadInput(err.str()); });
    }
  }
}

}  // namespace
}  // namespace trammel::app

int main(int argc, char** argv) {
  using namespace trammel::app;
  share_heap_where_addresses_are_limited();
  CLI::App program{"From a wanted ride feel to pivot positions: searches rear-suspension layouts for a brief."};
  program.set_version_flag("--version", version_text());
  program.require_subcommand(1);
  program.footer(
      "Exit codes: 0 done, 1 failed, 2 bad input, 3 done but nothing meets the requirements, 4 stopped early by "
      "Ctrl-C, the clock or a nearly full disk (resume goes on).");
  const auto end_of_options = std::find(argv, argv + argc, std::string_view("--"));
  Call call{std::find(argv, end_of_options, std::string_view("--json")) != end_of_options};
  for (auto add : {add_draft, add_picture, add_curves, add_check, add_prove, add_search, add_resume, add_gather,
                   add_report, add_digest, add_compare, add_linkages, add_schema, add_manual, add_completions})
    add(program, call);
  const std::string what_json_is =
      "answer in one JSON document on standard output, for programs; messages stay on stderr";
  program.add_flag("--json", what_json_is);
  for (CLI::App* verb : program.get_subcommands({})) verb->add_flag("--json", what_json_is);
  const auto asked_for = [&](CLI::App* verb) { return verb->check_name(argv[1]); };
  if (argc > 1 && argv[1][0] != '-' && program.get_subcommands(asked_for).empty()) {
    guarded(call, [&]() -> int {
      throw BadInput("'" + std::string(argv[1]) + "' is no command of trammel; `trammel --help` lists them");
    });
  } else {
    parse(program, argc, argv, call);
  }
  const auto named = program.get_subcommands();
  if (call.json) say(document_of(call, named.empty() ? "" : named.front()->get_name()));
  if (std::fflush(stdout) != 0 || std::ferror(stdout) != 0) {
    tell("error: standard output cannot be written");
    return call.exit == interrupted ? interrupted : failed;
  }
  return call.exit;
}
