#include "objectives/demands.hpp"

#include "objectives/rules/table.hpp"

namespace trammel::objectives {

Demands::Demands(const bike::Model& of, const std::vector<Target>& asked, const Packaging& around)
    : Demands(Bare{}, of, asked, around) {
  std::vector<bike::Separation> separations;
  for (const Watched& watched : apart) separations.push_back(watched.of);
  tapes = std::make_shared<const bike::MotionTapes>(model, places.curves, separations, room);
}

Demands::Demands(const Demands& like, const Packaging& around) : Demands(Bare{}, like.model, like.targets, around) {
  tapes = like.tapes;
}

Demands Demands::without_tapes(const bike::Model& of, const std::vector<Target>& asked, const Packaging& around) {
  return {Bare{}, of, asked, around};
}

Demands::Demands(Bare, const bike::Model& of, const std::vector<Target>& asked, const Packaging& around)
    : model(of),
      targets(asked),
      packaging(around),
      places(plan_places(asked, of.circles.size())),
      room(room_of(of, around)) {
  for (const RuleFunctions& rule : rule_table()) {
    apart_from.push_back(apart.size());
    for (Watched& watched : rule.watches(model, packaging)) apart.push_back(watched);
  }
  apart_from.push_back(apart.size());
  for (const Station& station : places.stations) loci.push_back(locus_of(station, model));
  for (std::size_t t = 0; t < targets.size(); ++t) {
    const Target& target = targets[t];
    const Gathering& gathering = places.gatherings[t];
    std::vector<Allowed> of_target;
    for (std::size_t i = 0; i < gathering.results(); ++i)
      of_target.push_back(allowed_at(target, target.over ? places.targets[t].fractions[i % gathering.places] : 0.0));
    allowed.push_back(std::move(of_target));
  }
}

}  // namespace trammel::objectives
