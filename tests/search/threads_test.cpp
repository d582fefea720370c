#include <unistd.h>

#include <catch2/catch.hpp>
#include <cstdlib>
#include <filesystem>
#include <fstream>
#include <stdexcept>

#include "search/threads.hpp"

using namespace trammel::search;
using Catch::Matchers::Contains;
namespace fs = std::filesystem;

namespace {

// A folder that stands for /sys/fs/cgroup, gone when the test ends.
struct Tree {
  fs::path root = fs::temp_directory_path() / ("trammel-cgroup-" + std::to_string(::getpid()));
  Tree() { fs::create_directories(root); }
  ~Tree() { fs::remove_all(root); }
  void write(const fs::path& file, const std::string& text) const {
    fs::create_directories((root / file).parent_path());
    std::ofstream(root / file) << text << "\n";
  }
  std::optional<double> quota() const { return cgroup_quota(root / "membership", root); }
};

}  // namespace

TEST_CASE("the strongest source decides and is named", "[threads]") {
  ThreadSources sources{.flag = 3, .environment = "5", .scheduler = "7", .quota = 2.0, .affinity = 16};
  CHECK(choose_threads(sources).count == 3);
  CHECK(choose_threads(sources).why == "3 threads, from --threads");
  sources.flag.reset();
  CHECK(choose_threads(sources).why == "5 threads, from TRAMMEL_THREADS");
  sources.environment.reset();
  CHECK(choose_threads(sources).why == "7 threads, from SLURM_CPUS_PER_TASK");
  sources.scheduler.reset();
  CHECK(choose_threads(sources).why == "2 threads, from the control group's processor quota");
  sources.quota.reset();
  CHECK(choose_threads(sources).why == "16 threads, from the processors this process may use");
}

TEST_CASE("quota and affinity both bind", "[threads]") {
  CHECK(choose_threads({.quota = 8.0, .affinity = 4}).count == 4);
  CHECK(choose_threads({.quota = 2.9, .affinity = 4}).count == 2);
  CHECK(choose_threads({.quota = 0.5, .affinity = 4}).why == "1 thread, from the control group's processor quota");
  CHECK(choose_threads({.quota = 1e9, .affinity = 1}).count == 1);
}

TEST_CASE("what is no number of threads is refused in words", "[threads]") {
  for (const char* text : {"0", "-2", "4097", "two", "2.5", "2 ", " 2", "99999999999999999999", "0x2"}) {
    CAPTURE(text);
    CHECK_THROWS_AS(choose_threads({.environment = text}), std::invalid_argument);
    CHECK_THROWS_WITH(choose_threads({.environment = text}),
                      Contains("TRAMMEL_THREADS is '" + std::string(text) + "'"));
    CHECK_THROWS_WITH(choose_threads({.scheduler = text}), Contains("SLURM_CPUS_PER_TASK"));
  }
  CHECK_THROWS_WITH(choose_threads({.flag = 0}),
                    Contains("--threads is '0', but must be a whole number from 1 to 4096"));
  CHECK(choose_threads({.flag = 2, .environment = "two"}).count == 2);  // what does not decide is not looked at
}

TEST_CASE("version 2 groups: the least limit on the way up", "[threads]") {
  const Tree tree;
  tree.write("membership", "0::/batch/job/step");
  CHECK_FALSE(tree.quota());
  tree.write("batch/job/step/cpu.max", "max 100000");
  CHECK_FALSE(tree.quota());
  tree.write("batch/job/cpu.max", "250000 100000");
  CHECK(tree.quota() == 2.5);
  tree.write("batch/cpu.max", "400000 100000");
  CHECK(tree.quota() == 2.5);
  tree.write("cpu.max", "50000 50000");  // inside a container the mount's own root carries the limit
  CHECK(tree.quota() == 1.0);
}

TEST_CASE("version 1 groups: quota over period, -1 for none", "[threads]") {
  const Tree tree;
  tree.write("membership", "5:memory:/x\n4:cpu,cpuacct:/job");
  tree.write("cpu,cpuacct/job/cpu.cfs_quota_us", "300000");
  tree.write("cpu,cpuacct/job/cpu.cfs_period_us", "100000");
  CHECK(tree.quota() == 3.0);
  tree.write("cpu,cpuacct/job/cpu.cfs_quota_us", "-1");
  CHECK_FALSE(tree.quota());
  tree.write("cpu/cpu.cfs_quota_us", "150000");
  tree.write("cpu/cpu.cfs_period_us", "100000");
  CHECK(tree.quota() == 1.5);
}

TEST_CASE("files that are missing or spoilt set no limit", "[threads]") {
  const Tree tree;
  CHECK_FALSE(tree.quota());
  tree.write("membership", "nonsense\n0:\n::\n0::/job");
  tree.write("job/cpu.max", "many 100000");
  CHECK_FALSE(tree.quota());
  tree.write("job/cpu.max", "100000");
  CHECK_FALSE(tree.quota());
  tree.write("job/cpu.max", "100000 0");
  CHECK_FALSE(tree.quota());
}

TEST_CASE("the process finds its own sources", "[threads]") {
  ::setenv("TRAMMEL_THREADS", "6", 1);
  ::setenv("SLURM_CPUS_PER_TASK", "", 1);
  const ThreadSources found = look_around(9);
  ::unsetenv("TRAMMEL_THREADS");
  ::unsetenv("SLURM_CPUS_PER_TASK");
  CHECK(found.flag == 9);
  CHECK(found.environment == "6");
  CHECK_FALSE(found.scheduler);  // empty is unset
  CHECK(found.affinity >= 1);
  CHECK_FALSE(look_around({}).environment);
}
