#include "app/interrupt.hpp"

#include <stdexcept>

namespace trammel::app {
namespace {

// A signal handler reaches nothing but globals, and of those safely only lock-free atomics (POSIX, signal-safety(7)).
std::atomic<bool> exists = false;
std::atomic<bool> finish_token = false;
std::atomic<bool> stop_token = false;
static_assert(std::atomic<bool>::is_always_lock_free);

extern "C" void trammel_on_signal(int) {
  if (finish_token.exchange(true)) stop_token = true;
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
  sigaction(SIGINT, &action, &previous_int_);
  sigaction(SIGTERM, &action, &previous_term_);
}

Interrupt::~Interrupt() {
  sigaction(SIGINT, &previous_int_, nullptr);
  sigaction(SIGTERM, &previous_term_, nullptr);
  exists = false;
}

const std::atomic<bool>& Interrupt::finish() const {
  return finish_token;
}
const std::atomic<bool>& Interrupt::stop() const {
  return stop_token;
}

}  // namespace trammel::app
