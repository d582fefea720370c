// Work on several threads: that all of it is done, and how it ends when a part of it fails.
#include "search/effort.hpp"

#include <atomic>
#include <catch2/catch.hpp>
#include <chrono>
#include <stdexcept>
#include <thread>
#include <vector>

using namespace trammel;
using search::Effort;

TEST_CASE("every number is worked on once by any number of threads, and the status counts them") {
  for (const int threads : {1, 3}) {
    std::vector<std::string> said;
    const Effort effort{threads, nullptr, [&](const std::string& words) { said.push_back(words); }};
    std::vector<std::atomic<int>> times(100);
    effort.each("work", times.size(), [&](std::size_t i) { ++times[i]; });
    for (const auto& n : times) CHECK(n == 1);
    REQUIRE(said.size() == 101);
    CHECK(said.front() == "work, 0 of 100");
    CHECK(said.back() == "work, 100 of 100");
  }
}

TEST_CASE("once a part has failed no thread begins another, and its failure comes out") {
  using namespace std::chrono_literals;
  for (const int threads : {1, 2}) {
    const Effort effort{threads};
    std::atomic<bool> failed = false;
    std::atomic<int> begun = 0;
    const std::size_t all = 3000;
    const auto work = [&](std::size_t i) {
      ++begun;
      if (i == 0) {
        failed = true;
        throw std::runtime_error("the first");
      }
      while (!failed) std::this_thread::yield();
      std::this_thread::sleep_for(1ms);
    };
    CHECK_THROWS_WITH(effort.each("work", all, work), "the first");
    CHECK(begun < static_cast<int>(all) / 2);  // a few on other threads, until they hear of it
  }
}

TEST_CASE("work that is called off ends as stopped") {
  std::atomic<bool> stop = false;
  int begun = 0;
  const Effort effort{1, &stop};
  CHECK_THROWS_AS(effort.each("work", 10,
                              [&](std::size_t) {
                                ++begun;
                                stop = true;
                              }),
                  search::Stopped);
  CHECK(begun == 1);
}
