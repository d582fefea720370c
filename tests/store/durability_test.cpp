// What the store promises when things go wrong: kills, locks, a full disk.
#include <SQLiteCpp/SQLiteCpp.h>
#include <signal.h>
#include <sys/mount.h>
#include <sys/syscall.h>
#include <sys/wait.h>
#include <unistd.h>

#include <catch2/catch.hpp>
#include <cerrno>
#include <cstring>
#include <functional>
#include <random>
#include <utility>

#include "store/study_file.hpp"
#include "tests/store/study_samples.hpp"

using namespace trammel;
using Catch::Matchers::Contains;
using store::StoreError;
using store::StudyFile;
using test::Folder;
using test::sample_head;
using test::sample_unit;

// Stand in for the C library's, so that the tests can count how often SQLite pushes its writes to the disk.
namespace {
int syncs = 0;
}
extern "C" int fsync(int descriptor) {
  ++syncs;
  return static_cast<int>(::syscall(SYS_fsync, descriptor));
}
extern "C" int fdatasync(int descriptor) {
  ++syncs;
  return static_cast<int>(::syscall(SYS_fdatasync, descriptor));
}

namespace {

// A child process that runs `work` and says over a pipe when it is ready; killed at the latest when it goes out of
// scope.
class Child {
 public:
  explicit Child(const std::function<void(const std::function<void()>& ready)>& work) {
    int ends[2];
    REQUIRE(::pipe(ends) == 0);
    id_ = ::fork();
    REQUIRE(id_ >= 0);
    if (id_ == 0) {
      try {
        work([&] { [[maybe_unused]] const auto told = ::write(ends[1], "r", 1); });
      } catch (...) {
        ::_exit(1);
      }
      ::_exit(0);
    }
    ::close(ends[1]);
    char byte = 0;
    ready_ = ::read(ends[0], &byte, 1) == 1;
    ::close(ends[0]);
  }
  ~Child() { kill(); }
  Child(const Child&) = delete;
  Child& operator=(const Child&) = delete;

  bool ready() const { return ready_; }
  /// True when it was still at work.
  bool kill() {
    if (id_ <= 0) return false;
    ::kill(id_, SIGKILL);
    int status = 0;
    ::waitpid(std::exchange(id_, -1), &status, 0);
    return WIFSIGNALED(status) && WTERMSIG(status) == SIGKILL;
  }

 private:
  pid_t id_ = -1;
  bool ready_ = false;
};

}  // namespace

TEST_CASE("kill -9 at any moment leaves whole units only, and the study goes on", "[store][kill]") {
  const Folder folder;
  StudyFile::create(folder.study(), sample_head());
  std::mt19937 random(20240611);
  std::size_t before = 0;
  for (int round = 0; round < 25; ++round) {
    Child child([&](const auto& ready) {
      StudyFile study = StudyFile::open(folder.study());
      for (auto next = static_cast<std::int64_t>(study.committed().size());; next += 3) {
        study.commit({sample_unit(next), sample_unit(next + 1), sample_unit(next + 2)});
        ready();
      }
    });
    REQUIRE(child.ready());
    ::usleep(static_cast<useconds_t>(random() % 20000));
    REQUIRE(child.kill());

    const StudyFile study = StudyFile::open(folder.study());  // the lock died with the child
    const std::vector<store::UnitRow> units = study.units();
    REQUIRE(units.size() % 3 == 0);  // batches are whole as well
    REQUIRE(units.size() > before);  // what was committed before the kill is there
    for (std::size_t i = 0; i < units.size(); ++i) {
      REQUIRE(test::same(units[i], sample_unit(static_cast<std::int64_t>(i))));
    }
    before = units.size();
  }
  SQLite::Database database(folder.study().string());
  CHECK(database.execAndGet("PRAGMA integrity_check").getString() == "ok");
  // Rows without their unit would be halves of one.
  for (const char* table : {"failure", "layout", "layout_design", "layout_achieved"}) {
    CHECK(
        database.execAndGet("SELECT count(*) FROM " + std::string(table) + " WHERE unit NOT IN (SELECT unit FROM unit)")
            .getInt() == 0);
  }
}

TEST_CASE("one process writes, the lock dies with it, and readers may look on", "[store]") {
  const Folder folder;
  StudyFile::create(folder.study(), sample_head());
  Child child([&](const auto& ready) {
    StudyFile study = StudyFile::open(folder.study());
    study.commit({sample_unit(0)});
    ready();
    for (;;) ::pause();
  });
  REQUIRE(child.ready());
  CHECK_THROWS_AS(StudyFile::open(folder.study()), StoreError);
  CHECK_THROWS_WITH(StudyFile::open(folder.study()), Contains("is being written by process "));
  CHECK_THROWS_WITH(StudyFile::create(folder.study(), sample_head()), Contains("is being written by process "));
  CHECK(test::same(StudyFile::read(folder.study()).units().at(0), sample_unit(0)));
  SQLite::Database any_tool(folder.study().string(), SQLite::OPEN_READONLY);
  CHECK(any_tool.execAndGet("SELECT count(*) FROM layout").getInt() == 6);

  CHECK(child.kill());
  StudyFile study = StudyFile::open(folder.study());
  study.commit({sample_unit(1)});
  CHECK(any_tool.execAndGet("SELECT count(*) FROM layout").getInt() == 12);
}

