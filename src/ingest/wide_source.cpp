// One record, one row.
#include "ingest/wide_source.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <utility>

#include "ingest/duplicate_set.hpp"

namespace telltale::host {
namespace {

bool has_units(const DecodePlan& plan) {
  return std::any_of(
      plan.columns.begin(), plan.columns.end(),
      [](const ColumnPlan& column) { return column.role == Role::unit; });
}

}  // namespace

WideSource::WideSource(std::shared_ptr<const ByteStore> store,
                       const Survey& survey, RowChoice wanted,
                       LineLedger& ledger)
    : store_(std::move(store)),
      reader_(store_, survey, ledger),
      decoder_(survey.plan, wanted.channels),
      one_of_(has_units(survey.plan) ? 1 : wanted.one_of) {}

// Passes over rows so that one of `one_of_` is read in the mean. The distance
// varies by chance: a column that is filled in every tenth row only must not
// be missed for good.
void WideSource::pass_over() {
  if (one_of_ < 2) return;
  auto rows = static_cast<std::uint32_t>(chance_() % (2 * one_of_ - 1));
  while (rows > 0 && reader_.skip_plain_line()) --rows;
}

bool WideSource::next(RawRow& raw) {
  pass_over();
  Record record;
  while (reader_.next(record)) {
    raw.print = fingerprint(record.text(), 0);
    const LineFate fate = decoder_.decode(record, raw.row);
    if (fate == LineFate::accepted) {
      reader_.book(fate, record, "");
      raw.text = reader_.text();
      raw.lines = record.lines;
      return true;
    }
    std::string detail;
    if (fate == LineFate::wrong_count || fate == LineFate::cut_off) {
      detail = fmt::format("{}, not {}", decoder_.cells(), decoder_.width());
    }
    reader_.book(fate, record, detail);
  }
  return false;
}

std::vector<std::string> WideSource::notes() const {
  std::vector<std::string> notes;
  if (!reader_.trouble().empty()) notes.push_back(reader_.trouble());
  notes.insert(notes.end(), decoder_.notes().begin(), decoder_.notes().end());
  for (std::string& note : notes_of(decoder_.odd_cells())) {
    notes.push_back(std::move(note));
  }
  return notes;
}

}  // namespace telltale::host
