// Reads a log's text in one go, for tests.
#pragma once

#include <string>
#include <string_view>
#include <vector>

#include "catch.hpp"
#include "ingest/log.hpp"
#include "temp_file.hpp"

namespace telltale::test {

struct ReadLog {
  host::LogLayout layout;
  std::vector<host::Row> rows;
  host::RowTally tally;
  std::vector<std::string> notes;  // the layout's and the reader's
  std::vector<std::string> units;
  std::vector<std::string> alarms;

  [[nodiscard]] double value(std::size_t row, Channel channel) const {
    return rows.at(row).value[index_of(channel)];
  }
  [[nodiscard]] const host::ColumnUse& column(std::size_t i) const {
    return layout.columns.at(i);
  }
  [[nodiscard]] bool noted(std::string_view part) const {
    for (const std::string& note : notes) {
      if (note.find(part) != std::string::npos) return true;
    }
    return false;
  }
};

/// Fails the test where the log can't be opened.
inline ReadLog read_log(std::string_view text,
                        const host::ReadOptions& options = {}) {
  const TempFile file(text);
  auto log = host::Log::open(file.path(), options);
  if (!log) FAIL(log.error().line());
  auto reader = log->rows();
  if (!reader) FAIL(reader.error().line());
  ReadLog read;
  read.layout = log->layout();
  host::Row row;
  while (reader->next(row)) read.rows.push_back(row);
  read.tally = reader->tally();
  read.notes = read.layout.notes;
  for (const std::string& note : reader->notes()) read.notes.push_back(note);
  read.units = reader->unit_names();
  read.alarms = reader->alarm_names();
  const host::RowTally& t = read.tally;
  CHECK(t.accepted + t.rejected + t.skipped == t.lines);
  return read;
}

/// The reason why a log can't be opened; fails the test where it can.
inline host::Error open_error(std::string_view text,
                              const host::ReadOptions& options = {}) {
  const TempFile file(text);
  auto log = host::Log::open(file.path(), options);
  if (log) FAIL("the log was opened");
  return log.error();
}

}  // namespace telltale::test
