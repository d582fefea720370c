#include "tests/support/tree.hpp"

namespace trammel::test {

std::string in_tree(const std::string& path) {
  return std::string(TRAMMEL_SOURCE_DIR "/") + path;
}

}  // namespace trammel::test
