#include "objectives/comparison.hpp"

#include <algorithm>

#include "math/dual.hpp"

namespace trammel::objectives {
namespace {

/// Cases of one target that may be compared: alike but for what is compared.
struct Group {
  int other = -1;  ///< the size where settings are compared, and the other way round
  std::vector<std::size_t> cases;
};

class Finder {
 public:
  Finder(const bike::Layout& layout, const Target& target, std::size_t number)
      : layout_(layout), target_(target), between_(*target.between), number_(number), all_(bike::cases_of(layout)) {}

  void find(std::vector<Comparison>& out) const {
    std::vector<Comparison> own;
    for (const Group& group : groups())
      if (group.cases.size() > 1) own.push_back(comparison(group));
    for (Comparison& one : own) {
      one.of = own.size();
      out.push_back(std::move(one));
    }
  }

 private:
  bool settings() const { return between_.of == Between::Of::settings; }
  int compared(const bike::Case& c) const { return settings() ? c.setting : c.size; }
  int other(const bike::Case& c) const { return settings() ? c.size : c.setting; }
  const std::string& name_of(const bike::Case& c) const {
    const auto at = static_cast<std::size_t>(compared(c));
    return settings() ? layout_.settings[at].name : layout_.sizes[at].name;
  }

  std::vector<Group> groups() const {
    std::vector<Group> out;
    for (std::size_t k = 0; k < all_.size(); ++k) {
      const bike::Case& c = all_[k];
      if (!bike::holds_in(layout_, c, target_.in)) continue;
      if (!between_.first.empty() && name_of(c) != between_.first && name_of(c) != between_.second) continue;
      auto found = std::find_if(out.begin(), out.end(), [&](const Group& g) { return g.other == other(c); });
      if (found == out.end()) found = out.insert(found, {other(c), {}});
      found->cases.push_back(k);
    }
    return out;
  }

  Comparison comparison(const Group& group) const {
    Comparison one{number_, group.cases, !between_.first.empty(), "", 1};
    if (one.named && name_of(all_[one.cases.front()]) == between_.first) std::swap(one.cases[0], one.cases[1]);
    one.name = one.named ? between_.second + " − " + between_.first : settings() ? "all settings" : "all sizes";
    if (group.other >= 0) {
      const auto at = static_cast<std::size_t>(group.other);
      one.name += ", " + (settings() ? layout_.sizes[at].name : layout_.settings[at].name);
    }
    return one;
  }

  const bike::Layout& layout_;
  const Target& target_;
  const Between& between_;
  std::size_t number_;
  std::vector<bike::Case> all_;
};

}  // namespace

std::vector<Comparison> comparisons_of(const bike::Layout& layout, const std::vector<Target>& targets) {
  std::vector<Comparison> out;
  for (std::size_t t = 0; t < targets.size(); ++t)
    if (targets[t].between) Finder(layout, targets[t], t).find(out);
  return out;
}

Target watched(const Target& target) {
  Target out = target;
  out.must = false;
  out.wish = {Wish::Kind::floor, -1e300, -1e300, {}};
  return out;
}

Difference difference(const Comparison& comparison, std::span<const double> values) {
  if (comparison.named) return {values[0] - values[1], 0, 1};
  const auto [least, most] = std::minmax_element(values.begin(), values.end());
  return {*most - *least, static_cast<std::size_t>(most - values.begin()),
          static_cast<std::size_t>(least - values.begin())};
}

DifferenceShare share_of(const Target& target, const Comparison& comparison, double value, const Emphasis& emphasis) {
  using Slope = math::Dual<2>;  // the second partial is not used
  const Slope share = share_of(target, allowed_at(target, 0.0), Slope::variable(value, 0), comparison.of, emphasis);
  return {share.v, share.d[0]};
}

}  // namespace trammel::objectives
