#include "support/output.hpp"

#include <fmt/format.h>
#include <sys/stat.h>
#include <unistd.h>

#include <algorithm>
#include <cerrno>
#include <cstdio>
#include <cstring>
#include <filesystem>
#include <utility>

#include "support/safe_text.hpp"

namespace telltale::tool {
namespace {

bool write_all(std::FILE* file, std::string_view text) {
  return std::fwrite(text.data(), 1, text.size(), file) == text.size() &&
         std::fflush(file) == 0;
}

host::Error failed(const std::string& path) {
  return {fmt::format("can't write ({})", std::strerror(errno)), path,
          "check the folder, its permissions and the free space"};
}

/// A pipe, a device: nothing that could be replaced by another file.
bool is_special(const std::string& path) {
  struct stat info {};
  return stat(path.c_str(), &info) == 0 && !S_ISREG(info.st_mode);
}

}  // namespace

std::optional<host::Error> write_output(const std::string& path,
                                        std::string_view text) {
  if (path == "-") {
    if (!write_all(stdout, text)) return failed("standard output");
    return {};
  }
  const bool special = is_special(path);
  const std::string target = special ? path : path + ".part";
  std::FILE* file = std::fopen(target.c_str(), "wb");
  if (file == nullptr) return failed(path);
  const bool written = write_all(file, text);
  const bool closed = std::fclose(file) == 0;
  if (!written || !closed ||
      (!special && std::rename(target.c_str(), path.c_str()) != 0)) {
    const host::Error error = failed(path);
    if (!special) std::remove(target.c_str());
    return error;
  }
  return {};
}

std::optional<host::Error> would_overwrite(
    const std::string& output, const std::vector<std::string>& inputs) {
  std::error_code ignored;  // what can't be looked at is not the same file
  for (const std::string& input : inputs) {
    if (input == output ||
        std::filesystem::equivalent(input, output, ignored)) {
      return host::Error{"is one of the logs", output,
                         "name another file to write to"};
    }
  }
  return {};
}

void complain(const host::Error& error) { complain(error.line()); }

void complain(std::string_view line) {
  fmt::print(stderr, "telltale: {}\n", host::printable(line));
}

ProgressBar::ProgressBar(std::string title, bool quiet)
    : title_(std::move(title)), active_(!quiet && isatty(STDERR_FILENO) == 1) {}

ProgressBar::~ProgressBar() {
  if (active_ && shown_ >= 0) fmt::print(stderr, "\r\x1b[K");
}

void ProgressBar::show(double share) {
  if (!active_) return;
  const int percent = static_cast<int>(std::clamp(share, 0.0, 1.0) * 100.0);
  if (percent == shown_) return;
  shown_ = percent;
  const auto filled = static_cast<std::size_t>(percent) * 30 / 100;
  fmt::print(stderr, "\r{} [{}{}] {:3} %", title_, std::string(filled, '='),
             std::string(30 - filled, ' '), percent);
  std::fflush(stderr);
}

}  // namespace telltale::tool
