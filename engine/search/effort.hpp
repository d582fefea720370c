// What work on a report may use, how it is called off, and whom it tells how far it is.
#pragma once

#include <atomic>
#include <functional>
#include <stdexcept>
#include <string>

namespace trammel::search {

/// The user asked to stop at once.
struct Stopped : std::runtime_error {
  Stopped() : std::runtime_error("stopped") {}
};

struct Effort {
  int threads = 1;                          ///< ≥ 1
  const std::atomic<bool>* stop = nullptr;  ///< once it reads true, work ends with Stopped
  std::function<void(const std::string&)> status =
      {};  ///< "fronts of trade-offs, 3 of 12"; never from two threads at once

  /// Throws Stopped when called off.
  void heed() const {
    if (stop != nullptr && stop->load(std::memory_order_relaxed)) throw Stopped();
  }
  void say(const std::string& what) const {
    if (status) status(what);
  }

  /// Calls body(i) for every i < n, on all threads that the system grants, this one at least; `what` names the work in
  /// the status. Each i is its own work: what comes out depends on no order. Passes on what a body throws, once all
  /// bodies have ended.
  void each(const std::string& what, std::size_t n, const std::function<void(std::size_t)>& body) const;
};

}  // namespace trammel::search
