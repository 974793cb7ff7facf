// What the cells of one column look like, over a sample.
#pragma once

#include <cstddef>
#include <cstdint>
#include <map>
#include <string>
#include <vector>

#include "ingest/dialect.hpp"
#include "ingest/unit_text.hpp"

namespace telltale::host {

struct ColumnStats {
  std::size_t cells = 0;
  std::size_t missing = 0;
  std::size_t numbers = 0;     // with or without a unit behind
  std::size_t texts = 0;       // stamps included
  std::vector<double> values;  // numbers in order of the sample
  std::vector<double> sorted;  // the same, sorted
  bool integers = true;        // no number has a fraction
  bool rising = true;          // never falls from row to row
  int most_decimals = 0;       // digits after the mark
  int least_decimals = 99;
  std::size_t least_length = 0;  // of the shortest number's text
  std::map<std::string, std::size_t>
      words;  // distinct texts, at most kMaxWords
  std::map<std::string, std::size_t> suffixes;  // units behind numbers

  static constexpr std::size_t kMaxWords = 200;

  [[nodiscard]] bool mostly_numbers() const {
    return numbers > 0 && numbers * 10 >= (numbers + texts) * 9;
  }
  /// The p-quantile of the numbers, p in 0..1. REQUIRES: numbers > 0
  [[nodiscard]] double quantile(double p) const;
};

/// Statistics of column `index` over the table's data rows.
ColumnStats stats_of(const Table& table, const std::vector<std::size_t>& rows,
                     std::size_t index, DecimalMark decimal);

}  // namespace telltale::host
