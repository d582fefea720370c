// What work on a report may use, how it is called off, and whom it tells how far it is.
#pragma once

#include <tbb/global_control.h>
#include <tbb/parallel_for.h>
#include <tbb/task_arena.h>

#include <atomic>
#include <functional>
#include <mutex>
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

  /// Calls body(i) for every i < n, on all threads; `what` names the work in the status. Each i is its own work: what
  /// comes out depends on no order. Passes on what a body throws.
  template <class Body>
  void each(const std::string& what, std::size_t n, Body body) const {
    if (n == 0) return;
    std::mutex one;
    std::size_t done = 0;
    const auto tell = [&] { say(what + ", " + std::to_string(done) + " of " + std::to_string(n)); };
    tell();
    const tbb::global_control workers(tbb::global_control::max_allowed_parallelism, static_cast<std::size_t>(threads));
    tbb::task_arena arena(threads);
    arena.execute([&] {
      tbb::parallel_for(
          std::size_t{0}, n,
          [&](std::size_t i) {
            heed();
            body(i);
            const std::lock_guard lock(one);
            ++done;
            tell();
          },
          tbb::simple_partitioner());
    });
  }
};

}  // namespace trammel::search
