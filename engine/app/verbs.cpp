#include "app/verbs.hpp"
#include "app/print.hpp"
#include "brief/place.hpp"

#include <cstdio>

namespace trammel::app {

brief::Brief read_or_refuse(const std::filesystem::path& file) {
  brief::Reading reading = brief::read_file(file);
  if (!reading.ok()) throw BadInput(reading.message());
  return std::move(reading.brief);
}

BadInput unmovable(const brief::Brief& brief, const bike::MotionFailure& failure) {
  const char* key = brief.linkage.empty() ? "linkage" : "linkages";
  return BadInput(brief::place_of(brief, key) + ": the layout as drawn " + failure.text);
}

void make_out_folder(const std::filesystem::path& folder) {
  std::error_code error;
  if (std::filesystem::is_directory(folder) ? !std::filesystem::is_empty(folder, error) : exists(folder))
    throw BadInput("--out: " + folder.string() +
                   " is there already and not an empty folder; nothing is ever overwritten, choose another");
  std::filesystem::create_directories(folder, error);
  if (error) throw BadInput("--out: " + folder.string() + " cannot be made: " + error.message());
}

int guarded(const std::function<int()>& body) {
  try {
    return body();
  } catch (const BadInput& e) {
    tell(e.what());
    return bad_input;
  } catch (const std::bad_alloc&) {
    tell("error: the memory that this process may use is not enough; fewer --threads need less");
    return failed;
  } catch (const std::exception& e) {
    tell(std::string("error: ") + e.what());
    return failed;
  }
}

}  // namespace trammel::app
