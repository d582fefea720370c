// Messages and status line on a terminal and on a pipe.
#include "app/console.hpp"

#include <fcntl.h>
#include <pty.h>
#include <signal.h>
#include <sys/ioctl.h>
#include <termios.h>

#include <atomic>
#include <catch2/catch.hpp>
#include <fstream>
#include <regex>
#include <sstream>
#include <thread>
#include <utility>
#include <vector>

using Catch::Matchers::Contains;
using trammel::app::Console;

namespace {

// Two connected ends; what is written into one is read from the other without waiting.
struct Ends {
  int read_end = -1, write_end = -1;
  ~Ends() {
    ::close(write_end);
    ::close(read_end);
  }
  std::string read() const {
    std::string text;
    char buffer[4096];
    ::fcntl(read_end, F_SETFL, O_NONBLOCK);
    for (ssize_t n = 0; (n = ::read(read_end, buffer, sizeof buffer)) > 0;)
      text.append(buffer, static_cast<std::size_t>(n));
    return text;
  }
};

struct Terminal : Ends {
  explicit Terminal(unsigned short width = 80) {
    winsize size{};
    size.ws_row = 24;
    size.ws_col = width;
    termios raw{};
    ::cfmakeraw(&raw);
    REQUIRE(::openpty(&read_end, &write_end, nullptr, &raw, &size) == 0);
  }
};

struct Pipe : Ends {
  Pipe() {
    int ends[2];
    REQUIRE(::pipe(ends) == 0);
    read_end = ends[0];
    write_end = ends[1];
  }
};

// What a terminal shows after these bytes: lines, the last being where the cursor is.
std::vector<std::string> screen(const std::string& bytes) {
  std::vector<std::string> lines{""};
  std::size_t column = 0;
  for (std::size_t i = 0; i < bytes.size(); ++i) {
    if (bytes[i] == '\r') {
      column = 0;
    } else if (bytes[i] == '\n') {
      lines.emplace_back();
      column = 0;
    } else if (bytes.compare(i, 3, "\x1b[K") == 0) {
      lines.back().resize(column);
      i += 2;
    } else {
      lines.back().resize(std::max(lines.back().size(), column + 1), ' ');
      lines.back()[column++] = bytes[i];
    }
  }
  return lines;
}

using Lines = std::vector<std::string>;

}  // namespace

TEST_CASE("on a terminal the status stays below the messages and is redrawn in place", "[console]") {
  const Terminal terminal;
  std::string bytes;
  const auto shows = [&](const Lines& lines) {
    bytes += terminal.read();
    CHECK(screen(bytes) == lines);
  };
  Console console({.descriptor = terminal.write_end});
  console.info("study opened");
  shows({"study opened", ""});
  console.status("units 1 of 64, a long tail");
  shows({"study opened", "units 1 of 64, a long tail"});
  console.status("units 2 of 64");
  shows({"study opened", "units 2 of 64"});
  console.warning("disk is filling");
  shows({"study opened", "warning: disk is filling", "units 2 of 64"});
  console.error("disk is full");
  shows({"study opened", "warning: disk is filling", "error: disk is full", "units 2 of 64"});
  console.finish();
  shows({"study opened", "warning: disk is filling", "error: disk is full", ""});
  console.finish();
  console.info("done");
  shows({"study opened", "warning: disk is filling", "error: disk is full", "done", ""});
}

TEST_CASE("the status line goes when the console does", "[console]") {
  const Terminal terminal;
  { Console({.descriptor = terminal.write_end}).status("units 1 of 64"); }
  CHECK(screen(terminal.read()) == Lines{""});
}

TEST_CASE("a status wider than the terminal is cut by characters, so that it never wraps", "[console]") {
  const Terminal terminal(20);
  Console console({.descriptor = terminal.write_end});
  console.status("0123456789012345678901234567890");
  CHECK(screen(terminal.read()) == Lines{"0123456789012345678"});
  console.status("äöü 6789012345678901234567890");  // two bytes each, one column each
  CHECK(screen(terminal.read()) == Lines{"äöü 678901234567890"});
  console.status("äöü");
  CHECK(screen(terminal.read()) == Lines{"äöü"});
}

TEST_CASE("control characters cannot break the status line", "[console]") {
  const Terminal terminal;
  Console console({.descriptor = terminal.write_end});
  console.status("a\nb\x1b[2Jc\rd");
  CHECK(screen(terminal.read()) == Lines{"a b [2Jc d"});
}

TEST_CASE("a terminal of unknown width is taken as 80 columns", "[console]") {
  const Terminal terminal(0);
  Console console({.descriptor = terminal.write_end});
  console.status(std::string(200, 'x'));
  CHECK(screen(terminal.read()) == Lines{std::string(79, 'x')});
}

