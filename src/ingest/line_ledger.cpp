// Booking of lines.
#include "ingest/line_ledger.hpp"

namespace telltale::host {

void LineLedger::book(LineFate fate, const Record& record,
                      std::string_view text, std::string_view detail) {
  tally.add(fate, record.line, record.lines);
  if (!rejects_ || !is_rejected(fate)) return;
  rejects_->begin(fate, record.line, detail);
  rejects_->more(text);
  if (!record.too_long) rejects_->end();
}

void LineLedger::rebook(LineFate fate, std::uint64_t line, std::uint32_t lines,
                        std::string_view text) {
  tally.change(fate, line, lines);
  if (rejects_ && is_rejected(fate)) rejects_->write(fate, line, "", text);
}

void LineLedger::more(std::string_view text) {
  if (rejects_ && rejects_->is_open()) rejects_->more(text);
}

void LineLedger::end_record() {
  if (rejects_ && rejects_->is_open()) rejects_->end();
}

void LineLedger::finish() {
  if (rejects_ && !rejects_->flush()) failed_ = true;
}

}  // namespace telltale::host
