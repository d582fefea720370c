#include "app/interrupt.hpp"

#include <sys/wait.h>
#include <unistd.h>

#include <catch2/catch.hpp>
#include <stdexcept>

using trammel::app::Interrupt;

TEST_CASE("the first signal asks to finish, the second to stop", "[interrupt]") {
  for (const int first : {SIGINT, SIGTERM}) {
    for (const int second : {SIGINT, SIGTERM}) {
      const Interrupt interrupt;
      CHECK_FALSE(interrupt.finish());
      CHECK_FALSE(interrupt.stop());
      ::raise(first);
      CHECK(interrupt.finish());
      CHECK_FALSE(interrupt.stop());
      ::raise(second);
      CHECK(interrupt.finish());
      CHECK(interrupt.stop());
      ::raise(first);  // a third changes nothing
      CHECK(interrupt.stop());
    }
  }
}

TEST_CASE("afterwards signals do what they did before", "[interrupt]") {
  static volatile sig_atomic_t seen = 0;
  const auto previous = ::signal(SIGINT, [](int) { seen = seen + 1; });
  {
    const Interrupt interrupt;
    ::raise(SIGINT);
    CHECK(seen == 0);
  }
  ::raise(SIGINT);
  CHECK(seen == 1);
  ::signal(SIGINT, previous);
}

TEST_CASE("without one, Ctrl-C ends the process as usual", "[interrupt]") {
  const pid_t child = ::fork();
  REQUIRE(child >= 0);
  if (child == 0) {
    ::signal(SIGINT, SIG_DFL);
    { const Interrupt interrupt; }
    ::raise(SIGINT);
    ::_exit(0);
  }
  int status = 0;
  ::waitpid(child, &status, 0);
  CHECK(WIFSIGNALED(status));
  CHECK(WTERMSIG(status) == SIGINT);
}

TEST_CASE("a read under way goes on after a signal", "[interrupt]") {
  int ends[2];
  REQUIRE(::pipe(ends) == 0);
  const Interrupt interrupt;
  const pid_t parent = ::getpid();
  const pid_t child = ::fork();
  REQUIRE(child >= 0);
  if (child == 0) {
    ::usleep(50000);
    ::kill(parent, SIGINT);
    ::usleep(50000);
    [[maybe_unused]] const auto written = ::write(ends[1], "x", 1);
    ::_exit(0);
  }
  char byte = 0;
  CHECK(::read(ends[0], &byte, 1) == 1);
  CHECK(byte == 'x');
  CHECK(interrupt.finish());
  ::waitpid(child, nullptr, 0);
  ::close(ends[0]);
  ::close(ends[1]);
}

TEST_CASE("only one may watch at a time", "[interrupt]") {
  {
    const Interrupt interrupt;
    CHECK_THROWS_AS(Interrupt(), std::logic_error);
    ::raise(SIGINT);
    CHECK(interrupt.finish());
  }
  const Interrupt again;
  CHECK_FALSE(again.finish());  // starts afresh
}
