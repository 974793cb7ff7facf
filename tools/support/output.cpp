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

/// A pipe, a device: nothing that could be replaced by another file.
bool is_special(const std::string& path) {
  struct stat info {};
  return stat(path.c_str(), &info) == 0 && !S_ISREG(info.st_mode);
}

}  // namespace

OutputFile::OutputFile(std::string path) : path_(std::move(path)) {
  if (path_ == "-") {
    file_ = stdout;
    return;
  }
  if (!is_special(path_)) part_ = path_ + ".part";
  file_ = std::fopen(part_.empty() ? path_.c_str() : part_.c_str(), "wb");
  if (file_ == nullptr) error_ = failure();
}

OutputFile::~OutputFile() {
  if (file_ == nullptr || file_ == stdout) return;
  std::fclose(file_);
  if (!part_.empty()) std::remove(part_.c_str());
}

void OutputFile::put(std::string_view text) {
  if (error_) return;
  if (std::fwrite(text.data(), 1, text.size(), file_) != text.size()) {
    error_ = failure();
  }
}

std::optional<host::Error> OutputFile::commit() {
  if (!error_ && std::fflush(file_) != 0) error_ = failure();
  if (error_ || file_ == stdout) return error_;
  if (std::fclose(std::exchange(file_, nullptr)) != 0 ||
      (!part_.empty() && std::rename(part_.c_str(), path_.c_str()) != 0)) {
    error_ = failure();
    if (!part_.empty()) std::remove(part_.c_str());
  }
  return error_;
}

host::Error OutputFile::failure() const {
  return {fmt::format("can't write ({})", std::strerror(errno)),
          path_ == "-" ? "standard output" : path_,
          "check the folder, its permissions and the free space"};
}

std::optional<host::Error> write_output(const std::string& path,
                                        std::string_view text) {
  OutputFile file(path);
  file.put(text);
  return file.commit();
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
