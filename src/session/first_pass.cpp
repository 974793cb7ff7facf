#include "session/first_pass.hpp"

#include <algorithm>
#include <cmath>
#include <cstdint>
#include <optional>
#include <utility>

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

std::vector<Inference> infer(LogReader& rows) {
  std::vector<Inference> units;
  Row row;
  while (rows.next(row)) {
    if (row.unit >= units.size()) units.resize(row.unit + 1U);
    units[row.unit].add(row);
  }
  return units;
}

/// Nothing where the halves can't be told apart after all.
Result<std::optional<std::vector<Inference>>> infer_in_halves(
    const Log& log, std::uint32_t of, std::uint64_t middle, Threads threads) {
  Result<LogReader> first = log.rows(kInferenceChannels, of, {0, middle});
  if (!first) return first.error();
  Result<LogReader> second =
      log.rows(kInferenceChannels, of, {middle, Stretch::kEnd});
  if (!second) return second.error();
  auto later = beside(threads, [&second] { return infer(*second); });
  std::vector<Inference> units = infer(*first);
  const std::vector<Inference> more = later.get();
  // Whatever was odd may have been a header with other columns.
  if (!first->notes().empty()) return std::optional<std::vector<Inference>>{};
  units.resize(std::max(units.size(), more.size()));
  for (std::size_t i = 0; i < more.size(); ++i) units[i].append(more[i]);
  return std::optional(std::move(units));
}

}  // namespace

Result<std::vector<Inference>> first_pass(const Log& log, Threads threads) {
  const std::uint32_t of = rows_to_one(log.layout());
  const auto middle = log.layout().bytes < kLong ? std::nullopt : log.middle();
  if (middle) {
    auto units = infer_in_halves(log, of, *middle, threads);
    if (!units) return units.error();
    if (*units) return std::move(**units);
  }
  Result<LogReader> rows = log.rows(kInferenceChannels, of);
  if (!rows) return rows.error();
  return infer(*rows);
}

}  // namespace telltale::host
