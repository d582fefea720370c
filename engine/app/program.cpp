// trammel manual, trammel completions SHELL, trammel schema, trammel linkages [NAME]
#include "app/program.hpp"

#include <trammel_commit.hpp>

#include "app/print.hpp"
#include "app/verbs.hpp"
#include "brief/problems.hpp"
#include "brief/read.hpp"
#include "brief/shipped_templates.hpp"
#include "draft/answers.hpp"
#include "objectives/evaluator.hpp"

namespace trammel::app {
namespace {

std::string title_of(const brief::ShippedTemplate& one) {
  const std::size_t at = one.text.find("title: ");
  if (at == one.text.npos) return one.name;
  const std::size_t from = at + 7;
  return std::string(one.text.substr(from, one.text.find('\n', from) - from));
}

int print_linkages(Call& call) {
  if (call.json) {
    call.result["linkages"] = Json::array();
    for (const brief::ShippedTemplate& one : brief::shipped_templates())
      call.result["linkages"].push_back({{"name", one.name}, {"title", title_of(one)}});
    return done;
  }
  std::size_t widest = 0;
  for (const brief::ShippedTemplate& one : brief::shipped_templates()) widest = std::max(widest, one.name.size());
  for (const brief::ShippedTemplate& one : brief::shipped_templates())
    say(one.name + std::string(widest - one.name.size() + 2, ' ') + title_of(one) + "\n");
  return done;
}

/// Text that is the whole answer.
int answer(Call& call, const std::string& text) {
  if (call.json)
    call.result["text"] = text;
  else
    say(text);
  return done;
}

std::vector<std::string> instruction_sets() {
  std::vector<std::string> out;
  for (const objectives::InstructionSet set : objectives::usable_instruction_sets()) out.emplace_back(name_of(set));
  return out;
}

}  // namespace

std::string version_text() {
  return search::engine_version() +
         "\ncommit " TRAMMEL_COMMIT "\ninstruction sets here: " + brief::join(instruction_sets());
}

Json version_json() {
  return {{"version", search::engine_version()}, {"commit", TRAMMEL_COMMIT}, {"instruction_sets", instruction_sets()}};
}

void add_manual(CLI::App& program, Call& call) {
  CLI::App* verb = program.add_subcommand("manual", "Print the manual page, for man(1).");
  verb->callback([&] { guarded(call, [&] { return answer(call, manual_page(program)); }); });
}

void add_completions(CLI::App& program, Call& call) {
  CLI::App* verb = program.add_subcommand("completions", "Print completions of commands and options for a shell.");
  auto shell = std::make_shared<std::string>();
  verb->add_option("shell", *shell, "bash, zsh or fish")->required()->check(CLI::IsMember({"bash", "zsh", "fish"}));
  verb->callback([&, shell] { guarded(call, [&] { return answer(call, completions(program, *shell)); }); });
}

void add_schema(CLI::App& program, Call& call) {
  CLI::App* verb =
      program.add_subcommand("schema", "Print the JSON Schema of briefs and layouts, for an editor to check by.");
  auto inch = std::make_shared<bool>(false);
  verb->add_flag("--inch", *inch, "that of files with units: inch");
  verb->callback([&call, inch] {
    guarded(call, [&] {
      if (!call.json) return answer(call, brief::schema(*inch));
      call.result["schema"] = Json::parse(brief::schema(*inch));
      return static_cast<int>(done);
    });
  });
}

void add_linkages(CLI::App& program, Call& call) {
  CLI::App* verb =
      program.add_subcommand("linkages", "List the linkage templates that ship, or print one to write an own from.");
  auto name = std::make_shared<std::optional<std::string>>();
  verb->add_option("name", *name, "the one to print");
  verb->callback([name, &call] {
    guarded(call, [&] {
      if (!*name) return print_linkages(call);
      const auto known = draft::read_linkage(**name);
      if (!known.value) throw BadInput("linkages: " + known.flaw);
      for (const brief::ShippedTemplate& one : brief::shipped_templates())
        if (one.name == *known.value) answer(call, std::string(one.text));
      return static_cast<int>(done);
    });
  });
}

}  // namespace trammel::app
