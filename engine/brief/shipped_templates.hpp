// The linkage templates of configs/linkages, which the program carries inside itself.
#pragma once

#include <string>
#include <string_view>
#include <vector>

namespace trammel::brief {

struct ShippedTemplate {
  std::string name;  ///< the file's name without .yaml
  std::string_view text;
};

/// In the order in which `linkages: all` searches them.
const std::vector<ShippedTemplate>& shipped_templates();

}  // namespace trammel::brief
