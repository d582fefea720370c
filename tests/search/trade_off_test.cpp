// Trade-offs of a brief: exact slopes, and fronts of layouts that hold up when judged on their own.
#include "search/trade_off.hpp"

#include <catch2/catch.hpp>
#include <random>

#include "search/score.hpp"
#include "search/shortlist.hpp"
#include "search/unit.hpp"
#include "tests/search/briefs.hpp"
#include "tests/support/tree.hpp"

using namespace trammel;
using search::TradeOffSheet;

namespace {

std::vector<std::vector<store::LayoutRow>> starts_of(const search::Setup& setup,
                                                     const std::vector<store::LayoutRow>& ranked) {
  search::TradeOffStarts starts(setup);
  for (const store::LayoutRow& row : ranked)
    if (!starts.offer(row)) break;
  return starts.found();
}

std::vector<TradeOffSheet> fronts_of(const search::Setup& setup, const std::vector<store::LayoutRow>& ranked,
                                     int threads = 1) {
  return search::find_trade_offs({{&setup, starts_of(setup, ranked)}}, {.threads = threads}).front();
}

int target_named(const brief::Brief& brief, const std::string& name) {
  for (std::size_t t = 0; t < brief.targets.size(); ++t)
    if (brief.targets[t].name == name) return static_cast<int>(t);
  throw std::runtime_error(name);
}

brief::Brief trading_brief() {
  brief::Brief brief = test::quick_brief();
  brief.search.trade_offs.push_back(
      {{{target_named(brief, "climbing")}, {target_named(brief, "feet"), target_named(brief, "chain")}}, false, 0.2});
  return brief;
}

/// The trail bike with a chip and three sizes that ships, which musts hold to what the chip does.
brief::Brief chip_brief() {
  std::string text = test::brief_of(brief::read_file(test::in_tree("configs/flip-chip-140.yaml"))).text;
  const auto from = text.find("targets:\n"), to = text.find("packaging:");
  text.replace(from, to - from,
               "targets:\n  - { curve: leverage, at: sag, floor: 2.4 }\n"
               "  - { curve: anti_rise, at: sag, ceiling: 60 }\n"
               "  - { curve: bb_height, at: sag, between: [low, high], value: 6, tolerance: 2, must: true }\n"
               "  - { curve: leverage, at: bottomed, between: [low, high], band: [-0.1, 0.1], must: true }\n");
  return test::brief_of(brief::read_text(text, "chip.yaml"));
}

std::vector<store::LayoutRow> some_layouts(const search::Setup& setup) {
  std::vector<store::UnitRow> units;
  for (std::int64_t unit = 0; unit < 4; ++unit) units.push_back(*search::run_unit(setup, unit, nullptr));
  return search::ranked(units);
}

/// Of the demands that hold by default: all are constraints, or none.
std::vector<bool> all_held(const brief::Brief& brief, bool held) {
  return std::vector<bool>(brief.targets.size(), held);
}

}  // namespace

