// Prints the record of a layout as its page hands it to the kernel: record_main LAYOUT [NUMBER OF THE LINKAGE]
#include <cstdlib>
#include <iostream>

#include "brief/read.hpp"
#include "report/record.hpp"

int main(int argc, char** argv) {
  using namespace trammel;
  if (argc < 2) return 2;
  const brief::Reading reading = brief::read_file(argv[1]);
  if (!reading.ok()) return 2;
  const brief::Brief& brief =
      argc > 2 ? reading.brief.linkages.at(static_cast<std::size_t>(std::atoi(argv[2]))) : reading.brief;
  std::cout << report::record::written({brief.layout, {}, brief.packaging, {}, {}, {}});
}
