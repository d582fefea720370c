// Files and folders in whose place something else stands.
#include "io/files.hpp"

#include <sys/socket.h>
#include <sys/stat.h>
#include <sys/un.h>
#include <unistd.h>

#include <catch2/catch.hpp>
#include <cerrno>
#include <cstring>
#include <fstream>
#include <sstream>

using namespace trammel;
using Catch::Matchers::Contains;
using io::FileFailure;
namespace fs = std::filesystem;

namespace {

struct Folder {
  fs::path path = fs::temp_directory_path() / ("trammel-io-" + std::to_string(::getpid()));
  Folder() {
    fs::remove_all(path);
    fs::create_directories(path / "folder");
    std::ofstream(path / "file") << "content";
    REQUIRE(::mkfifo((path / "pipe").c_str(), 0600) == 0);
    fs::create_symlink("file", path / "link");
    fs::create_symlink("/dev/zero", path / "endless");
    fs::create_symlink("pipe", path / "link-to-pipe");
    fs::create_symlink("nothing", path / "dangling");
  }
  ~Folder() { fs::remove_all(path); }
};

std::string content_of(const fs::path& path) {
  std::ostringstream text;
  text << std::ifstream(path).rdbuf();
  return text.str();
}

}  // namespace

TEST_CASE("a regular file is read whole, up to the limit") {
  const Folder folder;
  CHECK(io::read_regular(folder.path / "file", 7) == "content");
  CHECK(io::read_regular(folder.path / "link", 100) == "content");
  CHECK_THROWS_WITH(io::read_regular(folder.path / "file", 6), "holds more than 6 bytes");
  std::ofstream(folder.path / "large") << std::string(300000, 'x');
  CHECK(io::read_regular(folder.path / "large", 300000).size() == 300000);
  CHECK_THROWS_AS(io::read_regular(folder.path / "large", 299999), FileFailure);
  std::ofstream(folder.path / "empty").flush();
  CHECK(io::read_regular(folder.path / "empty", 0).empty());
}

// Each of these would be waited for, or read, without end.
TEST_CASE("what is no regular file is refused by its kind and not opened") {
  const Folder folder;
  CHECK_THROWS_WITH(io::read_regular(folder.path / "folder", 10), "is a folder");
  CHECK_THROWS_WITH(io::read_regular(folder.path / "pipe", 10), "is a named pipe");
  CHECK_THROWS_WITH(io::read_regular(folder.path / "link-to-pipe", 10), "is a named pipe");
  CHECK_THROWS_WITH(io::read_regular(folder.path / "endless", 10), "is a device");
  CHECK_THROWS_WITH(io::read_regular("/dev/tty", 10), "is a device");
  CHECK_THROWS_WITH(io::read_regular(folder.path / "none", 10), "is not there");
  CHECK_THROWS_WITH(io::read_regular(folder.path / "dangling", 10), Contains("cannot be read"));
  CHECK_THROWS_WITH(io::read_regular(folder.path / "file" / "below", 10), Contains("cannot be reached"));
  CHECK_THROWS_WITH(io::read_regular(std::string("/dev/null\0x", 11), 10), "is no name of a file");
  const int socket = ::socket(AF_UNIX, SOCK_STREAM, 0);
  sockaddr_un address{};
  address.sun_family = AF_UNIX;
  std::strncpy(address.sun_path, (folder.path / "socket").c_str(), sizeof address.sun_path - 1);
  REQUIRE(::bind(socket, reinterpret_cast<const sockaddr*>(&address), sizeof address) == 0);
  CHECK_THROWS_WITH(io::read_regular(folder.path / "socket", 10), "is a socket");
  ::close(socket);
}

TEST_CASE("a file is replaced in its own folder alone") {
  const Folder folder;
  fs::create_hard_link(folder.path / "file", folder.path / "other-name");
  io::replace_file(folder.path / "file", "new");
  CHECK(content_of(folder.path / "file") == "new");
  CHECK(content_of(folder.path / "other-name") == "content");
  io::replace_file(folder.path / "fresh", "");
  CHECK(fs::is_empty(folder.path / "fresh"));
  for (const char* name : {"link", "dangling", "endless"}) {
    CHECK_THROWS_WITH(io::replace_file(folder.path / name, "x"), "is a symbolic link");
    CHECK(fs::is_symlink(folder.path / name));
  }
  CHECK_THROWS_WITH(io::replace_file(folder.path / "folder", "x"), "is a folder");
  CHECK_THROWS_WITH(io::replace_file(folder.path / "pipe", "x"), "is a named pipe");
  CHECK(content_of(folder.path / "file") == "new");
  CHECK_FALSE(fs::exists(folder.path / "nothing"));
}

TEST_CASE("a folder is made where none is, and never behind a link") {
  const Folder folder;
  fs::create_directory_symlink("folder", folder.path / "way-out");
  io::make_own_folder(folder.path / "new");
  io::make_own_folder(folder.path / "new");
  CHECK(fs::is_directory(folder.path / "new"));
  CHECK_THROWS_WITH(io::make_own_folder(folder.path / "way-out"), "is a symbolic link");
  CHECK_THROWS_WITH(io::make_own_folder(folder.path / "file"), "is a file");
  CHECK_THROWS_WITH(io::make_own_folder(folder.path / "no" / "such"), Contains("cannot be made"));
  CHECK_THROWS_WITH(io::demand_own_folder(folder.path / "way-out"), "is a symbolic link");
  CHECK_NOTHROW(io::demand_own_folder(folder.path / "none"));
}

TEST_CASE("links are found at any depth") {
  const Folder folder;
  fs::create_directories(folder.path / "folder" / "a" / "b");
  CHECK_NOTHROW(io::demand_no_links(folder.path / "folder"));
  CHECK_NOTHROW(io::demand_no_links(folder.path / "none"));
  fs::create_symlink("/etc", folder.path / "folder" / "a" / "b" / "c");
  CHECK_THROWS_WITH(io::demand_no_links(folder.path / "folder"), Contains("a/b/c: is a symbolic link"));
  CHECK_THROWS_WITH(io::demand_no_links(folder.path / "link"), Contains("link: is a symbolic link"));
  CHECK_THROWS_WITH(io::demand_no_links(folder.path / "pipe"), Contains("pipe: is a named pipe"));
}

TEST_CASE("an interruption long past is not taken for one of the writing") {
  // What succeeds leaves errno as it was.
  const Folder folder;
  errno = EINTR;
  io::replace_file(folder.path / "file", "new words");
  CHECK(content_of(folder.path / "file") == "new words");
}
