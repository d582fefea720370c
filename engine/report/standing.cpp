#include "report/standing.hpp"

#include "report/account.hpp"
#include "report/beside.hpp"
#include "report/pages.hpp"
#include "report/parts.hpp"
#include "report/trade_offs.hpp"

namespace trammel::report {

namespace {

std::string of(std::size_t at, std::size_t all) {
  return std::to_string(at + 1) + " of " + std::to_string(all);
}

/// The shortlist but for one, and the references.
void add_others(const search::StudyReport& study, const search::Sheet* but, Standing& out) {
  for (const search::Sheet& other : study.shortlist)
    if (&other != but)
      out.others.emplace_back("rank " + std::to_string(other.rank) + ", layout " + other.id,
                              out.up + "/layouts/" + folder_of(other) + "/" + beside_file);
  for (std::size_t i = 0; i < study.references.layouts.size(); ++i)
    out.others.emplace_back("reference " + study.references.layouts[i].name, out.up + "/" + reference_beside_file(i));
}

}  // namespace

Standing shortlisted(const search::StudyReport& study, std::size_t at) {
  const search::Sheet& sheet = study.shortlist[at];
  Standing out{.title = "Layout " + sheet.id,
               .place = std::to_string(sheet.rank) + " of " + std::to_string(study.shortlist.size()),
               .lead = account_sentence(sheet, study.brief.targets),
               .up = "../.."};
  const auto neighbour = [&](std::size_t i, const char* words) {
    const search::Sheet& other = study.shortlist[i];
    out.neighbours.emplace_back("../" + folder_of(other), words + std::to_string(other.rank));
  };
  if (at > 0) neighbour(at - 1, "← Rank ");
  if (at + 1 < study.shortlist.size()) neighbour(at + 1, "→ Rank ");
  add_others(study, &sheet, out);
  return out;
}

Standing on_front(const search::StudyReport& study, std::size_t front, std::size_t point) {
  const search::TradeOffSheet& sheet = study.trade_offs[front];
  Standing out{.title = "Trade-off " + std::to_string(front + 1) + ", point " + std::to_string(point + 1),
               .counted = "Point",
               .place = of(point, sheet.points.size()),
               .lead = "On the front of " + trade_off_name(study, sheet) +
                       ": it cannot be bettered in one without giving way in another.",
               .up = "../../.."};
  if (point > 0)
    out.neighbours.emplace_back("../" + trade_off_point_folder(point - 1), "← Point " + std::to_string(point));
  if (point + 1 < sheet.points.size())
    out.neighbours.emplace_back("../" + trade_off_point_folder(point + 1), "→ Point " + std::to_string(point + 2));
  for (std::size_t i = 0; i < sheet.points.size(); ++i)
    if (i != point)
      out.others.emplace_back("point " + std::to_string(i + 1), "../" + trade_off_point_folder(i) + "/" + beside_file);
  add_others(study, nullptr, out);
  return out;
}

Html navigation(const Standing& standing) {
  Html out = link_to(standing.up + "/index.html", "All layouts");
  for (const auto& [folder, words] : standing.neighbours) out += link_to(folder + "/index.html", words);
  return element("nav", out);
}

}  // namespace trammel::report
