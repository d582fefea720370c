// Any bytes for a study file: it is opened and looked through, or refused with words.
#include <unistd.h>

#include <filesystem>
#include <fstream>

#include "store/study_file.hpp"
#include "tests/fuzz/bytes.hpp"

namespace {

/// A file of this process in memory, if the system has such a place.
std::filesystem::path own_file() {
  const std::filesystem::path memory = "/dev/shm";
  const auto folder = std::filesystem::is_directory(memory) ? memory : std::filesystem::temp_directory_path();
  return folder / ("trammel-fuzz-" + std::to_string(::getpid()) + ".study");
}

}  // namespace

extern "C" int LLVMFuzzerTestOneInput(const std::uint8_t* data, std::size_t size) {
  using namespace trammel;
  static const std::filesystem::path path = own_file();
  for (const char* beside : {"-wal", "-shm", "-journal"}) std::filesystem::remove(path.string() + beside);
  std::ofstream(path, std::ios::binary).write(reinterpret_cast<const char*>(data), static_cast<std::streamsize>(size));
  try {
    const store::StudyFile file = store::StudyFile::read(path);
    file.verify();
    std::int64_t units = 0;
    file.each_unit([&](store::UnitRow&&) { ++units; });
    test::demand(units == file.totals().units);
    test::demand(file.digest().size() == 64);
  } catch (const store::StoreError& error) {
    test::demand(*error.what() != '\0');
  }
  return 0;
}
