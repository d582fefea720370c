// Threads for one piece of work: as many as the system grants of those that were asked for.
#pragma once

#include <functional>
#include <thread>
#include <vector>

namespace trammel::search {

/// Threads that all run one body, and are waited for. Where the system refuses one, for want of memory or by a limit,
/// there are fewer; there may be none.
class Workers {
 public:
  /// `body` throws nothing.
  Workers(int wanted, const std::function<void()>& body);
  Workers(const Workers&) = delete;
  Workers& operator=(const Workers&) = delete;
  ~Workers();

  int count() const { return static_cast<int>(threads_.size()); }

 private:
  std::vector<std::thread> threads_;
};

}  // namespace trammel::search
