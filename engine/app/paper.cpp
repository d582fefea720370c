#include "app/paper.hpp"

#include <fcntl.h>
#include <spawn.h>
#include <sys/wait.h>
#include <unistd.h>

#include <fmt/format.h>

#include <algorithm>
#include <cctype>
#include <chrono>
#include <csignal>
#include <cstdlib>
#include <fstream>
#include <sstream>
#include <stdexcept>
#include <string_view>
#include <thread>
#include <vector>

#include "app/verbs.hpp"
#include "report/files.hpp"

extern char** environ;

namespace trammel::app {

namespace {

constexpr auto most_time = std::chrono::seconds(60);

/// The path of a program in PATH; empty when it is not there.
std::string found_in_path(const std::string& program) {
  const char* path = std::getenv("PATH");
  std::istringstream folders(path == nullptr ? "" : path);
  for (std::string folder; std::getline(folders, folder, ':');) {
    std::string whole = (folder.empty() ? "." : folder) + "/" + program;
    if (::access(whole.c_str(), X_OK) == 0) return whole;
  }
  return "";
}

/// The address of a file (RFC 8089), in which nothing but letters, digits and /-._~ stands for itself (RFC 3986, 2.3).
std::string address_of(const std::filesystem::path& file) {
  std::string out = "file://";
  for (const char c : std::filesystem::absolute(file).string()) {
    const auto byte = static_cast<unsigned char>(c);
    const bool plain =
        byte < 0x80 && (std::isalnum(byte) != 0 || std::string_view("/-._~").find(c) != std::string_view::npos);
    out += plain ? std::string(1, c) : fmt::format("%{:02X}", byte);
  }
  return out;
}

/// Runs a program to its end, its own words unheard; true when it ended with 0 in time.
bool ran(const std::vector<std::string>& words) {
  std::vector<char*> arguments;
  arguments.reserve(words.size() + 1);
  for (const std::string& word : words) arguments.push_back(const_cast<char*>(word.c_str()));
  arguments.push_back(nullptr);
  posix_spawn_file_actions_t files;
  ::posix_spawn_file_actions_init(&files);
  for (const int stream : {STDIN_FILENO, STDOUT_FILENO, STDERR_FILENO})
    ::posix_spawn_file_actions_addopen(&files, stream, "/dev/null", stream == STDIN_FILENO ? O_RDONLY : O_WRONLY, 0);
  pid_t child = 0;
  const int failure = ::posix_spawn(&child, arguments.front(), &files, nullptr, arguments.data(), environ);
  ::posix_spawn_file_actions_destroy(&files);
  if (failure != 0) return false;
  const auto end = std::chrono::steady_clock::now() + most_time;
  int status = 0;
  while (::waitpid(child, &status, WNOHANG) == 0) {
    if (std::chrono::steady_clock::now() > end) {
      ::kill(child, SIGKILL);
      ::waitpid(child, &status, 0);
      return false;
    }
    std::this_thread::sleep_for(std::chrono::milliseconds(20));
  }
  return WIFEXITED(status) && WEXITSTATUS(status) == 0;
}

}  // namespace

Press::Press(const std::string& option) {
  for (const char* name : {"chromium", "chromium-browser"})
    if (browser_.empty()) browser_ = found_in_path(name);
  if (browser_.empty())
    throw BadInput(option +
                   ": needs the browser Chromium, and there is no program chromium in PATH; without it any "
                   "browser prints the report's pages and drawings");
  std::string room = (std::filesystem::temp_directory_path() / "trammel-print-XXXXXX").string();
  if (::mkdtemp(room.data()) == nullptr) throw std::runtime_error(room + ": this folder cannot be made");
  room_ = room;
}

Press::~Press() {
  std::error_code ignored;
  std::filesystem::remove_all(room_, ignored);
}

void Press::print(const std::filesystem::path& page) const {
  const std::filesystem::path made = room_ / "made.pdf", target = std::filesystem::path(page).replace_extension(".pdf");
  std::filesystem::remove(made);
  std::vector<std::string> words{browser_,
                                 "--headless=new",
                                 "--disable-gpu",
                                 "--no-first-run",
                                 "--no-pdf-header-footer",
                                 "--user-data-dir=" + (room_ / "profile").string(),
                                 "--print-to-pdf=" + made.string()};
  if (::geteuid() == 0) words.emplace_back("--no-sandbox");  // it does not start otherwise
  words.push_back(address_of(page));
  const bool done = ran(words);
  std::ifstream file(made, std::ios::binary);
  std::ostringstream content;
  if (done && file) content << file.rdbuf();
  if (content.str().empty()) throw std::runtime_error(target.string() + ": " + browser_ + " has not printed it");
  report::write_file(target, content.str());
}

bool print_as_pdf(const Press& press, const std::filesystem::path& study, const std::atomic<bool>& stop,
                  const std::function<void(const std::string&)>& status) {
  std::vector<std::filesystem::path> pages{study / "index.html"};
  for (const std::filesystem::path& layout : report::layout_folders(study / "layouts")) {
    pages.insert(pages.end(), {layout / "index.html", layout / "summary.html"});
    for (const auto& file : std::filesystem::directory_iterator(layout)) {
      const std::string name = file.path().filename().string();
      if (name.starts_with("workshop") && name.ends_with(".svg")) pages.push_back(file.path());
    }
  }
  std::sort(pages.begin() + 1, pages.end());
  for (std::size_t i = 0; i < pages.size(); ++i) {
    status("printing " + std::to_string(i + 1) + " of " + std::to_string(pages.size()));
    try {
      if (!stop) press.print(pages[i]);
    } catch (const std::runtime_error&) {
      if (!stop) throw;  // else the same key press has ended the browser
    }
    if (stop) return false;
  }
  return true;
}

}  // namespace trammel::app
