// Writes a small sound study for the fuzzer of study files to begin from. Usage: fuzz_study_seed FILE
#include <filesystem>

#include "tests/store/study_samples.hpp"

int main(int argc, char** argv) {
  using namespace trammel;
  if (argc != 2) return 2;
  std::filesystem::remove(argv[1]);
  store::StudyFile file = store::StudyFile::create(argv[1], test::sample_head());
  file.commit({test::sample_unit(2, 3), test::sample_unit(18, 2)});
  return 0;
}
