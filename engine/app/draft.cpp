// trammel draft --kind KIND [--travel MM] [--wheels SIZE] [--linkage NAME] [--shock LENGTHxSTROKE] [--out FILE]
// trammel draft --from LAYOUT [--keep POINT…] [--within MM] [--points FILE] [--targets BRIEF] [--out FILE]
#include <fmt/core.h>
#include <sys/stat.h>
#include <unistd.h>
#include <CLI/CLI.hpp>

#include <fstream>
#include <iostream>

#include "app/draft_from.hpp"
#include "app/print.hpp"
#include "app/verbs.hpp"
#include "brief/problems.hpp"
#include "brief/scalar.hpp"
#include "brief/shipped_templates.hpp"
#include "draft/first_brief.hpp"

namespace trammel::app {
namespace {

struct Arguments {
  std::optional<std::string> kind, travel, wheels, linkage, shock, title;
  std::optional<std::filesystem::path> out;
  std::optional<std::filesystem::path> from, points, wishes;
  std::vector<std::string> keep;
  std::optional<double> within;
};

/// Whether someone sits there who can answer: questions go to a terminal and come from one, and the brief does not go
/// into a pipe, whose reader would wait.
bool can_ask() {
  struct stat out {};
  const bool piped = fstat(STDOUT_FILENO, &out) == 0 && (S_ISFIFO(out.st_mode) || S_ISSOCK(out.st_mode));
  return isatty(STDIN_FILENO) != 0 && isatty(STDERR_FILENO) != 0 && !piped;
}

/// Takes each answer from the command line, else from the user, else what is usual.
class Interview {
 public:
  explicit Interview(bool asks) : asks_(asks) {}

  /// `usual` is taken for an empty answer, and where nobody can be asked; without it the answer is wanted.
  template <class Read>
  auto answer(const std::string& option, const std::optional<std::string>& given, const std::string& question,
              const std::string& usual, const Read& read) {
    if (given) return take(option, read(*given));
    if (!asks_) {
      if (usual.empty()) refuse("--" + option, "missing; " + question);
      if (!usual.empty()) taken_ += (taken_.empty() ? "" : ", ") + ("--" + option) + " " + usual;
      return usual.empty() ? decltype(read(usual)){} : take(option, read(usual));
    }
    for (;;) {
      complain("{}{}: ", question, usual.empty() ? "" : " [" + usual + "]");
      std::string line;
      if (!std::getline(std::cin, line)) throw BadInput("\nno more answers; nothing was drafted");
      auto reading = read(line.empty() ? usual : line);
      if (reading.value) return reading;
      complain("  {}\n", reading.flaw);
    }
  }

  void refuse(const std::string& option, const std::string& what) { problems_.push_back({0, 0, option, what}); }
  const std::vector<brief::Problem>& problems() const { return problems_; }
  const std::string& taken() const { return taken_; }

 private:
  template <class Reading>
  Reading take(const std::string& option, Reading reading) {
    if (!reading.value) refuse("--" + option, reading.flaw);
    return reading;
  }

