// How many threads a run uses, and who said so.
#pragma once

#include <filesystem>
#include <optional>
#include <string>

namespace trammel::search {

/// What may set the number of threads, strongest first.
struct ThreadSources {
  std::optional<int> flag = {};                 ///< --threads
  std::optional<std::string> environment = {};  ///< TRAMMEL_THREADS
  std::optional<std::string> scheduler = {};    ///< SLURM_CPUS_PER_TASK
  std::optional<double> quota = {};             ///< processors that the control group grants, > 0
  int affinity = 1;                             ///< processors on which this process may run, ≥ 1
};

struct ThreadChoice {
  int count = 1;    ///< ≥ 1
  std::string why;  ///< e.g. "4 threads, from TRAMMEL_THREADS"
};

/// The strongest source that is set decides; the last two both bind, so the lesser of them does. A quota counts in
/// whole processors, rounded down, at least one. Throws std::invalid_argument in words when the flag, or the variable
/// that decides, is not a whole number from 1 to 4096.
ThreadChoice choose_threads(const ThreadSources& sources);

/// The sources as this process finds them.
ThreadSources look_around(std::optional<int> flag);

/// Processors granted by the control groups (Linux, version 1 or 2) that `membership`, a file in the format of
/// /proc/self/cgroup, names below `mount` (/sys/fs/cgroup): the least over a group and those above it. Nothing when no
/// limit is set or the files cannot be read. Formats: cgroups(7), and the kernel's admin-guide/cgroup-v2.rst, cpu.max.
std::optional<double> cgroup_quota(const std::filesystem::path& membership, const std::filesystem::path& mount);

}  // namespace trammel::search