TEST_CASE("slopes of a trade-off's parts and constraints are those of their values", "[trade_off]") {
  brief::Brief among_bodies = test::brief_of(brief::read_file(test::in_tree("configs/e-bike-140.yaml")));
  among_bodies.search.trade_offs = {{{{1}, {2}}, false, 0.2}};
  brief::Brief between_settings = chip_brief();
  between_settings.search.trade_offs = {{{{0}, {1}}, false, 0.2}};
  for (const brief::Brief& base : {trading_brief(), test::wide_brief(), among_bodies, between_settings}) {
    brief::Brief brief = base;
    if (brief.search.trade_offs.empty()) brief.search.trade_offs.push_back({{{1}, {4}, {5, 6}}, true, 0.2});
    const search::Setup setup(brief);
    search::TradeOffModel model(setup, 0, brief.search.trade_offs.front(), all_held(brief, true));
    const search::FrontProblem problem = model.problem();
    const auto n = static_cast<std::size_t>(problem.n), parts = problem.figure_of.size(),
               constraints = static_cast<std::size_t>(problem.constraints);
    REQUIRE(problem.figures() == static_cast<int>(brief.search.trade_offs.front().between.size()));
    const auto at = [&](const std::vector<double>& x) {
      std::vector<double> values(parts + constraints);
      search::FrontEvaluation out{std::span(values).first(parts), {}, std::span(values).subspan(parts), {}};
      REQUIRE(problem.evaluate(x, out));
      return values;
    };
    // Where everything assembles: a layout that the search likes, and the wide brief's drawn one.
    const std::vector<double> x = base.search.trade_offs.empty()
                                      ? std::vector<double>(n, 0.5)
                                      : search::run_unit(setup, 0, nullptr)->layouts.front().design;
    std::vector<double> values(parts), slopes(parts * n), demands(constraints), jacobian(constraints * n);
    search::FrontEvaluation out{values, slopes, demands, jacobian};
    REQUIRE(problem.evaluate(x, out));
    const double h = 1e-5;
    int checked = 0, kinks = 0;
    for (std::size_t i = 0; i < n; ++i) {
      if (x[i] < 2 * h || x[i] > 1 - 2 * h) continue;
      std::vector<double> more = x, less = x;
      more[i] += h;
      less[i] -= h;
      const auto up = at(more), down = at(less), here = at(x);
      for (std::size_t r = 0; r < parts + constraints; ++r) {
        const double forward = (up[r] - here[r]) / h, backward = (here[r] - down[r]) / h;
        const double slope = r < parts ? slopes[r * n + i] : jacobian[(r - parts) * n + i];
        const double size = std::max({1.0, std::abs(forward), std::abs(backward)});
        // Where the least over the stroke changes place, or a band its nearer side, the two one-sided slopes differ.
        if (std::abs(forward - backward) > 1e-2 * size) {
          ++kinks;
          continue;
        }
        ++checked;
        INFO("variable " << i << ", row " << r << " of " << parts << " parts and " << constraints << " constraints");
        CHECK(slope == Approx(0.5 * (forward + backward)).margin(2e-4 * size));
      }
    }
    CHECK(checked > 20 * kinks);
    CHECK(checked > 200);
  }
}

TEST_CASE("every clearance is a constraint on a front", "[trade_off]") {
  brief::Brief brief = test::brief_of(brief::read_file(test::in_tree("configs/e-bike-140.yaml")));
  brief.search.trade_offs = {{{{1}, {2}}, false, 0.2}};
  const auto constraints_of = [](const brief::Brief& of) {
    const search::Setup setup(of);
    return search::TradeOffModel(setup, 0, of.search.trade_offs.front(), all_held(of, true)).problem().constraints;
  };
  const search::Setup setup(brief);
  const auto measures = static_cast<int>(setup.demands.front().room.measures());
  REQUIRE(measures > 0);
  brief::Brief free = brief;
  free.packaging.clearances.clear();
  free.packaging.keep_in.clear();
  CHECK(constraints_of(brief) == constraints_of(free) + measures);
}

TEST_CASE("a front's layouts meet every requirement and none outdoes another", "[trade_off]") {
  const brief::Brief brief = trading_brief();
  const search::Setup setup(brief);
  const auto rows = some_layouts(setup);
  const std::vector<TradeOffSheet> sheets = fronts_of(setup, rows);
  REQUIRE(sheets.size() == 1);
  const TradeOffSheet& sheet = sheets.front();
  REQUIRE(sheet.points.size() >= 4);
  CHECK(sheet.evaluations >= static_cast<std::int64_t>(sheet.points.size()));
  const int climbing = target_named(brief, "climbing"), feet = target_named(brief, "feet"),
            chain = target_named(brief, "chain");
  const auto beyond = [&](const objectives::Assessment& a, int t) {
    const objectives::Target& target = brief.targets[static_cast<std::size_t>(t)];
    const objectives::Allowed allowed = objectives::allowed_at(target, 0.0);
    const double y = a.targets[static_cast<std::size_t>(t)].achieved;
    return std::max(allowed.lo - y, y - allowed.hi) / target.tolerance;
  };
  for (std::size_t i = 0; i < sheet.points.size(); ++i) {
    const auto& p = sheet.points[i];
    const objectives::Assessment judged = search::assess_layout(p.sheet.layout, brief.targets, brief.packaging);
    CHECK(judged.feasible());
    CHECK(judged.musts > 0);
    const linkage::Mechanism& m = p.sheet.layout.mechanism;
    for (const auto& varied : p.sheet.varied)
      for (std::size_t at = 0; at < m.points.size(); ++at) {
        if (varied.name == m.point_names[at] + ".x") CHECK(varied.value == Approx(m.points[at].x).margin(1e-3));
        if (varied.name == m.point_names[at] + ".y") CHECK(varied.value == Approx(m.points[at].y).margin(1e-3));
      }
    // On the grid of a thousandth of a millimetre: some thousandths of a tolerance.
    CHECK(p.figures[0] == Approx(beyond(judged, climbing)).margin(0.02));
    CHECK(p.figures[1] == Approx(std::max(beyond(judged, feet), beyond(judged, chain))).margin(0.02));
    if (i == 0) continue;
    CHECK(p.figures[0] > sheet.points[i - 1].figures[0]);
    CHECK(p.figures[1] < sheet.points[i - 1].figures[1]);
  }
  // No layout that the search itself found outdoes the front.
  for (const store::LayoutRow& row : rows) {
    if (row.musts_met != row.musts) continue;
    const objectives::Assessment a =
        search::assess_layout(setup.design.layout(row.design, 0), brief.targets, brief.packaging);
    const double first = beyond(a, climbing), second = std::max(beyond(a, feet), beyond(a, chain));
    for (const auto& p : sheet.points) CHECK_FALSE((first < p.figures[0] - 0.05 && second < p.figures[1] - 0.05));
  }
  // The same again, by more threads.
  const std::vector<TradeOffSheet> again = fronts_of(setup, rows, 3);
  REQUIRE(again.front().points.size() == sheet.points.size());
  for (std::size_t i = 0; i < sheet.points.size(); ++i) {
    CHECK(again.front().points[i].figures == sheet.points[i].figures);
    const auto &a = again.front().points[i].sheet.varied, &b = sheet.points[i].sheet.varied;
    CHECK(std::equal(a.begin(), a.end(), b.begin(), b.end(),
                     [](const auto& x, const auto& y) { return x.value == y.value; }));
  }
}

