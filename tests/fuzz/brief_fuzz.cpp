// Any text for a brief: it is read, or refused with problems that all have a place and words.
#include "brief/read.hpp"
#include "tests/fuzz/bytes.hpp"

extern "C" int LLVMFuzzerTestOneInput(const std::uint8_t* data, std::size_t size) {
  using namespace trammel;
  const auto reading = brief::read_text(std::string(reinterpret_cast<const char*>(data), size), "x.yaml");
  test::demand(reading.ok() == reading.problems.empty());
  for (const brief::Problem& problem : reading.problems) {
    test::demand(problem.line >= 0 && problem.column >= 0);
    test::demand(!problem.what.empty());
  }
  return 0;
}