TEST_CASE("on a pipe the status is a plain line, now and then", "[console]") {
  const Pipe pipe;
  SECTION("at most once in the interval") {
    Console console({.descriptor = pipe.write_end});
    console.status("units 1 of 64");
    for (int i = 2; i < 50; ++i) console.status("units " + std::to_string(i) + " of 64");
    console.info("a message");
    console.finish();
    CHECK(pipe.read() == "units 1 of 64\na message\n");
  }
  SECTION("again when the interval is over") {
    Console console({.descriptor = pipe.write_end, .plain_interval = std::chrono::milliseconds(200)});
    console.status("one");
    console.status("two");
    std::this_thread::sleep_for(std::chrono::milliseconds(250));
    console.status("three");
    CHECK(pipe.read() == "one\nthree\n");
  }
}

TEST_CASE("a message with braces or nothing in it is printed as it is", "[console]") {
  const Pipe pipe;
  Console console({.descriptor = pipe.write_end});
  console.info("{} {0} %v %s {");
  console.info("");
  CHECK(pipe.read() == "{} {0} %v %s {\n\n");
}

TEST_CASE("messages of many threads come whole, each on a line of its own", "[console]") {
  const Terminal terminal;
  std::string bytes;
  {
    Console console({.descriptor = terminal.write_end});
    std::vector<std::thread> threads;
    std::atomic<int> running = 4;
    for (int t = 0; t < 4; ++t) {
      threads.emplace_back([&console, &running, t] {
        for (int i = 0; i < 50; ++i) {
          console.status("status of thread " + std::to_string(t));
          console.info("message " + std::to_string(i) + " of thread " + std::to_string(t));
        }
        --running;
      });
    }
    while (running > 0) bytes += terminal.read();  // or the terminal's buffer fills and the writers wait
    for (std::thread& thread : threads) thread.join();
  }
  bytes += terminal.read();
  const Lines lines = screen(bytes);
  REQUIRE(lines.size() == 201);
  const std::regex whole("message [0-9]+ of thread [0-3]");
  for (std::size_t i = 0; i < 200; ++i) REQUIRE(std::regex_match(lines[i], whole));
  CHECK(lines[200].empty());
}

TEST_CASE("the log takes the messages with date and level, and the status now and then", "[console]") {
  const Pipe pipe;
  const auto log = std::filesystem::temp_directory_path() / ("trammel-console-" + std::to_string(::getpid()) + ".log");
  std::ofstream(log) << "earlier run\n";
  {
    Console console({.log = log, .descriptor = pipe.write_end});
    console.status("units 1 of 64");
    console.status("units 2 of 64");
    console.info("study opened");
    console.warning("disk is filling");
    std::stringstream while_open;
    while_open << std::ifstream(log).rdbuf();
    CHECK_THAT(while_open.str(), Contains("study opened") && Contains("disk is filling"));
  }
  std::stringstream text;
  text << std::ifstream(log).rdbuf();
  std::filesystem::remove(log);
  const std::string stamp = "[0-9]{4}-[0-9]{2}-[0-9]{2} [0-9]{2}:[0-9]{2}:[0-9]{2}\\.[0-9]{3} ";
  CHECK(std::regex_match(text.str(), std::regex("earlier run\n" + stamp + "info: units 1 of 64\n" + stamp +
                                                "info: study opened\n" + stamp + "warning: disk is filling\n")));
  CHECK(pipe.read() == "units 1 of 64\nstudy opened\nwarning: disk is filling\n");
}

TEST_CASE("a log that cannot be opened is refused by name", "[console]") {
  CHECK_THROWS_WITH(Console({.log = "/dev/null/run.log"}), Contains("/dev/null/run.log: the log cannot be opened"));
}

TEST_CASE("a log that fails on a full disk is given up with one message", "[console]") {
  if (!std::filesystem::exists("/dev/full")) {
    WARN("skipped: no /dev/full here");
    return;
  }
  const Pipe pipe;
  Console console({.log = "/dev/full", .descriptor = pipe.write_end});
  console.info("one");
  console.info("two");
  CHECK(pipe.read() == "one\nwarning: /dev/full: the log can no longer be written; messages appear here only\ntwo\n");
}

TEST_CASE("a reader that went away takes nothing from the log", "[console]") {
  Pipe pipe;
  ::close(std::exchange(pipe.read_end, ::open("/dev/null", O_RDONLY)));
  const auto previous = ::signal(SIGPIPE, SIG_IGN);
  const auto log = std::filesystem::temp_directory_path() / ("trammel-console-" + std::to_string(::getpid()) + ".log");
  {
    Console console({.log = log, .descriptor = pipe.write_end});
    console.status("to nobody");
    console.info("to the log alone");
  }
  ::signal(SIGPIPE, previous);
  std::stringstream text;
  text << std::ifstream(log).rdbuf();
  std::filesystem::remove(log);
  CHECK_THAT(text.str(), Contains("to the log alone"));
}
