// Memory for machine code that is written, and afterwards run: never both at once.
#pragma once

#include <cstddef>
#include <cstdint>

namespace trammel::tape {

class CodePages {
 public:
  CodePages() = default;
  CodePages(const CodePages&) = delete;
  CodePages& operator=(const CodePages&) = delete;
  ~CodePages();

  /// Whole pages, at least `size` > 0 bytes, that can be read and written but not run; once only. Null where the system
  /// gives none.
  std::uint8_t* take(std::size_t size);
  /// From now on they can be read and run, and no longer written. False where the system forbids it.
  bool seal();

 private:
  std::uint8_t* begin_ = nullptr;
  std::size_t size_ = 0;
};

}  // namespace trammel::tape
