// trammel curves LAYOUT [--setting NAME] [--size NAME] [--stations N] [--csv FILE] [--tables FORM]
#include <fmt/core.h>
#include <CLI/CLI.hpp>

#include <algorithm>
#include <fstream>

#include "app/print.hpp"
#include "app/study.hpp"
#include "app/verbs.hpp"
#include "bike/cases.hpp"
#include "brief/place.hpp"
#include "brief/problems.hpp"
#include "report/write.hpp"

namespace trammel::app {
namespace {

struct Arguments {
  std::filesystem::path layout;
  int stations = 41;
  std::optional<std::filesystem::path> csv;
  std::optional<std::string> setting, size, linkage;
  report::TableForm tables = report::TableForm::commas;
};

/// Number of the setting or size that an option names, −1 without the option.
template <class Named>
int find_named(const char* option, const std::optional<std::string>& name, const std::vector<Named>& list) {
  if (!name) return -1;
  std::vector<std::string> known;
  known.reserve(list.size());
  for (const Named& one : list) known.push_back(one.name);
  const auto found = std::find(known.begin(), known.end(), *name);
  if (found != known.end()) return static_cast<int>(found - known.begin());
  throw BadInput(fmt::format("{}: '{}' was given; {}{}", option, *name,
                             known.empty() ? "the layout has none" : "allowed: " + brief::join(known),
                             brief::suggestion(*name, known)));
}

/// The brief, or of one that names linkages the one asked for, with every range in its middle.
brief::Brief brief_of(const Arguments& a) {
  brief::Brief brief = read_or_refuse(a.layout);
  if (brief.linkages.empty() && !a.linkage) return brief;
  struct Named {
    std::string name;
  };
  std::vector<Named> names;
  std::string all;
  for (const brief::Brief& one : brief.linkages) {
    names.push_back({one.linkage});
    all += (all.empty() ? "" : ", ") + one.linkage;
  }
  const int found = find_named("--linkage", a.linkage, names);
  if (found < 0)
    throw BadInput(brief::problem_at(brief, "linkages", "the brief has several; name one with --linkage: " + all));
  return std::move(brief.linkages[static_cast<std::size_t>(found)]);
}

/// A column with its curve, unit and gear by name.
Json json_of(const bike::Column& column, const bike::Layout& layout) {
  const bike::CurveRecord& curve = bike::record(column.key.curve);
  Json values = Json::array();
  for (const std::optional<double>& value : column.values) values.push_back(json_number(value));
  Json out{{"name", column.name}, {"curve", curve.key}, {"unit", curve.unit}, {"gear", nullptr}};
  if (column.key.gear >= 0) out["gear"] = layout.drivetrain.gears[static_cast<std::size_t>(column.key.gear)].name();
  out["values"] = std::move(values);
  return out;
}

int run(const Arguments& a, Call& call) {
  const brief::Brief brief = brief_of(a);
  std::string text;
  try {
    const bike::Case which{find_named("--setting", a.setting, brief.layout.settings),
                           find_named("--size", a.size, brief.layout.sizes)};
    const bike::Layout layout = bike::layout_of(brief.layout, which);
    const bike::CurveTable table = bike::trace(layout, a.stations, false).table;
    text = report::in_form(report::curves_csv(table), a.tables);
    if (call.json) {
      Json columns = Json::array();
      for (const bike::Column* column : report::csv_columns(table)) columns.push_back(json_of(*column, layout));
      call.result = {{"title", layout.title}, {"stations", a.stations}, {"columns", std::move(columns)}};
    }
  } catch (const bike::MotionFailure& failure) {
    throw unmovable(brief, failure);
  }
  if (call.json) call.result["file"] = a.csv ? Json(a.csv->string()) : Json(nullptr);
  if (!a.csv) {
    if (!call.json) std::fwrite(text.data(), 1, text.size(), stdout);
    return done;
  }
  std::ofstream file(*a.csv, std::ios::binary);
  file << text;
  file.close();
  if (!file) throw std::runtime_error("cannot write " + a.csv->string());
  complain("wrote {}\n", a.csv->string());
  return done;
}

}  // namespace

void add_curves(CLI::App& program, Call& call) {
  CLI::App* verb = program.add_subcommand("curves", "Print the curves of one layout as CSV.");
  auto a = std::make_shared<Arguments>();
  verb->add_option("layout", a->layout, "layout file (of a brief, the drawn layout)")->required();
  verb->add_option("--stations", a->stations, "stations, uniform in shock compression, both ends included")
      ->check(CLI::Range(2, 100000))
      ->capture_default_str();
  verb->add_option("--setting", a->setting, "one of the layout's settings (default: as drawn)");
  verb->add_option("--size", a->size, "one of the layout's sizes (default: as drawn)");
  verb->add_option("--linkage", a->linkage, "one of the linkages that a brief names, as its template draws it");
  verb->add_option("--csv", a->csv, "write to this file instead of standard output");
  add_tables_flag(*verb, a->tables);
  verb->callback([a, &call] { guarded(call, [&] { return run(*a, call); }); });
}

}  // namespace trammel::app
