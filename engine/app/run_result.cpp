#include "app/run_result.hpp"

#include <sys/wait.h>
#include <unistd.h>

#include <csignal>
#include <cstdlib>

#include "app/print.hpp"
#include "app/verbs.hpp"

namespace trammel::app {

Json result_json(const RunResult& r) {
  Json json{{"outcome", r.outcome}, {"exit", r.exit}, {"study", r.study.string()}};
  json["report"] = nullptr;
  if (r.reported) json["report"] = (r.study / "index.html").string();
  json["units"] = r.units;
  json["screened"] = r.screened;
  json["shortlisted"] = r.shortlisted;
  json["meet_every_requirement"] = r.meet_every_requirement;
  json["best"] = nullptr;
  if (r.best)
    json["best"] = {{"id", r.best->id},
                    {"score", json_number(r.best->score)},
                    {"required_margin", json_number(r.best->required_margin)},
                    {"weakest_requirement", r.best->weakest_requirement}};
  return json;
}

std::string result_line(const RunResult& r) {
  return json_text(result_json(r));
}

void run_on_done(const std::string& command, const RunResult& r, bool quiet) {
  const auto set = [](const char* name, const std::string& value) { ::setenv(name, value.c_str(), 1); };
  const std::filesystem::path study = std::filesystem::absolute(r.study).lexically_normal();
  set("TRAMMEL_OUTCOME", r.outcome);
  set("TRAMMEL_EXIT", std::to_string(r.exit));
  set("TRAMMEL_STUDY", study.string());
  set("TRAMMEL_REPORT", r.reported ? (study / "index.html").string() : "");
  set("TRAMMEL_RESULT", result_line(r));
  std::fflush(stdout);
  const auto before = std::signal(SIGPIPE, SIG_DFL);  // the command's pipes are its own business
  const int own = quiet ? ::dup(STDOUT_FILENO) : -1;
  if (own >= 0) ::dup2(STDERR_FILENO, STDOUT_FILENO);
  const int status = std::system(command.c_str());
  if (own >= 0) {
    ::dup2(own, STDOUT_FILENO);
    ::close(own);
  }
  std::signal(SIGPIPE, before);
  if (status == 0) return;
  tell("warning: --on-done: the command " +
       (WIFEXITED(status) ? "ended with " + std::to_string(WEXITSTATUS(status)) : std::string("did not run through")));
}

}  // namespace trammel::app
