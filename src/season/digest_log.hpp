// From a log on disk to its digest.
#pragma once

#include <functional>
#include <optional>
#include <string>

#include "season/run_digest.hpp"
#include "session/session.hpp"
#include "support/result.hpp"

namespace telltale::host::season {

/// Hooks the recorders of a digest into a session's options, examines the log
/// once and hands back both its health report and its digest.
struct Digested {
  HealthReport report;
  LogDigest digest;
};

/// `sha256`: the log's content identity where the caller knows it already,
/// else it is worked out here. Thread-safe: shares nothing.
Result<Digested> digest_log(const std::string& path, SessionOptions options,
                            const std::string& sha256 = "");

}  // namespace telltale::host::season
