#include "app/watch.hpp"

#include <fmt/core.h>

#include <algorithm>
#include <cmath>

#include "bike/table.hpp"
#include "report/room_words.hpp"
#include "search/make_sheet.hpp"
#include "search/picker.hpp"

namespace trammel::app {
namespace {

/// Time left, by the clock or by the pace of this run; empty when neither tells.
std::string time_left(const search::Progress& p, const search::Budget& budget) {
  std::optional<double> left;
  const auto screened = static_cast<double>(p.screened - p.screened_before);
  if (p.units_due && screened > 0) {
    const auto done_units = screened * static_cast<double>(p.units_done) / static_cast<double>(p.screened);
    left = static_cast<double>(*p.units_due - p.units_done) * p.seconds / done_units;
  }
  if (budget.time) left = std::min(left.value_or(1e12), budget.time->count() - p.seconds);
  if (!left) return "";
  return " · about " + clock_text(std::max(0.0, *left)) + " left";
}

}  // namespace

std::string clock_text(double seconds) {
  const long s = std::lround(seconds);
  if (s < 60) return fmt::format("{} s", s);
  if (s < 3600) return fmt::format("{} min {:02} s", s / 60, s % 60);
  return fmt::format("{} h {:02} min", s / 3600, s / 60 % 60);
}

std::string losses(const search::Progress& p) {
  constexpr std::size_t named = 3;
  std::vector<std::pair<std::string, std::int64_t>> causes(p.failures.begin(), p.failures.end());
  std::stable_sort(causes.begin(), causes.end(), [](const auto& a, const auto& b) { return a.second > b.second; });
  std::string text;
  for (std::size_t i = 0; i < std::min(named, causes.size()); ++i)
    text +=
        fmt::format("{}{:.0f} % {}", i == 0 ? " · lost: " : ", ",
                    100.0 * static_cast<double>(causes[i].second) / static_cast<double>(p.screened), causes[i].first);
  if (causes.size() > named) text += fmt::format(" and {} more", causes.size() - named);
  return text;
}

std::string weakest_requirement(const search::Setup& setup, const store::LayoutRow& row) {
  const search::Setup& own = setup.of(row.linkage);
  try {
    const search::Sheet sheet = search::make_sheet(own.design.layout(row.design, static_cast<int>(row.choice)),
                                                   own.brief.targets, own.brief.packaging);
    return report::narrowest(own.brief.targets, sheet.assessment);
  } catch (const bike::MotionFailure&) {
    return "";
  }
}

std::string Watch::status(const search::Progress& p) {
  std::string text = fmt::format("unit {}", p.units_done);
  if (p.units_due) text += fmt::format(" of {}", *p.units_due);
  const auto screened = static_cast<double>(p.screened - p.screened_before);
  text += fmt::format(" · {:.0f} layouts/s · {} meet every requirement", p.seconds > 0 ? screened / p.seconds : 0.0,
                      p.feasible);
  if (p.best) {
    const std::string id = search::layout_id(*p.best);
    if (id != best_) weakest_ = weakest_requirement(setup_, *p.best);
    best_ = id;
    text += fmt::format(" · best {} (score {:.3g}, required margin {:.2f}{})", id, p.best->score, p.best->must_margin,
                        weakest_.empty() ? "" : " in " + weakest_);
  }
  return text + time_left(p, budget_) + losses(p);
}

void Every::at(double seconds, const std::function<void()>& what) {
  if (!seconds_ || seconds - last_ < *seconds_) return;
  what();
  last_ = seconds;
}

}  // namespace trammel::app
