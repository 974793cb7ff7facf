// Writes lines that could not be read to a file of their own (--rejects).
#pragma once

#include <cstdint>
#include <cstdio>
#include <memory>
#include <string>
#include <string_view>

#include "ingest/row_tally.hpp"
#include "ingest/text_encoding.hpp"
#include "support/result.hpp"

namespace telltale::host {

/// Each rejected record becomes "# line 41: wrong number of cells" and, on the
/// next line, its bytes as they are in the log (of a UTF-16 log, in UTF-8).
class RejectFile {
 public:
  /// Makes or empties the file.
  static Result<RejectFile> open(const std::string& path, Encoding encoding);

  void write(LineFate fate, std::uint64_t line, std::string_view detail,
             std::string_view text);

  /// A record in pieces: begin, more as often as needed, end.
  void begin(LineFate fate, std::uint64_t line, std::string_view detail);
  void more(std::string_view text);
  void end();
  [[nodiscard]] bool is_open() const { return within_; }

  /// Writes out what is buffered; false where something could not be written.
  bool flush();

 private:
  struct Close {
    void operator()(std::FILE* file) const { std::fclose(file); }
  };

  RejectFile(std::FILE* file, Encoding encoding)
      : file_(file), encoding_(encoding) {}

  std::unique_ptr<std::FILE, Close> file_;
  Encoding encoding_;
  bool within_ = false;
};

}  // namespace telltale::host
