#include "brief/shipped_templates.hpp"

#include "brief/embed.hpp"

namespace trammel::brief {
namespace {

TRAMMEL_EMBED(single_pivot, "configs/linkages/single_pivot.yaml")
TRAMMEL_EMBED(linkage_driven_single_pivot, "configs/linkages/linkage_driven_single_pivot.yaml")
TRAMMEL_EMBED(four_bar_axle_on_coupler, "configs/linkages/four_bar_axle_on_coupler.yaml")
TRAMMEL_EMBED(axle_concentric_pivot, "configs/linkages/axle_concentric_pivot.yaml")
TRAMMEL_EMBED(two_links_same_way, "configs/linkages/two_links_same_way.yaml")
TRAMMEL_EMBED(two_links_opposite_ways, "configs/linkages/two_links_opposite_ways.yaml")
TRAMMEL_EMBED(high_pivot_idler, "configs/linkages/high_pivot_idler.yaml")
TRAMMEL_EMBED(six_bar, "configs/linkages/six_bar.yaml")
TRAMMEL_EMBED(rail_slider, "configs/linkages/rail_slider.yaml")

}  // namespace

const std::vector<ShippedTemplate>& shipped_templates() {
  static const std::vector<ShippedTemplate> all{{"single_pivot", single_pivot()},
                                                {"linkage_driven_single_pivot", linkage_driven_single_pivot()},
                                                {"four_bar_axle_on_coupler", four_bar_axle_on_coupler()},
                                                {"axle_concentric_pivot", axle_concentric_pivot()},
                                                {"two_links_same_way", two_links_same_way()},
                                                {"two_links_opposite_ways", two_links_opposite_ways()},
                                                {"high_pivot_idler", high_pivot_idler()},
                                                {"six_bar", six_bar()},
                                                {"rail_slider", rail_slider()}};
  return all;
}

}  // namespace trammel::brief
