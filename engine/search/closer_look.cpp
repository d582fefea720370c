#include "search/closer_look.hpp"

#include <algorithm>
#include <limits>

#include "brief/read.hpp"
#include "search/make_sheet.hpp"
#include "search/score.hpp"
#include "search/unit.hpp"

namespace trammel::search {
namespace {

/// Work units of each search, for every discrete choice.
constexpr int units_per_choice = 3;
/// So many times as many where a brief is to be met and that was not enough.
constexpr int times_thorough = 8;
/// Units at once; those behind the first that finds something are left out, so that what is found does not depend on
/// the number of threads.
constexpr int batch = 4;

/// What a layout misses of some demands, as a sum of squares of steps.
double cost(const Known& known, const std::vector<Demand>& wished) {
  double sum = 0.0;
  for (const Miss& miss : known.misses)
    if (names(wished, miss.demand)) sum += (miss.by / miss.demand.step) * (miss.by / miss.demand.step);
  return sum;
}

}  // namespace

bool meets(const Known& known, const std::vector<Demand>& demands) {
  return std::none_of(known.misses.begin(), known.misses.end(),
                      [&](const Miss& miss) { return !miss.can_give || names(demands, miss.demand); });
}

CloserLook::CloserLook(const Setup& setup, std::int64_t linkage, const std::vector<store::LayoutRow>& near,
                       const Effort& effort)
    : setup_(setup), linkage_(linkage), own_(setup.of(linkage)), effort_(effort), demands_(demands_of(own_.brief)) {
  units_ = units_per_choice * own_.design.choices();
  remember(near);
}

void CloserLook::remember(std::vector<store::LayoutRow> rows) {
  std::vector<Known> fresh(rows.size());
  const Effort quiet{effort_.threads, effort_.stop};
  quiet.each("", rows.size(), [&](std::size_t i) {
    Known& known = fresh[i];
    known.row = std::move(rows[i]);
    known.assessment = Scorer(own_, static_cast<int>(known.row.choice)).assessment(known.row.design);
    known.misses = misses(own_.brief, demands_, known.assessment);
    known.row.musts = known.assessment.musts;
    known.row.musts_met = known.assessment.musts_met;
    known.row.score = known.assessment.score;
    known.row.margin = known.assessment.margin;
    known.row.must_margin = known.assessment.must_margin;
    known.row.wish_margin = known.assessment.wish_margin;
    known.row.achieved.clear();
    for (const objectives::Verdict& v : known.assessment.targets) known.row.achieved.push_back(v.achieved);
    known.row.linkage = linkage_;
  });
  known_.insert(known_.end(), std::make_move_iterator(fresh.begin()), std::make_move_iterator(fresh.end()));
}

const Known* CloserLook::among_known(const std::vector<Demand>& demands) const {
  const auto found =
      std::find_if(known_.begin(), known_.end(), [&](const Known& known) { return search::meets(known, demands); });
  return found == known_.end() ? nullptr : &*found;
}

void CloserLook::search(const brief::Brief& brief, const std::vector<Demand>* until) {
  const Setup setup(brief);
  const Effort quiet{effort_.threads, effort_.stop};
  for (int first = 0; first < units_; first += batch) {
    const auto count = static_cast<std::size_t>(std::min(batch, units_ - first));
    std::vector<std::vector<store::LayoutRow>> rows(count);
    quiet.each("", count, [&](std::size_t i) {
      std::optional<store::UnitRow> unit = run_unit(setup, first + static_cast<std::int64_t>(i), effort_.stop);
      if (!unit) throw Stopped();
      rows[i] = std::move(unit->layouts);
    });
    for (std::vector<store::LayoutRow>& one : rows) remember(std::move(one));
    if (until != nullptr && among_known(*until) != nullptr) return;
  }
}

const Known* CloserLook::meets(const std::vector<Demand>& demands) {
  if (const Known* known = among_known(demands)) return known;
  search(reduced(own_.brief, demands), &demands);
  return among_known(demands);
}

const Known* CloserLook::nearest(const std::vector<Demand>& kept, const std::vector<Demand>& wished) {
  std::vector<Demand> both = kept;
  for (const Demand& demand : wished)
    if (!demand.rule) both.push_back(demand);
  brief::Brief brief = reduced(own_.brief, both);
  std::size_t at = 0;
  for (std::size_t i = 0; i < own_.brief.targets.size(); ++i) {
    if (!names(both, {{}, i})) continue;
    objectives::Target& target = brief.targets[at++];
    if (!names(wished, {{}, i})) continue;
    target.must = false;
    target.weight = 1.0;
  }
  search(brief, nullptr);
  const Known* best = nullptr;
  for (const Known& known : known_)
    if (search::meets(known, kept) && (best == nullptr || cost(known, wished) < cost(*best, wished))) best = &known;
  return best;
}

std::optional<Tried> CloserLook::tried(const std::string& text, bool thorough) const {
  brief::Reading reading = brief::read_text(text, setup_.brief.file, setup_.brief.kept);
  if (!reading.ok()) return std::nullopt;
  const brief::Brief& changed = reading.brief;
  const Setup setup(changed);
  const Effort quiet{effort_.threads, effort_.stop};
  const int planned = std::min(units_ * (thorough ? times_thorough : 1), changed.search.units);
  for (int first = 0; first < planned; first += batch) {
    const auto count = static_cast<std::size_t>(std::min(batch, planned - first));
    std::vector<std::optional<Tried>> found(count);
    quiet.each("", count, [&](std::size_t i) {
      const std::int64_t unit = (first + static_cast<std::int64_t>(i)) * setup.linkage_count() + linkage_;
      const std::optional<store::UnitRow> row = run_unit(setup, unit, effort_.stop);
      if (!row) throw Stopped();
      for (const store::LayoutRow& layout : row->layouts) {
        if (layout.musts_met != layout.musts) break;  // the best come first
        const Setup& own = setup.of(linkage_);
        const bike::Layout drawn = own.design.layout(layout.design, static_cast<int>(layout.choice));
        try {
          // As the report of such a study will judge it.
          if (!make_sheet(drawn, own.brief.targets, own.brief.packaging).assessment.feasible()) continue;
        } catch (const bike::MotionFailure&) {
          continue;
        }
        found[i] = Tried{layout, Scorer(own_, static_cast<int>(layout.choice)).assessment(layout.design)};
        break;
      }
    });
    for (std::optional<Tried>& one : found)
      if (one) return std::move(one);
  }
  return std::nullopt;
}

}  // namespace trammel::search
