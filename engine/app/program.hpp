// What the program says of itself: version, man page, completions, and the files that it carries.
#pragma once

#include <CLI/CLI.hpp>
#include <string>

#include "app/call.hpp"

namespace trammel::app {

/// The version in the first line, as studies keep it; then the commit that it was built from and the instruction sets
/// that it can use here.
std::string version_text();
/// The same for programs.
Json version_json();

/// The manual page, in the macros of man(7), from the verbs' own records.
std::string manual_page(const CLI::App& program);
/// Completions of verbs and options for "bash", "zsh" or "fish", likewise.
std::string completions(const CLI::App& program, const std::string& shell);

/// Verbs that print these, the schema of briefs, and the linkage templates.
void add_manual(CLI::App& program, Call& call);
void add_completions(CLI::App& program, Call& call);
void add_schema(CLI::App& program, Call& call);
void add_linkages(CLI::App& program, Call& call);

}  // namespace trammel::app