TEST_CASE("the same process cannot open a study for writing twice", "[store]") {
  const Folder folder;
  StudyFile first = StudyFile::create(folder.study(), sample_head());
  CHECK_THROWS_WITH(StudyFile::open(folder.study()), Contains("is being written by process"));
  StudyFile moved = std::move(first);
  CHECK_THROWS_AS(StudyFile::open(folder.study()), StoreError);
  { const StudyFile last = std::move(moved); }
  CHECK(StudyFile::open(folder.study()).committed().empty());
}

TEST_CASE("a reader sees one state of the file while a writer goes on", "[store]") {
  const Folder folder;
  StudyFile writer = StudyFile::create(folder.study(), sample_head());
  Child child([&](const auto& ready) {
    const StudyFile reader = StudyFile::read(folder.study());
    ready();
    for (;;) {
      for (const store::UnitRow& unit : reader.units()) {
        if (!test::same(unit, sample_unit(unit.unit))) ::_exit(9);
      }
    }
  });
  REQUIRE(child.ready());
  for (int i = 0; i < 60; ++i) writer.commit({sample_unit(i)});
  CHECK(writer.committed().size() == 60);
  CHECK(child.kill());  // it would have left on the first unit that is not whole
}

TEST_CASE("each commit reaches the disk: write-ahead log, full synchronisation", "[store]") {
  const Folder folder;
  StudyFile::create(folder.study(), sample_head());
  StudyFile study = StudyFile::open(folder.study());  // the settings hold for a file opened again
  study.commit({sample_unit(0)});
  for (int i = 1; i < 5; ++i) {
    const int before = syncs;
    study.commit({sample_unit(i), sample_unit(i + 100)});
    CHECK(syncs == before + 1);  // of the log, once a batch; with synchronous = NORMAL there would be none
  }
  SQLite::Database other(folder.study().string());
  CHECK(other.execAndGet("PRAGMA journal_mode").getString() == "wal");
}

TEST_CASE("a full disk is said in words and keeps what was committed", "[store]") {
  const Folder folder;
  const std::filesystem::path disk = folder.path / "disk";
  std::filesystem::create_directory(disk);
  if (::mount("tmpfs", disk.c_str(), "tmpfs", 0, "size=400k") != 0) {
    WARN("SKIP: this user may not mount a small disk: " << std::strerror(errno));
    return;
  }
  struct Unmount {
    std::filesystem::path at;
    ~Unmount() { ::umount2(at.c_str(), MNT_DETACH); }
  } unmount{disk};

  std::size_t committed = 0;
  std::string message;
  {
    StudyFile study = StudyFile::create(disk / "trammel.study", sample_head());
    try {
      for (; committed < 10000; ++committed) study.commit({sample_unit(static_cast<std::int64_t>(committed))});
    } catch (const store::DiskFull& error) {
      message = error.what();
    }
    CHECK_THAT(message, Contains("the disk is full"));
    CHECK(committed > 0);
    CHECK(study.committed().size() == committed);
  }
  CHECK(::mount(nullptr, disk.c_str(), nullptr, MS_REMOUNT, "size=4m") == 0);  // someone makes room
  StudyFile study = StudyFile::open(disk / "trammel.study");
  REQUIRE(study.committed().size() == committed);
  for (std::size_t i = 0; i < committed; ++i) {
    REQUIRE(test::same(study.units()[i], sample_unit(static_cast<std::int64_t>(i))));
  }
  study.commit({sample_unit(static_cast<std::int64_t>(committed))});
  CHECK(study.committed().size() == committed + 1);
}

TEST_CASE("a disk too small for a new study leaves no half-made file", "[store]") {
  const Folder folder;
  const std::filesystem::path disk = folder.path / "disk";
  std::filesystem::create_directory(disk);
  if (::mount("tmpfs", disk.c_str(), "tmpfs", 0, "size=24k") != 0) {
    WARN("SKIP: this user may not mount a small disk: " << std::strerror(errno));
    return;
  }
  struct Unmount {
    std::filesystem::path at;
    ~Unmount() { ::umount2(at.c_str(), MNT_DETACH); }
  } unmount{disk};
  CHECK_THROWS_WITH(StudyFile::create(disk / "trammel.study", sample_head()), Contains("the disk is full"));
  CHECK_FALSE(std::filesystem::exists(disk / "trammel.study"));
}
