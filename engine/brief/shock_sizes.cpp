#include "brief/shock_sizes.hpp"

namespace trammel::brief {
namespace {

constexpr ShockSize metric[] = {{190, 40}, {190, 42.5}, {190, 45}, {210, 50}, {210, 52.5}, {210, 55}, {230, 57.5},
                                {230, 60}, {230, 62.5}, {230, 65}, {250, 70}, {250, 72.5}, {250, 75}};
constexpr ShockSize trunnion[] = {{165, 40}, {165, 42.5}, {165, 45}, {185, 50}, {185, 52.5}, {185, 55}, {205, 57.5},
                                  {205, 60}, {205, 62.5}, {205, 65}, {225, 70}, {225, 72.5}, {225, 75}};

}  // namespace

std::vector<ShockSize> shock_sizes(std::string_view word) {
  std::vector<ShockSize> sizes;
  if (word != "trunnion") sizes.insert(sizes.end(), std::begin(metric), std::end(metric));
  if (word != "metric") sizes.insert(sizes.end(), std::begin(trunnion), std::end(trunnion));
  return sizes;
}

}  // namespace trammel::brief
