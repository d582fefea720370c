#include "tape/code_pages.hpp"

#ifdef TRAMMEL_ASMJIT
#include <sys/mman.h>
#include <unistd.h>

namespace trammel::tape {

CodePages::~CodePages() {
  if (begin_ != nullptr) ::munmap(begin_, size_);
}

std::uint8_t* CodePages::take(std::size_t size) {
  const auto page = static_cast<std::size_t>(::sysconf(_SC_PAGESIZE));
  const std::size_t whole = (size + page - 1) / page * page;
  void* const begin = ::mmap(nullptr, whole, PROT_READ | PROT_WRITE, MAP_PRIVATE | MAP_ANONYMOUS, -1, 0);
  if (begin == MAP_FAILED) return nullptr;
  begin_ = static_cast<std::uint8_t*>(begin);
  size_ = whole;
  return begin_;
}

bool CodePages::seal() {
  return ::mprotect(begin_, size_, PROT_READ | PROT_EXEC) == 0;
}

}  // namespace trammel::tape
#endif
