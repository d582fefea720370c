#include "report/csv.hpp"

#include <algorithm>
#include <cmath>
#include <string_view>
#include <tuple>

#include "brief/units.hpp"
#include "report/account.hpp"
#include "report/choices.hpp"
#include "report/csv_form.hpp"
#include "report/digits.hpp"
#include "report/guidance_table.hpp"
#include "report/tolerance_tables.hpp"
#include "report/wording.hpp"
#include "report/write.hpp"

namespace trammel::report {

namespace {

bool is_control(char c) {
  const auto byte = static_cast<unsigned char>(c);
  return byte < 0x20 || byte == 0x7F;
}

/// Whether a spreadsheet may compute a cell that reads so.
bool is_formula(std::string_view cell) {
  while (cell.starts_with(' ')) cell.remove_prefix(1);
  if (cell.empty() || is_number(cell)) return false;
  return is_control(cell.front()) || std::string_view("=+-@").find(cell.front()) != std::string_view::npos;
}

/// Text that no spreadsheet computes: an apostrophe goes before what would be a formula, also behind a semicolon, tab
/// or line break, where a program that splits there sees a cell begin. Numbers stay as they are.
std::string plain(std::string_view text) {
  constexpr std::string_view ends = ";\t\r\n";
  std::string out;
  if (!text.empty() && is_control(text.front()) && ends.find(text.front()) != std::string_view::npos) out = "'";
  while (!text.empty()) {
    const std::size_t end = std::min(text.find_first_of(ends), text.size());
    if (is_formula(text.substr(0, end))) out += '\'';
    const std::size_t taken = std::min(end + 1, text.size());
    out += text.substr(0, taken);
    text.remove_prefix(taken);
  }
  return out;
}

/// All varied values of a study by name, in the order in which layouts have them: those of several linkages differ.
std::vector<search::VariedValue> varied_of(const search::StudyReport& study) {
  std::vector<search::VariedValue> all;
  for (const auto& sheet : study.shortlist)
    for (const auto& varied : sheet.varied)
      if (std::none_of(all.begin(), all.end(), [&](const auto& known) { return known.name == varied.name; }))
        all.push_back(varied);
  return all;
}

}  // namespace

std::string csv_number(const std::optional<double>& x) {
  return x && std::isfinite(*x) ? exact(*x) : std::string();
}

std::string csv_record(const std::vector<std::string>& fields) {
  std::string out;
  for (std::size_t i = 0; i < fields.size(); ++i) out += (i ? "," : "") + quoted(plain(fields[i]));
  return out + "\r\n";
}

std::vector<const bike::Column*> csv_columns(const bike::CurveTable& table) {
  std::vector<const bike::Column*> columns;
  for (const auto& column : table.columns) {
    if (bike::record(column.key.curve).in_csv) columns.push_back(&column);
  }
  const auto place_in_file = [](const bike::Column* column) {
    const auto needs = bike::record(column->key.curve).needs;
    const int group = needs == bike::Needs::gear ? 1 : needs == bike::Needs::spring ? 2 : 0;
    return std::tuple(group, column->key.gear, column->key.curve);
  };
  std::stable_sort(columns.begin(), columns.end(),
                   [&](const auto* a, const auto* b) { return place_in_file(a) < place_in_file(b); });
  return columns;
}

std::string curves_csv(const bike::CurveTable& table) {
  const std::vector<const bike::Column*> columns = csv_columns(table);
  std::vector<std::string> record;
  std::size_t stations = 0;
  for (const auto* column : columns) {
    record.push_back(column->name);
    stations = std::max(stations, column->values.size());
  }
  std::string out = csv_record(record);
  for (std::size_t i = 0; i < stations; ++i) {
    record.clear();
    for (const auto* column : columns) record.push_back(i < column->values.size() ? csv_number(column->values[i]) : "");
    out += csv_record(record);
  }
  return out;
}

std::vector<std::string> members_at(const bike::Layout& layout, int point) {
  std::vector<std::string> out;
  for (const auto& member : layout.mechanism.members) {
    const auto& points = member.points;
    if (std::find(points.begin(), points.end(), point) != points.end()) out.push_back(member.name);
  }
  return out;
}

std::string pivots_csv(const search::Sheet& sheet, bool inches_too) {
  std::vector<std::string> head{"point",    "members",  "x_topped_out_mm", "y_topped_out_mm",
                                "x_sag_mm", "y_sag_mm", "x_bottomed_mm",   "y_bottomed_mm"};
  if (inches_too)
    for (const char* more :
         {"x_topped_out_in", "y_topped_out_in", "x_sag_in", "y_sag_in", "x_bottomed_in", "y_bottomed_in"})
      head.emplace_back(more);
  std::string out = csv_record(head);
  const auto& names = sheet.layout.mechanism.point_names;
  for (std::size_t i = 0; i < names.size(); ++i) {
    std::string members;
    for (const auto& name : members_at(sheet.layout, static_cast<int>(i)))
      members += (members.empty() ? "" : " ") + name;
    std::vector<std::string> record{names[i], members};
    const auto add = [&](double unit) {
      for (const auto* pose : {&sheet.topped_out, &sheet.at_sag, &sheet.bottomed}) {
        record.push_back(csv_number(pose->points[i].x / unit));
        record.push_back(csv_number(pose->points[i].y / unit));
      }
    };
    add(1.0);
    if (inches_too) add(brief::mm_per_inch);
    out += csv_record(record);
  }
  return out;
}

std::string shortlist_csv(const search::StudyReport& study) {
  std::vector<std::string> record{"rank", "id", "score", "margin", "musts_met"};
  if (!study.linkages.empty()) record.emplace_back("linkage");
  for (const auto& target : study.brief.targets) record.push_back(with_unit(target.name, unit_of(target)));
  const std::vector<search::VariedValue> varied = varied_of(study);
  for (const auto& v : varied) record.push_back(with_unit(v.name, v.unit));
  const bool built = study.brief.tolerances.has_value();
  if (built) record.insert(record.end(), {"yield", "yield_from", "yield_to"});
  for (const std::string& list : offered(study.brief)) record.push_back("chosen " + list);
  record.insert(record.end(), {"must_margin", "wish_margin", "remarks", "summary"});
  std::string out = csv_record(record);
  for (const auto& sheet : study.shortlist) {
    const auto& assessment = sheet.assessment;
    record = {std::to_string(sheet.rank), sheet.id, csv_number(assessment.score), csv_number(assessment.margin),
              std::to_string(assessment.musts_met)};
    if (!study.linkages.empty()) record.push_back(sheet.linkage);
    for (const auto& verdict : assessment.targets) record.push_back(csv_number(verdict.achieved));
    for (const auto& v : varied) {
      const auto own =
          std::find_if(sheet.varied.begin(), sheet.varied.end(), [&](const auto& s) { return s.name == v.name; });
      record.push_back(own == sheet.varied.end() ? "" : csv_number(own->value));
    }
    if (built) {
      const search::Share yield = sheet.tolerance ? sheet.tolerance->yield : search::Share{};
      for (double share : {yield.share(), yield.lo, yield.hi}) record.push_back(csv_number(share));
    }
    for (const std::string& choice : chosen(study.brief, sheet)) record.push_back(choice);
    record.push_back(csv_number(assessment.must_margin));
    record.push_back(csv_number(assessment.wish_margin));
    record.push_back(std::to_string(unusual(sheet).size()));
    record.push_back(account_sentence(sheet, study.brief.targets));
    out += csv_record(record);
  }
  return out;
}

}  // namespace trammel::report
