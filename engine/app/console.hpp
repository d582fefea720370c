// The one owner of stderr: messages above, a status line below, never in each other's way.
//
// Results do not pass through here; they go to stdout.
#pragma once

#include <unistd.h>

#include <chrono>
#include <filesystem>
#include <memory>
#include <optional>
#include <string>

namespace trammel::app {

/// Where a console writes; the defaults are a command's.
struct ConsoleOptions {
  std::optional<std::filesystem::path> log = {};  ///< messages are appended here too, with date and level
  int descriptor = STDERR_FILENO;
  /// On anything but a terminal the status is printed as a plain line, at most this often; so is it into the log.
  std::chrono::steady_clock::duration plain_interval = std::chrono::seconds(60);
};

/// Safe to use from any thread; each call is written before it returns. What would steer a terminal or end a line of
/// the log is written out (io/escape.hpp).
class Console {
 public:
  /// Throws std::runtime_error naming the log when it cannot be opened. A log that fails later, as on a full disk, is
  /// given up with one message.
  explicit Console(const ConsoleOptions& options = {});
  ~Console();
  Console(const Console&) = delete;
  Console& operator=(const Console&) = delete;

  /// The text of the status line, in place of the one before. On a terminal it stays below all messages, cut to the
  /// terminal's width; elsewhere it becomes a plain line now and then. Line breaks and control characters become
  /// spaces. So it does in the log.
  void status(const std::string& line);
  /// Takes the status line away; the next `status` brings it back.
  void finish();

  void info(const std::string& message);
  void warning(const std::string& message);  ///< led by "warning: "
  void error(const std::string& message);    ///< led by "error: "

 private:
  class Sink;
  struct Loggers;
  std::shared_ptr<Sink> sink_;
  std::unique_ptr<Loggers> loggers_;
};

}  // namespace trammel::app
