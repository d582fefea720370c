#include "app/verbs.hpp"
#include "app/print.hpp"
#include "brief/place.hpp"

#include <cstdio>

namespace trammel::app {
namespace {

/// Without line ends behind what is said.
std::vector<brief::Problem> trimmed(std::vector<brief::Problem> problems) {
  for (brief::Problem& problem : problems) problem.what.erase(problem.what.find_last_not_of('\n') + 1);
  return problems;
}

std::string lines_of(const std::vector<brief::Problem>& problems) {
  std::string out;
  for (const brief::Problem& problem : trimmed(problems)) out += brief::text_of(problem) + "\n";
  return out;
}

/// What went wrong that is not the input's fault.
int failure(Call& call, const std::string& what) {
  tell("error: " + what);
  call.problems.push_back({0, 0, "", what});
  return failed;
}

}  // namespace

BadInput::BadInput(std::vector<brief::Problem> all)
    : std::runtime_error(lines_of(all)), problems(trimmed(std::move(all))) {}

brief::Brief read_or_refuse(const std::filesystem::path& file) {
  brief::Reading reading = brief::read_file(file);
  if (!reading.ok()) throw BadInput(brief::with_files(reading));
  return std::move(reading.brief);
}

BadInput unmovable(const brief::Brief& brief, const bike::MotionFailure& failure) {
  const char* key = brief.linkage.empty() ? "linkage" : "linkages";
  return BadInput(brief::problem_at(brief, key, "the layout as drawn " + failure.text));
}

void make_out_folder(const std::filesystem::path& folder) {
  std::error_code error;
  if (std::filesystem::is_directory(folder) ? !std::filesystem::is_empty(folder, error) : exists(folder))
    throw BadInput("--out: " + folder.string() +
                   " is there already and not an empty folder; nothing is ever overwritten, choose another");
  std::filesystem::create_directories(folder, error);
  if (error) throw BadInput("--out: " + folder.string() + " cannot be made: " + error.message());
}

void guarded(Call& call, const std::function<int()>& body) {
  try {
    call.exit = body();
  } catch (const BadInput& e) {
    tell(e.what());
    call.problems = e.problems;
    call.exit = bad_input;
  } catch (const std::bad_alloc&) {
    call.exit = failure(call, "the memory that this process may use is not enough; fewer --threads need less");
  } catch (const std::exception& e) {
    call.exit = failure(call, e.what());
  }
}

}  // namespace trammel::app
