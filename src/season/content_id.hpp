// What makes two log files the same log: their bytes, unpacked.
#pragma once

#include <string>

#include "support/result.hpp"

namespace telltale::host::season {

/// SHA-256 of a file's bytes, decompressed where it is compressed, so that a
/// log and its packed copy are one. Errors: what can't be opened or read.
Result<std::string> content_id(const std::string& path);

}  // namespace telltale::host::season
