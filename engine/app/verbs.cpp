#include "app/verbs.hpp"

#include <cstdio>

namespace trammel::app {

brief::Brief read_or_refuse(const std::filesystem::path& file) {
  brief::Reading reading = brief::read_file(file);
  if (!reading.ok()) throw BadInput(reading.message());
  return std::move(reading.brief);
}

BadInput unmovable(const std::filesystem::path& file, const bike::MotionFailure& failure) {
  return BadInput(file.string() + ": linkage: the layout as drawn " + failure.text);
}

void make_out_folder(const std::filesystem::path& folder) {
  std::error_code error;
  if (std::filesystem::is_directory(folder) ? !std::filesystem::is_empty(folder, error) : exists(folder))
    throw BadInput("--out: " + folder.string() +
                   " is there already and not an empty folder; nothing is ever overwritten, choose another");
  std::filesystem::create_directories(folder, error);
  if (error) throw BadInput("--out: " + folder.string() + " cannot be made: " + error.message());
}

void say(const std::string& text) {
  std::fwrite(text.data(), 1, text.size(), stdout);
}

void tell(const std::string& message) {
  const std::string line = message + (message.empty() || message.back() == '\n' ? "" : "\n");
  std::fwrite(line.data(), 1, line.size(), stderr);
}

int guarded(const std::function<int()>& body) {
  try {
    return body();
  } catch (const BadInput& e) {
    tell(e.what());
    return bad_input;
  } catch (const std::exception& e) {
    tell(std::string("error: ") + e.what());
    return failed;
  }
}

}  // namespace trammel::app
