#include "brief/brief.hpp"

namespace trammel::brief {

std::vector<int> Vary::needs() const {
  if (const auto* mirrored = std::get_if<Mirrored>(&place)) {
    std::vector<int> out{mirrored->of, mirrored->about};
    if (mirrored->through >= 0) out.push_back(mirrored->through);
    return out;
  }
  if (const auto* body = std::get_if<OnBody>(&place)) return {body->a, body->b};
  if (const auto* cartesian = std::get_if<Cartesian>(&place))
    return cartesian->from < 0 ? std::vector<int>{} : std::vector<int>{cartesian->from};
  const auto& polar = std::get<Polar>(place);
  std::vector<int> out{polar.from};
  if (polar.as_long_as) out.insert(out.end(), {polar.as_long_as->first, polar.as_long_as->second});
  return out;
}

}  // namespace trammel::brief
