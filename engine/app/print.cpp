#include "app/print.hpp"

#include "io/escape.hpp"

namespace trammel::app {

void put(std::FILE* stream, std::string_view text) {
  const std::string shown = io::escaped(text, io::LineBreaks::kept);
  std::fwrite(shown.data(), 1, shown.size(), stream);
}

void say(std::string_view text) {
  put(stdout, text);
}

void tell(std::string_view message) {
  put(stderr, message);
  if (!message.empty() && message.back() != '\n') put(stderr, "\n");
}

}  // namespace trammel::app
