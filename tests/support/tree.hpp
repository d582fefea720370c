// Where the tree is that is being tested.
#pragma once

#include <string>

namespace trammel::test {

/// The path of a file of the tree, given as "configs/trail-150.yaml".
std::string in_tree(const std::string& path);

}  // namespace trammel::test
