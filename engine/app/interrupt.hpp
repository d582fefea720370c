// Ctrl-C: once, finish the units in hand; twice, stop now. A terminal that hangs up, or a reader that goes away:
// finish.
#pragma once

#include <signal.h>

#include <array>
#include <atomic>

namespace trammel::app {

/// While one exists, SIGINT and SIGTERM set its tokens instead of ending the process, and so do SIGHUP, unless it is
/// ignored as under nohup, and SIGPIPE; after it, they do what they did before. The tokens are only read by those who
/// run long: nothing is thrown and no call is interrupted.
///
/// Signals belong to the process, so at most one may exist at a time: a second throws std::logic_error.
class Interrupt {
 public:
  Interrupt();
  ~Interrupt();
  Interrupt(const Interrupt&) = delete;
  Interrupt& operator=(const Interrupt&) = delete;

  /// Set by the first signal: start no new unit, commit those in hand.
  const std::atomic<bool>& finish() const;
  /// Set by a second SIGINT or SIGTERM: leave the units in hand as well. A terminal that hangs up may do so several
  /// times, and each line written to a reader that is gone is a signal.
  const std::atomic<bool>& stop() const;

 private:
  static constexpr std::array signals{SIGINT, SIGTERM, SIGHUP, SIGPIPE};
  std::array<struct sigaction, signals.size()> previous_{};
};

}  // namespace trammel::app
