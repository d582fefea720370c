// Threads for one piece of work: as many as the system grants of those that were asked for.
#pragma once

#include <atomic>
#include <functional>
#include <thread>
#include <vector>

namespace trammel::search {

/// Threads that all run one body, and are waited for. Where the system refuses one, for want of memory or by a limit,
/// there are fewer, and a third of those granted are given back, since the others need memory for their work, too;
/// there may be none.
class Workers {
 public:
  /// `body` throws nothing, and must outlive them: it is no temporary.
  Workers(int wanted, const std::function<void()>& body);
  Workers(int wanted, std::function<void()>&& body) = delete;
  Workers(const Workers&) = delete;
  Workers& operator=(const Workers&) = delete;
  ~Workers();

  int count() const { return static_cast<int>(threads_.size()); }

 private:
  void start(int wanted, const std::function<void()>& body);

  static constexpr int undecided = -1;   ///< while threads are being started none begins
  std::atomic<int> allowed_{undecided};  ///< how many run the body, the first ones
  std::vector<std::thread> threads_;
};

}  // namespace trammel::search
