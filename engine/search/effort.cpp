#include "search/effort.hpp"

#include <algorithm>
#include <exception>
#include <mutex>

#include "search/workers.hpp"

namespace trammel::search {
namespace {

/// The numbers below n, handed out one by one, and how far the work on them is.
class Round {
 public:
  Round(const Effort& effort, const std::string& what, std::size_t n, const std::function<void(std::size_t)>& body)
      : effort_(effort), what_(what), n_(n), body_(body) {}

  void tell() const { effort_.say(what_ + ", " + std::to_string(done_) + " of " + std::to_string(n_)); }
  /// Works until nothing is left or something has failed.
  void work() {
    try {
      for (std::size_t i = next_++; i < n_ && !failed_; i = next_++) {
        effort_.heed();
        body_(i);
        const std::lock_guard lock(one_);
        ++done_;
        tell();
      }
    } catch (...) {
      const std::lock_guard lock(one_);
      if (!failed_.exchange(true)) failure_ = std::current_exception();
    }
  }
  void rethrow() const {
    if (failure_) std::rethrow_exception(failure_);
  }

 private:
  const Effort& effort_;
  const std::string& what_;
  const std::size_t n_;
  const std::function<void(std::size_t)>& body_;
  std::atomic<std::size_t> next_ = 0;
  std::atomic<bool> failed_ = false;
  std::mutex one_;
  std::size_t done_ = 0;
  std::exception_ptr failure_;
};

}  // namespace

void Effort::each(const std::string& what, std::size_t n, const std::function<void(std::size_t)>& body) const {
  if (n == 0) return;
  Round round(*this, what, n, body);
  round.tell();
  const std::size_t most = std::min(static_cast<std::size_t>(threads), n);
  const std::function<void()> work = [&] { round.work(); };
  {
    const Workers others(static_cast<int>(most) - 1, work);  // this thread works, too
    work();
  }
  round.rethrow();
}

}  // namespace trammel::search
