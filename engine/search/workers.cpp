#include "search/workers.hpp"

#include <algorithm>
#include <new>
#include <system_error>

namespace trammel::search {

Workers::Workers(int wanted, const std::function<void()>& body) {
  start(wanted, body);
  const std::size_t granted = threads_.size();
  const bool all = granted == static_cast<std::size_t>(std::max(wanted, 0));
  const std::size_t kept = all ? granted : granted - granted / 3;
  allowed_ = static_cast<int>(kept);
  allowed_.notify_all();
  for (; threads_.size() > kept; threads_.pop_back()) threads_.back().join();
}

void Workers::start(int wanted, const std::function<void()>& body) {
  try {
    threads_.reserve(static_cast<std::size_t>(wanted));
    for (int i = 0; i < wanted; ++i)
      threads_.emplace_back([this, i, &body] {
        allowed_.wait(undecided);
        if (i < allowed_) body();
      });
  } catch (const std::system_error&) {
    return;  // no more than those
  } catch (const std::bad_alloc&) {
    return;
  }
}

Workers::~Workers() {
  for (std::thread& thread : threads_) thread.join();
}

}  // namespace trammel::search
