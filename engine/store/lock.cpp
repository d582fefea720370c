#include "store/lock.hpp"

#include <fcntl.h>
#include <sys/file.h>
#include <unistd.h>

#include <cerrno>
#include <cstring>
#include <fstream>
#include <string>
#include <utility>

#include "io/files.hpp"
#include "store/study_file.hpp"

namespace trammel::store {
namespace {

std::string holder(const std::filesystem::path& path) {
  long id = 0;
  std::ifstream(path) >> id;
  return id > 0 ? "process " + std::to_string(id) : "another process";
}

}  // namespace

FileLock::FileLock(const std::filesystem::path& path) {
  try {
    io::demand_own_file(path);
  } catch (const io::FileFailure& failure) {
    throw StoreError(path.string() + ": the lock cannot be taken, as it " + failure.what() + " and no file");
  }
  descriptor_ = ::open(path.c_str(), O_RDWR | O_CREAT | O_CLOEXEC | O_NOFOLLOW | O_NONBLOCK, 0644);
  if (descriptor_ < 0) throw StoreError(path.string() + ": the lock cannot be made: " + std::strerror(errno));
  if (::flock(descriptor_, LOCK_EX | LOCK_NB) != 0) {
    const int error = errno;
    ::close(descriptor_);
    if (error == EWOULDBLOCK) throw StoreError(path.string() + ": the study is being written by " + holder(path));
    throw StoreError(path.string() + ": the lock cannot be taken: " + std::strerror(error));
  }
  // For the message above only, so a failure to write it is of no account.
  const std::string id = std::to_string(::getpid()) + "\n";
  if (::ftruncate(descriptor_, 0) == 0) [[maybe_unused]]
    const auto written = ::write(descriptor_, id.data(), id.size());
}

FileLock::FileLock(FileLock&& other) noexcept : descriptor_(std::exchange(other.descriptor_, -1)) {}

FileLock::~FileLock() {
  if (descriptor_ >= 0) ::close(descriptor_);
}

}  // namespace trammel::store
