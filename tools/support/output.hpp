// Where a command's results go: files, standard output, standard error.
#pragma once

#include <cstdio>
#include <optional>
#include <string>
#include <string_view>
#include <vector>

#include "support/result.hpp"

namespace telltale::tool {

/// A file that is written piece by piece; "-" is standard output. What was
/// there is replaced only when everything has been written beside it.
class OutputFile {
 public:
  explicit OutputFile(std::string path);
  OutputFile(const OutputFile&) = delete;
  OutputFile& operator=(const OutputFile&) = delete;
  ~OutputFile();

  /// A failure is told by commit().
  void put(std::string_view text);
  /// All has been put.
  std::optional<host::Error> commit();

 private:
  host::Error failure() const;

  std::string path_;
  std::string part_;  // what is written until then; empty: `path_` itself
  std::FILE* file_ = nullptr;
  std::optional<host::Error> error_;
};

/// Writes all of `text` to `path` in the same way.
std::optional<host::Error> write_output(const std::string& path,
                                        std::string_view text);

/// An Error where `output` is one of `inputs`, by whatever name or link.
std::optional<host::Error> would_overwrite(
    const std::string& output, const std::vector<std::string>& inputs);

/// One line on standard error.
void complain(const host::Error& error);
void complain(std::string_view line);

/// A progress bar on standard error, where that is a terminal; else nothing.
class ProgressBar {
 public:
  /// `quiet`: show nothing in any case.
  explicit ProgressBar(std::string title, bool quiet = false);
  ~ProgressBar();
  ProgressBar(const ProgressBar&) = delete;
  ProgressBar& operator=(const ProgressBar&) = delete;

  /// `share` of the work done, 0..1.
  void show(double share);

 private:
  std::string title_;
  bool active_ = false;
  int shown_ = -1;
};

}  // namespace telltale::tool
