// Ctrl-C: once, finish the units in hand; twice, stop now.
#pragma once

#include <signal.h>

#include <atomic>

namespace trammel::app {

/// While one exists, SIGINT and SIGTERM set its tokens instead of ending the process; after it, they do what they did
/// before. The tokens are only read by those who run long: nothing is thrown and no call is interrupted.
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
  /// Set by the second: leave the units in hand as well.
  const std::atomic<bool>& stop() const;

 private:
  struct sigaction previous_int_ {};
  struct sigaction previous_term_ {};
};

}  // namespace trammel::app
