#include "app/interrupt.hpp"

#include <stdexcept>

namespace trammel::app {
namespace {

// A signal handler reaches nothing but globals, and of those safely only lock-free atomics (POSIX, signal-safety(7)).
std::atomic<bool> exists = false;
std::atomic<bool> finish_token = false;
std::atomic<bool> stop_token = false;
static_assert(std::atomic<bool>::is_always_lock_free);

extern "C" void trammel_on_signal(int signal) {
  const bool again = finish_token.exchange(true);
  if (again && (signal == SIGINT || signal == SIGTERM)) stop_token = true;
}

}  // namespace

Interrupt::Interrupt() {
  if (exists.exchange(true)) throw std::logic_error("signals are watched already");
  finish_token = false;
  stop_token = false;
  struct sigaction action {};
  action.sa_handler = &trammel_on_signal;
  action.sa_flags = SA_RESTART;  // calls under way, such as a commit, go on
  sigemptyset(&action.sa_mask);
  for (std::size_t i = 0; i < signals.size(); ++i) {
    sigaction(signals[i], nullptr, &previous_[i]);
    const bool ignored = previous_[i].sa_handler == SIG_IGN;
    if (signals[i] == SIGHUP && ignored) continue;  // started with nohup
    sigaction(signals[i], &action, nullptr);
  }
}

Interrupt::~Interrupt() {
  for (std::size_t i = 0; i < signals.size(); ++i) sigaction(signals[i], &previous_[i], nullptr);
  exists = false;
}

const std::atomic<bool>& Interrupt::finish() const {
  return finish_token;
}
const std::atomic<bool>& Interrupt::stop() const {
  return stop_token;
}

}  // namespace trammel::app
