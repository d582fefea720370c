#include "search/threads.hpp"

#include <sched.h>

#include <algorithm>
#include <charconv>
#include <cstdlib>
#include <fstream>
#include <stdexcept>
#include <thread>

namespace trammel::search {
namespace {

constexpr int most_threads = 4096;

ThreadChoice choice(int count, const std::string& source) {
  return {count, std::to_string(count) + (count == 1 ? " thread" : " threads") + ", from " + source};
}

int checked(const std::string& text, const std::string& source) {
  int count = 0;
  const char* end = text.data() + text.size();
  const auto [stopped, error] = std::from_chars(text.data(), end, count);
  if (error != std::errc{} || stopped != end || count < 1 || count > most_threads) {
    throw std::invalid_argument(source + " is '" + text + "', but must be a whole number from 1 to " +
                                std::to_string(most_threads));
  }
  return count;
}

std::optional<std::string> variable(const char* name) {
  const char* text = std::getenv(name);
  if (!text || !*text) return {};
  return text;
}

// "max 100000" or "150000 100000" (version 2); quota and period in two files (version 1), where −1 means no limit.
std::optional<double> quota_of(const std::filesystem::path& group) {
  double quota = 0.0;
  double period = 0.0;
  std::ifstream v2(group / "cpu.max");
  std::ifstream v1_quota(group / "cpu.cfs_quota_us");
  std::ifstream v1_period(group / "cpu.cfs_period_us");
  const bool read = (v2 >> quota >> period) || (v1_quota >> quota && v1_period >> period);
  if (!read || quota <= 0.0 || period <= 0.0) return {};
  return quota / period;
}

std::optional<double> least(std::optional<double> a, std::optional<double> b) {
  if (a && b) return std::min(*a, *b);
  return a ? a : b;
}

// A limit binds all groups below it.
std::optional<double> quota_up_from(const std::filesystem::path& mount, std::filesystem::path group) {
  std::optional<double> quota = quota_of(mount);
  for (; !group.empty(); group = group.parent_path()) quota = least(quota, quota_of(mount / group));
  return quota;
}

}  // namespace

ThreadChoice choose_threads(const ThreadSources& sources) {
  if (sources.flag) return choice(checked(std::to_string(*sources.flag), "--threads"), "--threads");
  if (sources.environment) return choice(checked(*sources.environment, "TRAMMEL_THREADS"), "TRAMMEL_THREADS");
  if (sources.scheduler) return choice(checked(*sources.scheduler, "SLURM_CPUS_PER_TASK"), "SLURM_CPUS_PER_TASK");
  const int affinity = std::clamp(sources.affinity, 1, most_threads);
  if (sources.quota && *sources.quota < affinity) {
    return choice(std::max(1, static_cast<int>(*sources.quota)), "the control group's processor quota");
  }
  return choice(affinity, "the processors this process may use");
}

ThreadSources look_around(std::optional<int> flag) {
  ThreadSources sources;
  sources.flag = flag;
  sources.environment = variable("TRAMMEL_THREADS");
  sources.scheduler = variable("SLURM_CPUS_PER_TASK");
  sources.quota = cgroup_quota("/proc/self/cgroup", "/sys/fs/cgroup");
  cpu_set_t allowed;
  sources.affinity = sched_getaffinity(0, sizeof allowed, &allowed) == 0
                         ? CPU_COUNT(&allowed)
                         : static_cast<int>(std::thread::hardware_concurrency());  // more processors than the set holds
  return sources;
}

std::optional<double> cgroup_quota(const std::filesystem::path& membership, const std::filesystem::path& mount) {
  std::optional<double> quota;
  std::ifstream file(membership);
  for (std::string line; std::getline(file, line);) {  // "hierarchy:controllers:/path"
    const std::size_t first = line.find(':');
    const std::size_t second = line.find(':', first == std::string::npos ? first : first + 1);
    if (second == std::string::npos) continue;
    const std::string controllers = line.substr(first + 1, second - first - 1);
    const std::filesystem::path group = std::filesystem::path(line.substr(second + 1)).relative_path();
    if (controllers.empty()) {
      quota = least(quota, quota_up_from(mount, group));
    } else if (("," + controllers + ",").find(",cpu,") != std::string::npos) {
      quota = least(quota, least(quota_up_from(mount / "cpu", group), quota_up_from(mount / controllers, group)));
    }
  }
  return quota;
}

}  // namespace trammel::search
