#include "io/files.hpp"

#include <fcntl.h>
#include <sys/stat.h>
#include <unistd.h>

#include <algorithm>
#include <cerrno>
#include <cstring>
#include <utility>

namespace trammel::io {
namespace {

namespace fs = std::filesystem;

class Descriptor {
 public:
  explicit Descriptor(int number) : number_(number) {}
  Descriptor(const Descriptor&) = delete;
  Descriptor& operator=(const Descriptor&) = delete;
  ~Descriptor() {
    if (number_ >= 0) ::close(number_);
  }
  int get() const { return number_; }
  /// Whether all that was written has arrived; some file systems say only now.
  bool close() { return ::close(std::exchange(number_, -1)) == 0; }

 private:
  int number_;
};

[[noreturn]] void fail(const char* what, int error) {
  throw FileFailure(std::string(what) + ": " + std::strerror(error));
}

const char* kind_in_words(mode_t mode) {
  if (S_ISDIR(mode)) return "is a folder";
  if (S_ISFIFO(mode)) return "is a named pipe";
  if (S_ISSOCK(mode)) return "is a socket";
  if (S_ISLNK(mode)) return "is a symbolic link";
  return S_ISREG(mode) ? "is a file" : "is a device";
}

void demand_regular(const struct stat& status) {
  if (!S_ISREG(status.st_mode)) throw FileFailure(kind_in_words(status.st_mode));
}

/// What stands at a path itself; false when nothing does.
bool look_at(const fs::path& path, struct stat& status) {
  if (path.native().find('\0') != fs::path::string_type::npos) throw FileFailure("is no name of a file");
  if (::lstat(path.c_str(), &status) == 0) return true;
  if (errno == ENOENT) return false;
  fail("cannot be reached", errno);
}

}  // namespace

std::string read_regular(const fs::path& path, std::size_t most) {
  struct stat status {};
  if (!look_at(path, status)) throw FileFailure("is not there");
  if (::stat(path.c_str(), &status) != 0) fail("cannot be read", errno);
  demand_regular(status);
  const Descriptor file(::open(path.c_str(), O_RDONLY | O_CLOEXEC | O_NONBLOCK | O_NOCTTY));
  if (file.get() < 0) fail("cannot be read", errno);
  if (::fstat(file.get(), &status) != 0) fail("cannot be read", errno);
  demand_regular(status);
  std::string content;
  constexpr std::size_t step = std::size_t{1} << 16;
  for (;;) {
    const std::size_t held = content.size();
    content.resize(std::min(held + step, most + 1));
    const ssize_t taken = ::read(file.get(), content.data() + held, content.size() - held);
    if (taken < 0 && errno != EINTR) fail("cannot be read", errno);
    content.resize(held + static_cast<std::size_t>(std::max<ssize_t>(taken, 0)));
    if (content.size() > most) throw FileFailure("holds more than " + std::to_string(most) + " bytes");
    if (taken == 0) return content;
  }
}

void demand_own_file(const fs::path& path) {
  struct stat status {};
  if (look_at(path, status)) demand_regular(status);
}

void demand_own_folder(const fs::path& path) {
  struct stat status {};
  if (look_at(path, status) && !S_ISDIR(status.st_mode)) throw FileFailure(kind_in_words(status.st_mode));
}

void demand_no_links(const fs::path& folder) {
  const auto refuse = [](const fs::path& path, const std::string& what) {
    throw FileFailure(path.string() + ": " + what);
  };
  struct stat status {};
  if (!look_at(folder, status)) return;
  if (!S_ISDIR(status.st_mode)) refuse(folder, kind_in_words(status.st_mode));
  std::error_code error;
  for (fs::recursive_directory_iterator at(folder, error), end; !error && at != end; at.increment(error))
    if (at->is_symlink()) refuse(at->path(), kind_in_words(S_IFLNK));
  if (error) refuse(folder, "cannot be looked through: " + error.message());
}

void replace_file(const fs::path& path, std::string_view content) {
  demand_own_file(path);
  if (::unlink(path.c_str()) != 0 && errno != ENOENT) fail("cannot be replaced", errno);
  Descriptor file(::open(path.c_str(), O_WRONLY | O_CREAT | O_EXCL | O_NOFOLLOW | O_CLOEXEC, 0666));
  if (file.get() < 0) fail("cannot be opened for writing", errno);
  while (!content.empty()) {
    const ssize_t taken = ::write(file.get(), content.data(), content.size());
    if (taken < 0 && errno == EINTR) continue;
    if (taken <= 0) fail("could not be written in full; the disk may be full", errno);
    content.remove_prefix(static_cast<std::size_t>(taken));
  }
  if (!file.close()) fail("could not be written in full; the disk may be full", errno);
}

void make_own_folder(const fs::path& path) {
  if (::mkdir(path.c_str(), 0777) == 0) return;
  if (errno != EEXIST) fail("cannot be made", errno);
  demand_own_folder(path);
}

}  // namespace trammel::io
