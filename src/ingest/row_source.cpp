// Choosing a row source.
#include "ingest/row_source.hpp"

#include <fmt/format.h>

#include "ingest/merge_source.hpp"
#include "ingest/tall_source.hpp"
#include "ingest/wide_source.hpp"

namespace telltale::host {

std::unique_ptr<RowSource> make_row_source(
    std::shared_ptr<const ByteStore> store, const Survey& survey,
    RowChoice wanted, LineLedger& ledger) {
  switch (survey.plan.shape) {
    case TableShape::tall:
      return std::make_unique<TallSource>(std::move(store), survey,
                                          wanted.channels, ledger);
    case TableShape::tall_by_name:
    case TableShape::pairs:
    case TableShape::side_by_side:
      return std::make_unique<MergeSource>(std::move(store), survey,
                                           wanted.channels, ledger);
    case TableShape::wide:
      break;
  }
  return std::make_unique<WideSource>(std::move(store), survey, wanted, ledger);
}

std::vector<std::string> notes_of(const std::vector<OddCells>& odd) {
  std::vector<std::string> notes;
  notes.reserve(odd.size());
  for (const OddCells& cells : odd) {
    notes.push_back(fmt::format(
        "\"{}\": {} {} no number, the first on line {}; {} as "
        "missing",
        cells.header, cells.count, cells.count == 1 ? "cell is" : "cells are",
        cells.first_line, cells.count == 1 ? "it counts" : "they count"));
  }
  return notes;
}

}  // namespace telltale::host
