// Records with their books: what all row sources do alike.
#pragma once

#include <algorithm>
#include <cstdint>
#include <functional>
#include <memory>
#include <optional>
#include <string>
#include <string_view>

#include "ingest/csv_source.hpp"
#include "ingest/line_ledger.hpp"
#include "ingest/reverse_cursor.hpp"
#include "ingest/survey.hpp"

namespace telltale::host {

/// Reads records and books those that give nothing.
class RecordReader {
 public:
  RecordReader(const std::shared_ptr<const ByteStore>& store,
               const Survey& survey, LineLedger& ledger)
      : source_(cursor_for(store, survey.plan), survey.encoding,
                survey.plan.delimiter),
        stored_bytes_(store->size()),
        newest_first_(survey.plan.newest_first),
        ledger_(&ledger) {
    source_.on_rest_of_long_line(
        [this](std::string_view piece) { ledger_->more(piece); });
  }
  RecordReader(const RecordReader&) = delete;
  RecordReader& operator=(const RecordReader&) = delete;

  bool next(Record& record) {
    const bool more = source_.next(record);
    ledger_->end_record();
    if (!more) {
      ledger_->finish();
      return false;
    }
    if (newest_first_ && record.line > newest_first_->head_lines) {
      record.line = newest_first_->lines + newest_first_->head_lines + 1 -
                    record.line - (record.lines - 1);
    }
    text_ = record.text();
    if (record.quoting == Quoting::regular) {
      kept_ = text_;  // unquoting changes the record
      text_ = kept_;
    }
    return true;
  }

  /// Passes over a line of readings, without booking it; see CsvSource.
  bool skip_plain_line() { return source_.skip_plain_line(); }

  /// Books the last record; a record of several lines with a wrong count gives
  /// all but its first line back, as a stray quotation mark has joined them.
  LineFate book(LineFate fate, Record& record, std::string_view detail) {
    if (fate == LineFate::wrong_count && record.lines > 1) {
      source_.keep_first_line_only(record);
      text_ = record.text();
      fate = LineFate::unclosed_quote;
      detail = "";
    }
    ledger_->book(fate, record, text_, detail);
    return fate;
  }

  /// The last record's text as it is in the log.
  [[nodiscard]] std::string_view text() const { return text_; }
  [[nodiscard]] const std::string& trouble() const { return source_.trouble(); }

  /// The share of the log that is read, 0 to 1.
  [[nodiscard]] double progress() const {
    if (stored_bytes_ == 0) return 1;
    return std::min(1.0, static_cast<double>(source_.stored_bytes_read()) /
                             static_cast<double>(stored_bytes_));
  }

 private:
  static std::unique_ptr<ByteCursor> cursor_for(
      const std::shared_ptr<const ByteStore>& store, const DecodePlan& plan) {
    if (!plan.newest_first) return store->cursor();
    return std::make_unique<ReverseCursor>(store,
                                           plan.newest_first->head_bytes);
  }

  CsvSource source_;
  std::uint64_t stored_bytes_;
  std::optional<NewestFirst> newest_first_;
  LineLedger* ledger_;
  std::string_view text_;
  std::string kept_;
};

}  // namespace telltale::host
