// A lock that dies with its process.
#pragma once

#include <filesystem>

namespace trammel::store {

/// Holds `path`, a small file of its own beside what it protects, for this process alone. The kernel lets go of it when
/// the process ends in whatever way, power loss included; the file that stays behind means nothing. (SQLite's own
/// locks last only as long as a statement; and a lock on the database itself would be lost whenever SQLite closes a
/// descriptor of it.)
class FileLock {
 public:
  /// Throws StoreError when another process holds it (named by its id where known) or the file cannot be made.
  explicit FileLock(const std::filesystem::path& path);
  FileLock(FileLock&& other) noexcept;
  FileLock& operator=(FileLock&&) = delete;
  ~FileLock();

 private:
  int descriptor_ = -1;
};

}  // namespace trammel::store
