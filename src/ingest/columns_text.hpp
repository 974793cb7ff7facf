// What was understood of a log, as a table for people.
#pragma once

#include <string>
#include <vector>

#include "ingest/log.hpp"

namespace telltale::host {

/// "commas between cells, decimal point, utf-8, header on line 1"
std::string dialect_words(const LogLayout& layout);
/// "YYYY-MM-DD hh:mm:ss, no zone, a row every 5 s"
std::string time_words(const LogLayout& layout);

/// The table that `telltale columns` prints: at most 80 characters a line,
/// columns in use first. `notes` are the reader's, beside the layout's own.
std::string columns_table(const LogLayout& layout, const RowTally& tally,
                          const std::vector<std::string>& notes = {});

}  // namespace telltale::host
