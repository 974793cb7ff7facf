// Digest files: digests of logs as lines of JSON, made on one machine and
// added on another. Any number of digests may follow each other in a file.
#pragma once

#include <fmt/format.h>

#include <functional>
#include <istream>
#include <optional>
#include <string>
#include <string_view>

#include "season/run_digest.hpp"
#include "support/result.hpp"

namespace telltale::host::season {

inline constexpr std::string_view kDigestSchema = "telltale.digest/1";

/// One digest: a line for the log, one for each run, one that ends it. Null
/// fields are left out.
void write_digest(const LogDigest& digest, fmt::memory_buffer& out);

/// Whether a file's first bytes are those of a digest file.
bool looks_like_digest(std::string_view first_bytes);

/// Reads a digest file, digest by digest, in bounded memory.
class DigestReader {
 public:
  /// REQUIRES: `in` outlives the reader. `name` stands for it in errors.
  DigestReader(std::istream& in, std::string name)
      : in_(&in), name_(std::move(name)) {}

  /// The next digest; nothing at the end. An Error tells of a digest that is
  /// damaged or cut off; the reader then goes on with the next one.
  std::optional<Result<LogDigest>> next();

 private:
  Error damaged(std::string what) const;

  std::istream* in_;
  std::string name_;
  std::string held_;  // the first line of the next digest, read already
  std::uint64_t line_ = 0;
};

}  // namespace telltale::host::season
