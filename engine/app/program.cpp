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

void list_linkages() {
  std::size_t widest = 0;
  for (const brief::ShippedTemplate& one : brief::shipped_templates()) widest = std::max(widest, one.name.size());
  for (const brief::ShippedTemplate& one : brief::shipped_templates())
    say(one.name + std::string(widest - one.name.size() + 2, ' ') + title_of(one) + "\n");
}

}  // namespace

std::string version_text() {
  std::string sets;
  for (const objectives::InstructionSet set : objectives::usable_instruction_sets())
    sets += (sets.empty() ? "" : ", ") + std::string(name_of(set));
  return search::engine_version() + "\ncommit " TRAMMEL_COMMIT "\ninstruction sets here: " + sets;
}

void add_manual(CLI::App& program, int& exit) {
  CLI::App* verb = program.add_subcommand("manual", "Print the manual page, for man(1).");
  verb->callback([&] { exit = guarded([&] { return say(manual_page(program)), done; }); });
}

void add_completions(CLI::App& program, int& exit) {
  CLI::App* verb = program.add_subcommand("completions", "Print completions of commands and options for a shell.");
  auto shell = std::make_shared<std::string>();
  verb->add_option("shell", *shell, "bash, zsh or fish")->required()->check(CLI::IsMember({"bash", "zsh", "fish"}));
  verb->callback([&, shell] { exit = guarded([&] { return say(completions(program, *shell)), done; }); });
}

void add_schema(CLI::App& program, int& exit) {
  CLI::App* verb =
      program.add_subcommand("schema", "Print the JSON Schema of briefs and layouts, for an editor to check by.");
  verb->callback([&exit] { exit = guarded([] { return say(brief::schema()), done; }); });
}

void add_linkages(CLI::App& program, int& exit) {
  CLI::App* verb =
      program.add_subcommand("linkages", "List the linkage templates that ship, or print one to write an own from.");
  auto name = std::make_shared<std::optional<std::string>>();
  verb->add_option("name", *name, "the one to print");
  verb->callback([name, &exit] {
    exit = guarded([&] {
      if (!*name) return list_linkages(), done;
      const auto known = draft::read_linkage(**name);
      if (!known.value) throw BadInput("linkages: " + known.flaw);
      for (const brief::ShippedTemplate& one : brief::shipped_templates())
        if (one.name == *known.value) say(std::string(one.text));
      return done;
    });
  });
}

}  // namespace trammel::app
