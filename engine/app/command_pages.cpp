// The manual page and completions, from what the verbs say of themselves.
#include <algorithm>
#include <stdexcept>

#include "app/program.hpp"

namespace trammel::app {
namespace {

using Verbs = std::vector<const CLI::App*>;

Verbs verbs_of(const CLI::App& program) {
  return program.get_subcommands([](const CLI::App*) { return true; });
}

std::vector<const CLI::Option*> options_of(const CLI::App& app, bool positional) {
  std::vector<const CLI::Option*> out;
  for (const CLI::Option* option : app.get_options([](const CLI::Option*) { return true; }))
    if (option->nonpositional() != positional) out.push_back(option);
  return out;
}

/// "--keep", the longest name that an option has.
std::string name_of(const CLI::Option& option) {
  return option.get_lnames().empty() ? "-" + option.get_snames().front() : "--" + option.get_lnames().front();
}

/// All names, "-h, --help".
std::string names_of(const CLI::Option& option) {
  std::string out;
  for (const std::string& name : option.get_snames()) out += (out.empty() ? "-" : ", -") + name;
  for (const std::string& name : option.get_lnames()) out += (out.empty() ? "--" : ", --") + name;
  return out;
}

bool takes_value(const CLI::Option& option) {
  return option.get_items_expected_max() > 0;
}

/// Text that roff prints as it stands: its own signs escaped, no line that starts a request.
std::string roff(const std::string& text) {
  std::string out;
  for (const char c : text) {
    if (c == '\\')
      out += "\\e";
    else if (c == '-')
      out += "\\-";
    else if ((c == '.' || c == '\'') && (out.empty() || out.back() == '\n'))
      out += std::string("\\&") + c;
    else
      out += c;
  }
  return out;
}

std::string upper(std::string word) {
  for (char& c : word) c = c >= 'a' && c <= 'z' ? static_cast<char>(c - ('a' - 'A')) : c;
  return word;
}

std::string option_entry(const CLI::Option& option) {
  std::string out = ".TP\n\\fB" + roff(names_of(option)) + "\\fR";
  if (takes_value(option)) out += " \\fI" + roff(upper(name_of(option).substr(2))) + "\\fR";
  return out + "\n" + roff(option.get_description()) + "\n";
}

std::string verb_section(const CLI::App& verb) {
  std::string out = ".SS \"trammel " + roff(verb.get_name());
  for (const CLI::Option* option : options_of(verb, true)) {
    const std::string name = upper(option->get_name(true));
    out += " " + roff(option->get_required() ? name : "[" + name + "]") +
           (option->get_items_expected_max() > 1 ? "..." : "");
  }
  out += " [OPTIONS]\"\n" + roff(verb.get_description()) + "\n";
  for (const CLI::Option* option : options_of(verb, true))
    out += ".TP\n\\fI" + roff(upper(option->get_name(true))) + "\\fR\n" + roff(option->get_description()) + "\n";
  for (const CLI::Option* option : options_of(verb, false)) out += option_entry(*option);
  return out;
}

std::string words_of(const CLI::App& app) {
  std::string out;
  for (const CLI::Option* option : options_of(app, false)) out += (out.empty() ? "" : " ") + name_of(*option);
  return out;
}

std::string names_of(const Verbs& verbs) {
  std::string out;
  for (const CLI::App* verb : verbs) out += (out.empty() ? "" : " ") + verb->get_name();
  return out;
}

std::string bash(const CLI::App& program) {
  const Verbs verbs = verbs_of(program);
  std::string out =
      "# bash completion for trammel\n_trammel() {\n  local word=${COMP_WORDS[COMP_CWORD]} words=\"\"\n"
      "  if ((COMP_CWORD == 1)); then\n    words=\"" +
      names_of(verbs) + " " + words_of(program) + "\"\n  elif [[ $word == -* ]]; then\n    case ${COMP_WORDS[1]} in\n";
  for (const CLI::App* verb : verbs) out += "      " + verb->get_name() + ") words=\"" + words_of(*verb) + "\" ;;\n";
  return out +
         "    esac\n  else\n    COMPREPLY=($(compgen -f -- \"$word\"))\n    return\n  fi\n"
         "  COMPREPLY=($(compgen -W \"$words\" -- \"$word\"))\n}\ncomplete -o filenames -F _trammel trammel\n";
}

/// In single quotes, as all three shells read it.
std::string quoted(const std::string& text) {
  std::string out = "'";
  for (const char c : text) out += c == '\'' ? std::string("'\\''") : std::string(1, c);
  return out + "'";
}

std::string zsh(const CLI::App& program) {
  const Verbs verbs = verbs_of(program);
  std::string out = "#compdef trammel\n_trammel() {\n  local -a words\n  if ((CURRENT == 2)); then\n    words=(\n";
  const auto described = [](const std::string& name, const std::string& what) { return quoted(name + ":" + what); };
  for (const CLI::App* verb : verbs) out += "      " + described(verb->get_name(), verb->get_description()) + "\n";
  out +=
      "    )\n    _describe command words\n    return\n  fi\n  if [[ $words[CURRENT] != -* && $PREFIX != -* ]]; then\n"
      "    _files\n    return\n  fi\n  case ${(Q)${(z)BUFFER}[2]} in\n";
  for (const CLI::App* verb : verbs) {
    out += "    " + verb->get_name() + ") words=(\n";
    for (const CLI::Option* option : options_of(*verb, false))
      out += "      " + described(name_of(*option), option->get_description()) + "\n";
    out += "    ) ;;\n";
  }
  return out + "  esac\n  _describe option words\n}\n_trammel \"$@\"\n";
}

std::string fish(const CLI::App& program) {
  const Verbs verbs = verbs_of(program);
  std::string out = "# fish completion for trammel\n";
  for (const CLI::App* verb : verbs)
    out += "complete -c trammel -n __fish_use_subcommand -f -a " + verb->get_name() + " -d " +
           quoted(verb->get_description()) + "\n";
  for (const CLI::App* verb : verbs)
    for (const CLI::Option* option : options_of(*verb, false)) {
      if (option->get_lnames().empty()) continue;
      out += "complete -c trammel -n '__fish_seen_subcommand_from " + verb->get_name() + "' -l " +
             option->get_lnames().front() + (takes_value(*option) ? " -r" : "") + " -d " +
             quoted(option->get_description()) + "\n";
    }
  return out;
}

}  // namespace

std::string manual_page(const CLI::App& program) {
  std::string out =
      ".TH TRAMMEL 1\n.SH NAME\ntrammel \\- searches rear\\-suspension linkages for a brief\n.SH SYNOPSIS\n"
      ".B trammel\n\\fICOMMAND\\fR [\\fIARGUMENTS\\fR]\n.SH DESCRIPTION\n" +
      roff(program.get_description()) +
      "\nResults go to standard output, progress and messages to standard error.\n.SH COMMANDS\n";
  for (const CLI::App* verb : verbs_of(program)) out += verb_section(*verb);
  out += ".SH OPTIONS\n";
  for (const CLI::Option* option : options_of(program, false)) out += option_entry(*option);
  return out + ".SH EXIT STATUS\n" + roff(program.get_footer()) +
         "\n.SH CAUTIONS\nKinematics and statics of rigid parts in the plane, nothing more. Nothing that it prints "
         "says "
         "that a part is strong\nenough; that is the work of a qualified engineer, with prototypes proved on the bench "
         "before anyone rides them.\n";
}

std::string completions(const CLI::App& program, const std::string& shell) {
  if (shell == "bash") return bash(program);
  if (shell == "zsh") return zsh(program);
  if (shell == "fish") return fish(program);
  throw std::invalid_argument("no completions for " + shell);
}

}  // namespace trammel::app
