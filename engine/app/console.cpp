#include "app/console.hpp"

#include <spdlog/pattern_formatter.h>
#include <spdlog/sinks/base_sink.h>
#include <spdlog/sinks/basic_file_sink.h>
#include <spdlog/spdlog.h>
#include <sys/ioctl.h>

#include <mutex>
#include <stdexcept>
#include <string_view>

#include "io/escape.hpp"

namespace trammel::app {
namespace {

constexpr std::string_view erase_line = "\r\x1b[K";  // ECMA-48: carriage return, erase in line

// Writes all of it; what the reader at the other end does not take is lost, as there is nowhere to complain.
void write_all(int descriptor, std::string_view text) {
  while (!text.empty()) {
    const ssize_t taken = ::write(descriptor, text.data(), text.size());
    if (taken < 0 && errno == EINTR) continue;
    if (taken <= 0) return;
    text.remove_prefix(static_cast<std::size_t>(taken));
  }
}

std::string one_line(std::string text) {
  for (char& c : text) {
    const auto byte = static_cast<unsigned char>(c);
    if (byte < 0x20 || byte == 0x7f) c = ' ';
  }
  return text;
}

// The first `width` characters of UTF-8 text; bytes 10xxxxxx continue a character.
std::string_view cut(std::string_view text, std::size_t width) {
  std::size_t characters = 0;
  for (std::size_t i = 0; i < text.size(); ++i) {
    const bool starts = (static_cast<unsigned char>(text[i]) & 0xc0) != 0x80;
    if (starts && characters++ == width) return text.substr(0, i);
  }
  return text;
}

std::size_t columns(int descriptor) {
  winsize size{};
  return ::ioctl(descriptor, TIOCGWINSZ, &size) == 0 && size.ws_col > 0 ? size.ws_col : 80;
}

}  // namespace

// The end of the line for messages and status alike: whoever writes holds the sink's mutex, so that the status line is
// off the screen while a message is written.
class Console::Sink : public spdlog::sinks::base_sink<std::mutex> {
 public:
  Sink(int descriptor, std::chrono::steady_clock::duration interval)
      : descriptor_(descriptor), terminal_(::isatty(descriptor) == 1), interval_(interval) {}

  /// The line, when it is time for a plain one.
  std::optional<std::string> status(const std::string& line) {
    const std::lock_guard guard(mutex_);
    status_ = io::escaped(one_line(line));
    if (terminal_) write_all(descriptor_, std::string(erase_line) + shown());
    const auto now = std::chrono::steady_clock::now();
    if (printed_ && now - *printed_ < interval_) return std::nullopt;
    printed_ = now;
    if (!terminal_) write_all(descriptor_, status_ + "\n");
    return status_;
  }

  void finish() {
    const std::lock_guard guard(mutex_);
    if (terminal_ && !status_.empty()) write_all(descriptor_, erase_line);
    status_.clear();
  }

 private:
  void sink_it_(const spdlog::details::log_msg& message) override {
    spdlog::memory_buf_t formatted;
    formatter_->format(message, formatted);
    std::string text(formatted.data(), formatted.size());
    if (terminal_ && !status_.empty()) text = std::string(erase_line) + text + shown();
    write_all(descriptor_, text);
  }
  void flush_() override {}

  // A line as wide as the terminal would wrap and could not be erased.
  std::string shown() const { return std::string(cut(status_, columns(descriptor_) - 1)); }

  const int descriptor_;
  const bool terminal_;
  const std::chrono::steady_clock::duration interval_;
  std::string status_;
  std::optional<std::chrono::steady_clock::time_point> printed_;
};

// Two loggers, so that the log's failure does not touch the screen's. Neither is registered anywhere.
struct Console::Loggers {
  std::unique_ptr<spdlog::logger> screen;
  std::unique_ptr<spdlog::logger> file;
  std::once_flag file_lost;

  void write(spdlog::level::level_enum level, const std::string& prefix, const std::string& message) {
    const std::string shown = io::escaped(message);
    screen->log(level, spdlog::string_view_t(prefix + shown));
    if (file) file->log(level, spdlog::string_view_t(shown));
  }
  void lose_file(const std::string& path) {
    file->set_level(spdlog::level::off);
    std::call_once(file_lost, [&] {
      screen->warn("warning: {}: the log can no longer be written; messages appear here only", path);
    });
  }
};

Console::Console(const ConsoleOptions& options)
    : sink_(std::make_shared<Sink>(options.descriptor, options.plain_interval)), loggers_(new Loggers) {
  sink_->set_pattern("%v");
  loggers_->screen = std::make_unique<spdlog::logger>("console", sink_);
  if (!options.log) return;
  try {
    auto file = std::make_shared<spdlog::sinks::basic_file_sink_mt>(options.log->string());
    file->set_pattern("%Y-%m-%d %H:%M:%S.%e %l: %v");
    loggers_->file = std::make_unique<spdlog::logger>("log", file);
  } catch (const spdlog::spdlog_ex&) {
    throw std::runtime_error(options.log->string() + ": the log cannot be opened");
  }
  loggers_->file->flush_on(spdlog::level::trace);
  loggers_->file->set_error_handler(
      [this, path = options.log->string()](const std::string&) { loggers_->lose_file(path); });
}

Console::~Console() {
  finish();
}

void Console::status(const std::string& line) {
  const auto plain = sink_->status(line);
  if (plain && loggers_->file) loggers_->file->log(spdlog::level::info, spdlog::string_view_t(*plain));
}
void Console::finish() {
  sink_->finish();
}
void Console::info(const std::string& message) {
  loggers_->write(spdlog::level::info, "", message);
}
void Console::warning(const std::string& message) {
  loggers_->write(spdlog::level::warn, "warning: ", message);
}
void Console::error(const std::string& message) {
  loggers_->write(spdlog::level::err, "error: ", message);
}

}  // namespace trammel::app
