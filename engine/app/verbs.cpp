#include "app/verbs.hpp"

#include <fmt/core.h>

namespace trammel::app {

brief::Brief read_or_refuse(const std::filesystem::path& file) {
  brief::Reading reading = brief::read_file(file);
  if (!reading.ok()) throw BadInput(reading.message());
  return std::move(reading.brief);
}

BadInput unmovable(const std::filesystem::path& file, const bike::MotionFailure& failure) {
  return BadInput(file.string() + ": linkage: the layout as drawn " + failure.text);
}

int guarded(const std::function<int()>& body) {
  const auto say = [](const std::string& text) {
    fmt::print(stderr, "{}{}", text, text.empty() || text.back() == '\n' ? "" : "\n");
  };
  try {
    return body();
  } catch (const BadInput& e) {
    say(e.what());
    return bad_input;
  } catch (const std::exception& e) {
    say(std::string("error: ") + e.what());
    return failed;
  }
}

}  // namespace trammel::app
