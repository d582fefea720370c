// Pages and drawings as PDF, printed by Debian's Chromium where it is there.
#pragma once

#include <atomic>
#include <filesystem>
#include <functional>
#include <string>

namespace trammel::app {

class Press {
 public:
  /// Throws BadInput, naming `option`, when there is no browser to print with.
  explicit Press(const std::string& option);
  ~Press();
  Press(const Press&) = delete;
  Press& operator=(const Press&) = delete;

  /// Prints a page or drawing beside it, under its own name with the ending pdf. Throws std::runtime_error when the
  /// browser does not, or takes longer than a minute.
  void print(const std::filesystem::path& page) const;

 private:
  std::string browser_;
  std::filesystem::path room_;  ///< of its own, for what the browser leaves
};

/// Prints a study's report: its page, and of every shortlisted layout the page, the summary and the workshop drawings.
/// `status` hears which is next. False when `stop` read true before all were printed.
bool print_as_pdf(const Press& press, const std::filesystem::path& study, const std::atomic<bool>& stop,
                  const std::function<void(const std::string&)>& status);

}  // namespace trammel::app
