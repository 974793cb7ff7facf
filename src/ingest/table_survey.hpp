// The first half of understanding a log: its bytes as a table with names.
#pragma once

#include <optional>
#include <string>
#include <vector>

#include "ingest/byte_store.hpp"
#include "ingest/dialect.hpp"
#include "ingest/header_place.hpp"
#include "ingest/map_file.hpp"
#include "ingest/sample.hpp"
#include "ingest/text_encoding.hpp"
#include "ingest/understand.hpp"
#include "support/result.hpp"

namespace telltale::host {

/// A log's sample as a table. Not to be copied: rows point into the sample.
struct TableSurvey {
  EncodingGuess encoding;
  Sample sample;
  char delimiter = ',';
  DecimalMark decimal;
  Table table;
  HeaderPlace place;
  std::vector<std::size_t> rows;  // of the table: readings
  std::vector<Column> columns;    // headers and statistics, no meaning yet

  TableSurvey() = default;
  TableSurvey(TableSurvey&&) = default;
  TableSurvey& operator=(TableSurvey&&) = default;
};

/// Encoding, delimiter, decimal mark, header, units, columns. `map` may be
/// null; nothing it says is guessed.
Result<TableSurvey> survey_table(const ByteStore& store, const LogMap* map);

/// A map to edit for a log that has no header: what is known of it, and each
/// column with an example. An Error where the log is not even a table.
Result<std::string> draft_map(const ByteStore& store);

}  // namespace telltale::host
