#include "search/workers.hpp"

#include <new>
#include <system_error>

namespace trammel::search {

Workers::Workers(int wanted, const std::function<void()>& body) {
  try {
    threads_.reserve(static_cast<std::size_t>(wanted));
    for (int i = 0; i < wanted; ++i) threads_.emplace_back([&body] { body(); });
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