  bool asks_;
  std::vector<brief::Problem> problems_;
  std::string taken_;  ///< what is usual, in words for the user
};

std::string kinds_in_words() {
  std::vector<std::string> names;
  names.reserve(bike::kind_table.size());
  for (const bike::KindRecord& record : bike::kind_table) names.emplace_back(record.key);
  return brief::join(names);
}

std::string linkages_in_words() {
  std::vector<std::string> names;
  for (const brief::ShippedTemplate& one : brief::shipped_templates()) names.push_back(one.name);
  return brief::join(names);
}

/// Reads what is given and asks for the rest; throws BadInput with everything that is wrong.
draft::Answers answers_of(const Arguments& a, bool asks, std::vector<std::string>& messages) {
  Interview ask(asks);
  draft::Answers out;
  const auto kind = ask.answer("kind", a.kind, "what the bike is for: " + kinds_in_words(), "", draft::read_kind).value;
  const draft::UsualKind& usual = draft::usual(kind.value_or(bike::Kind::trail));
  const auto wheels =
      ask.answer("wheels", a.wheels, "wheels in inches, or front/rear", std::string(usual.wheels), draft::read_wheels)
          .value;
  const draft::Wheels on = wheels.value_or(*draft::read_wheels(usual.wheels).value);
  const auto travel = ask.answer("travel", a.travel, "travel of the rear wheel, mm",
                                 brief::rounded_text(draft::usual_travel(usual, on)), draft::read_travel)
                          .value;
  const auto linkage = ask.answer("linkage", a.linkage, "linkage: " + linkages_in_words(), std::string(usual.linkage),
                                  draft::read_linkage)
                           .value;
  const double way = travel.value_or(draft::usual_travel(usual, on));
  const auto shock =
      ask.answer("shock", a.shock, "shock, eye to eye x stroke in mm", draft::shock_name(draft::usual_shock(way)),
                 [&](const std::string& words) { return draft::read_shock(words, way); })
          .value;
  if (a.title) {
    const auto title = draft::read_title(*a.title);
    if (!title.value) ask.refuse("--title", title.flaw);
    out.title = title.value.value_or("");
  }
  if (!ask.problems().empty()) throw BadInput(ask.problems());
  if (!ask.taken().empty()) messages.push_back("not said, so what is usual was taken: " + ask.taken());
  out.kind = *kind;
  out.travel = *travel;
  out.wheels = on;
  out.linkage = *linkage;
  out.shock = *shock;
  return out;
}

void remark_on_travel(const draft::Answers& a, std::vector<std::string>& messages) {
  const auto guided = draft::guided_travel(a.kind);
  if (guided && (a.travel < guided->lo || a.travel > guided->hi))
    messages.push_back(
        fmt::format("warning: {:.4g} mm of travel are unusual for a {} bike, which has {:.4g} to {:.4g} mm", a.travel,
                    bike::record(a.kind).name, guided->lo, guided->hi));
}

/// Says the messages, and prints the brief, or writes it into a file that is not there yet.
void hand_over(const Draft& draft, const std::optional<std::filesystem::path>& out, Call& call) {
  for (const std::string& message : draft.messages) tell(message);
  const std::string& text = draft.text;
  if (call.json)
    call.result = {{"text", text}, {"file", out ? Json(out->string()) : Json(nullptr)}, {"messages", draft.messages}};
  if (!out) {
    if (!call.json) std::fwrite(text.data(), 1, text.size(), stdout);
    return;
  }
  std::ofstream file(*out, std::ios::binary);
  file << text;
  file.close();
  if (!file) throw std::runtime_error("cannot write " + out->string());
  complain("wrote {}\n", out->string());
}

/// How far points may move that go on from a layout, mm, where nothing else is said.
constexpr double usual_within = 10.0;

/// Options that belong to the one way of drafting only.
void refuse_mixture(const Arguments& a) {
  std::vector<brief::Problem> problems;
  const auto refuse = [&](const char* option, bool given, const char* why) {
    if (given) problems.push_back({0, 0, option, why});
  };
  if (a.from) {
    const char* why = "with --from the bike is that of the layout; change it in the brief that is printed";
    refuse("--travel", a.travel.has_value(), why);
    refuse("--wheels", a.wheels.has_value(), why);
    refuse("--linkage", a.linkage.has_value(), why);
    refuse("--shock", a.shock.has_value(), why);
    refuse("--title", a.title.has_value(), why);
  } else {
    const char* why = "goes with --from LAYOUT, which is missing";
    refuse("--keep", !a.keep.empty(), why);
    refuse("--within", a.within.has_value(), why);
    refuse("--points", a.points.has_value(), why);
    refuse("--targets", a.wishes.has_value(), why);
  }
  if (!problems.empty()) throw BadInput(problems);
}

int run(const Arguments& a, Call& call) {
  if (a.out && std::filesystem::exists(std::filesystem::symlink_status(*a.out)))
    throw BadInput("--out: " + a.out->string() + " is there already; nothing is ever overwritten, choose another");
  if (a.out && a.out->has_parent_path() && !std::filesystem::is_directory(a.out->parent_path()))
    throw BadInput("--out: " + a.out->parent_path().string() + " is no folder");
  refuse_mixture(a);
  if (a.from) {
    hand_over(draft_from({*a.from, a.keep, a.within.value_or(usual_within), a.points, a.wishes, a.kind, a.out}), a.out,
              call);
    return done;
  }
  Draft draft;
  const draft::Answers answers = answers_of(a, can_ask() && !call.json, draft.messages);
  remark_on_travel(answers, draft.messages);
  draft.text = draft::first_brief(answers);
  hand_over(draft, a.out, call);
  return done;
}

}  // namespace

void add_draft(CLI::App& program, Call& call) {
  CLI::App* verb = program.add_subcommand(
      "draft",
      "Print a brief to start from: from a few answers, or going on from a layout. Asks on a terminal for what "
      "was not given; elsewhere what is usual for the kind of bike is taken.");
  auto a = std::make_shared<Arguments>();
  verb->add_option("--kind", a->kind, "what the bike is for: " + kinds_in_words());
  verb->add_option("--travel", a->travel, "travel of the rear wheel, mm");
  verb->add_option("--wheels", a->wheels, "diameter of the wheels in inches, such as 29, or front and rear: 29/27.5");
  verb->add_option("--linkage", a->linkage, "one of the linkages that ship: " + linkages_in_words());
  verb->add_option("--shock", a->shock, "its size, eye to eye and stroke in mm, such as 210x55");
  verb->add_option("--from", a->from, "go on from this layout: a study's layout.yaml, or any other layout or brief");
  verb->add_option("--keep", a->keep, "with --from: points that stay where they are")->delimiter(',');
  verb->add_option("--within", a->within, "with --from: how far the others may move, mm (default: 10)")
      ->check(CLI::Range(0.1, 500.0));
  verb->add_option("--points", a->points,
                   "with --from: moved points, from a pivots.csv or a drawing_mm.dxf that a CAD program has saved");
  verb->add_option(
      "--targets", a->wishes,
      "with --from: take the targets of this brief, and what it says beside them (default: of the layout's study)");
  verb->add_option("--title", a->title, "name of the bike (default: made from the others)");
  verb->add_option("--out", a->out, "write to this file, which must not be there, instead of standard output");
  verb->callback([a, &call] { guarded(call, [&] { return run(*a, call); }); });
}

}  // namespace trammel::app
