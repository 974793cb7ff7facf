// From what a command line names to the logs to be read.
#pragma once

#include <string>
#include <vector>

#include "support/result.hpp"

namespace telltale::host::season {

/// Files, folders (searched to the bottom) and patterns (*, ?, [...]) as files,
/// each once, in order of their names. In folders only what looks like a log is
/// taken: .csv, .tsv, .txt, .log, .dat and digests, also packed with .gz;
/// hidden files are not. Errors: what is not there, a folder or pattern
/// without any.
Result<std::vector<std::string>> find_logs(
    const std::vector<std::string>& named);

}  // namespace telltale::host::season
