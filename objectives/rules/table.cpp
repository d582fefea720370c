#include "objectives/rules/table.hpp"

namespace trammel::objectives {

std::span<const RuleFunctions, rule_count> rule_table() {
  static constexpr auto table = []<std::size_t... i>(std::index_sequence<i...>) {
    const auto functions = []<class Rule>() {
      return RuleFunctions{&Rule::record, Rule::watches, Rule::judge, Rule::demands,
                           Rule::drop,    Rule::draw_in, Rule::prove};
    };
    return std::array<RuleFunctions, rule_count>{functions.template operator()<std::tuple_element_t<i, Rules>>()...};
  }
  (std::make_index_sequence<rule_count>{});
  return table;
}

}  // namespace trammel::objectives
