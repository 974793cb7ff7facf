// The books of a reader: what became of each line, and where rejects go.
#pragma once

#include <cstdint>
#include <optional>
#include <string_view>

#include "ingest/csv_source.hpp"
#include "ingest/reject_file.hpp"
#include "ingest/row_tally.hpp"

namespace telltale::host {

class LineLedger {
 public:
  /// Books a record. `text` is its text as it was before any unquoting.
  void book(LineFate fate, const Record& record, std::string_view text,
            std::string_view detail = "");
  /// A booked line turns out otherwise.
  void rebook(LineFate fate, std::uint64_t line, std::uint32_t lines,
              std::string_view text);

  /// The rest of a too long line, and the end of what was begun.
  void more(std::string_view text);
  void end_record();
  /// Ends the reject file; says so if not all could be written.
  void finish();

  void set_rejects(RejectFile file) { rejects_.emplace(std::move(file)); }
  [[nodiscard]] bool keeps_rejects() const { return rejects_.has_value(); }
  [[nodiscard]] bool rejects_failed() const { return failed_; }

  RowTally tally;

 private:
  std::optional<RejectFile> rejects_;
  bool failed_ = false;
};

}  // namespace telltale::host
