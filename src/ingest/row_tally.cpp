// Counting of lines.
#include "ingest/row_tally.hpp"

#include <algorithm>

namespace telltale::host {

std::string_view text_of(LineFate fate) {
  switch (fate) {
    case LineFate::accepted:
      return "read";
    case LineFate::blank:
      return "blank line";
    case LineFate::preamble:
      return "text above the header";
    case LineFate::header:
      return "header";
    case LineFate::unit_row:
      return "row of units";
    case LineFate::comment:
      return "comment";
    case LineFate::duplicate:
      return "repeated row";
    case LineFate::not_used:
      return "reading of another kind";
    case LineFate::wrong_count:
      return "wrong number of cells";
    case LineFate::bad_time:
      return "time can't be read";
    case LineFate::zero_bytes:
      return "holds zero bytes";
    case LineFate::too_long:
      return "line too long";
    case LineFate::unclosed_quote:
      return "quotation mark never closed";
    case LineFate::cut_off:
      return "last line cut off";
    case LineFate::too_late:
      return "out of order by more than 10 rows and 60 s";
    case LineFate::too_many_units:
      return "more units than can be kept apart";
    case LineFate::columns_changed:
      return "follows a header with other columns";
  }
  return "";
}

void RowTally::add(LineFate fate, std::uint64_t line,
                   std::uint64_t lines_taken) {
  lines += lines_taken;
  if (fate == LineFate::accepted) {
    accepted += lines_taken;
    return;
  }
  (is_rejected(fate) ? rejected : skipped) += lines_taken;
  Reason& reason = by_fate[static_cast<std::size_t>(fate)];
  reason.fate = fate;
  if (reason.count == 0 || line < reason.first_line) reason.first_line = line;
  reason.count += lines_taken;
}

void RowTally::change(LineFate to, std::uint64_t line,
                      std::uint64_t lines_taken) {
  accepted -= lines_taken;
  lines -= lines_taken;
  add(to, line, lines_taken);
}

std::vector<RowTally::Reason> RowTally::reasons() const {
  std::vector<Reason> found;
  for (const Reason& reason : by_fate) {
    if (reason.count > 0) found.push_back(reason);
  }
  std::stable_sort(found.begin(), found.end(),
                   [](const Reason& a, const Reason& b) {
                     if (is_rejected(a.fate) != is_rejected(b.fate)) {
                       return is_rejected(a.fate);
                     }
                     return a.count > b.count;
                   });
  return found;
}

}  // namespace telltale::host
