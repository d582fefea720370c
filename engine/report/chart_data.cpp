#include "report/chart_data.hpp"

#include <span>

#include "report/json.hpp"
#include "report/wording.hpp"

namespace trammel::report {

namespace {

Json axis_of(const objectives::Target& target) {
  using Kind = objectives::Wish::Kind;
  Json axis{{"label", with_unit(target.name, unit_of(target))}, {"kind", "target"}};
  const auto& w = target.wish;
  if (w.kind == Kind::value) {
    axis["lo"] = json_number(w.lo - target.tolerance);
    axis["hi"] = json_number(w.lo + target.tolerance);
  }
  if (w.kind == Kind::band || w.kind == Kind::floor) axis["lo"] = json_number(w.lo);
  if (w.kind == Kind::band || w.kind == Kind::ceiling) axis["hi"] = json_number(w.hi);
  return axis;
}

}  // namespace

Html chart_data(const search::StudyReport& study) {
  const auto& asked = study.brief.targets;
  // Demands that hold by default would only crowd the axes.
  const std::span targets(asked.data(), objectives::own_targets(asked));
  Json axes = Json::array({{{"label", "score"}, {"kind", "result"}}, {{"label", "margin"}, {"kind", "result"}}});
  for (const auto& target : targets) axes.push_back(axis_of(target));
  std::size_t varied_count = 0;
  // Those of one linkage mean nothing for another.
  if (!study.shortlist.empty() && study.linkages.empty()) {
    varied_count = study.shortlist.front().varied.size();
    for (const auto& varied : study.shortlist.front().varied) {
      axes.push_back({{"label", with_unit(varied.name, varied.unit)},
                      {"kind", "varied"},
                      {"lo", json_number(varied.lo)},
                      {"hi", json_number(varied.hi)}});
    }
  }
  Json rows = Json::array();
  for (const auto& mark : study.marks) {
    Json values = Json::array({json_number(mark.score), json_number(mark.margin)});
    const auto add = [&](const std::vector<double>& from, std::size_t count) {
      for (std::size_t i = 0; i < count; ++i) values.push_back(i < from.size() ? json_number(from[i]) : Json(nullptr));
    };
    add(mark.achieved, targets.size());
    add(mark.varied, varied_count);
    rows.push_back({{"id", mark.id},
                    {"feasible", mark.feasible},
                    {"rank", mark.rank_in_shortlist},
                    {"values", std::move(values)}});
    if (!mark.linkage.empty()) rows.back()["linkage"] = mark.linkage;
  }
  const Json all{{"total", study.summary.kept}, {"axes", std::move(axes)}, {"rows", std::move(rows)}};
  return script_json(all);
}

}  // namespace trammel::report
