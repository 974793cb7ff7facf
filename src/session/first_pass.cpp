#include "session/first_pass.hpp"

#include <algorithm>
#include <cmath>
#include <cstdint>
#include <utility>

#include "ingest/read_ahead.hpp"

namespace telltale::host {
namespace {

constexpr std::uint64_t kLong = 8U << 20;  // bytes

/// What a long log tells of the set, a row in about ten seconds tells too: a
/// minute's mean is then made of half a dozen readings.
std::uint32_t rows_to_one(const LogLayout& layout) {
  constexpr double kSpacing = 10.0;  // seconds
  if (layout.bytes < kLong || !(layout.interval_s > 0)) return 1;
  const double rows = std::round(kSpacing / layout.interval_s);
  return static_cast<std::uint32_t>(std::clamp(rows, 1.0, 64.0));
}

}  // namespace

Result<std::vector<Inference>> first_pass(const Log& log, Threads threads) {
  Result<LogReader> reader =
      log.rows(kInferenceChannels, rows_to_one(log.layout()));
  if (!reader) return reader.error();
  ReadAhead rows(std::move(*reader),
                 log.layout().bytes < kLong ? Threads::one : threads);
  std::vector<Inference> units;
  while (const Row* row = rows.next()) {
    if (row->unit >= units.size()) units.resize(row->unit + 1U);
    units[row->unit].add(*row);
  }
  return units;
}

}  // namespace telltale::host