TEST_CASE("the ends of a front are those that other methods find", "[trade_off]") {
  // Each figure of one part alone, minimised straight by two methods that share nothing with the front's but the model.
  // On the brief's own demands: those that hold by default join a front only where it breaks them.
  const std::string text = test::brief_of(brief::read_file(test::in_tree("configs/enduro-170.yaml"))).text;
  const brief::Brief brief = test::brief_of(brief::read_text(text + "\nsound: any\n", "enduro.yaml"));
  const search::Setup setup(brief);
  const auto rows = some_layouts(setup);
  const TradeOffSheet sheet = fronts_of(setup, rows).front();
  REQUIRE(sheet.points.size() > 10);
  CHECK(sheet.spread.most < 1.5 * sheet.resolution);
  search::TradeOffModel model(setup, 0, brief.search.trade_offs.front(), all_held(brief, false));
  const search::FrontProblem front = model.problem();
  REQUIRE(front.figure_of.size() == 2);
  for (std::size_t k : {0, 1}) {
    const search::Problem problem{front.n, front.constraints, [&](std::span<const double> x, search::Evaluation& out) {
                                    std::vector<double> parts(2), slopes(out.gradient.empty() ? 0 : 2 * x.size());
                                    search::FrontEvaluation e{parts, slopes, out.constraints, out.jacobian};
                                    front.evaluate(x, e);
                                    out.value = parts[k];
                                    if (!slopes.empty())
                                      std::copy_n(&slopes[k * x.size()], x.size(), out.gradient.begin());
                                    return true;
                                  }};
    const double found = k == 0 ? sheet.points.front().figures[0] : sheet.points.back().figures[1];
    double best = 1e9;
    for (const char* method : {"LD_MMA", "LD_CCSAQ"}) {
      for (const auto& row : search::pick_distinct(rows, 2, 0.2)) {
        const auto end = search::optimise(problem, {.algorithm = method, .evaluations = 400, .start = row.design});
        if (end.best->feasible) best = std::min(best, end.best->value);
      }
    }
    INFO("figure " << k << ": " << found << " on the front, " << best << " by other methods");
    CHECK(found <= best + 1e-3 * (1.0 + std::abs(best)));
  }
}

TEST_CASE("nothing meets the requirements: no front", "[trade_off]") {
  const brief::Brief brief = trading_brief();
  const search::Setup setup(brief);
  auto rows = some_layouts(setup);
  for (auto& row : rows) row.musts_met = 0;
  const auto sheets = fronts_of(setup, rows);
  REQUIRE(sheets.size() == 1);
  CHECK(sheets.front().points.empty());
  const brief::Brief none = test::quick_brief();
  CHECK(fronts_of(search::Setup(none), rows).empty());
}
