// Choosing among orders of day, month and year.
#include "ingest/date_order.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <cstdlib>
#include <optional>

#include "ingest/csv_source.hpp"
#include "ingest/missing.hpp"
#include "support/civil_time.hpp"
#include "support/safe_text.hpp"

namespace telltale::host {
namespace {

std::optional<DateOrder> order_of(const std::string& pattern) {
  const std::size_t day = pattern.find("%d");
  const std::size_t month = std::min(pattern.find("%m"), pattern.find("%b"));
  const std::size_t year = std::min(pattern.find("%Y"), pattern.find("%y"));
  if (day == std::string::npos || month == std::string::npos) {
    return std::nullopt;
  }
  if (year < day && year < month) return DateOrder::ymd;
  return day < month ? DateOrder::dmy : DateOrder::mdy;
}

std::string_view words_for(DateOrder order) {
  switch (order) {
    case DateOrder::dmy:
      return "day first";
    case DateOrder::mdy:
      return "month first";
    case DateOrder::ymd:
      return "year first";
  }
  return "";
}

struct Contender {
  StampStyle style;
  StampReader reader;
  std::uint64_t reads = 0;
  std::uint64_t leaps = 0;      // steps of 20 days and more, either way
  std::uint64_t midnights = 0;  // time runs on into the next day
  std::int64_t last_ms = 0;
  bool any = false;
};

void follow(Contender& contender, std::int64_t ms) {
  if (contender.any) {
    const std::int64_t step = ms - contender.last_ms;
    const bool next_day =
        split_days(ms).days == split_days(contender.last_ms).days + 1;
    contender.midnights += next_day && step > 0 && step <= kMsPerHour;
    contender.leaps += std::abs(step) >= 20 * kMsPerDay;
  }
  contender.last_ms = ms;
  contender.any = true;
}

}  // namespace

Result<DateOrderChoice> choose_date_order(const ByteStore& store,
                                          EncodingGuess encoding,
                                          const StampPlace& place,
                                          const std::vector<StampStyle>& styles,
                                          std::optional<DateOrder> order) {
  if (order) {
    for (const StampStyle& style : styles) {
      if (order_of(style.pattern) == *order) {
        return DateOrderChoice{style, "as --date-order says"};
      }
    }
    if (styles.size() == 1) return DateOrderChoice{styles.front(), ""};
    return Error{fmt::format("no date in it is written {}", words_for(*order)),
                 store.name(), "leave --date-order out, or give another"};
  }
  if (styles.size() == 1) return DateOrderChoice{styles.front(), ""};
  std::vector<Contender> contenders;
  for (const StampStyle& style : styles) {
    if (auto reader = StampReader::of(style, '.')) {
      contenders.push_back({style, *std::move(reader)});
    }
  }
  CsvSource source(store.cursor(), encoding, place.delimiter);
  Record record;
  std::vector<Cell> cells;
  auto clock = StampReader::of(place.clock, '.');
  std::string example;
  while (source.next(record)) {
    if (record.too_long || record.has_nul) continue;
    cut_cells(record, place.delimiter, cells);
    if (cells.size() < place.width) continue;
    unquote_cells(record, cells);
    const Cell cell = cells[place.column];
    if (is_missing_word(cell)) continue;
    std::int64_t of_day = 0;
    bool zone = false;
    if (place.clock_column &&
        (!clock || !clock->read(cells[*place.clock_column], of_day, zone))) {
      continue;
    }
    for (Contender& contender : contenders) {
      std::int64_t ms = 0;
      if (!contender.reader.read(cell, ms, zone)) continue;
      ms += of_day;
      if (contender.reads++ == 0 && example.empty()) example = cell;
      follow(contender, ms);
    }
  }
  // Every stamp that any of them reads must be read.
  std::uint64_t most = 0;
  for (const Contender& c : contenders) most = std::max(most, c.reads);
  std::erase_if(contenders, [&](const Contender& c) { return c.reads < most; });
  if (contenders.size() > 1) {
    // Where time runs on over midnight in one order, it leaps in the others.
    std::uint64_t fewest = ~std::uint64_t{0};
    for (const Contender& c : contenders) fewest = std::min(fewest, c.leaps);
    const bool tells = std::any_of(
        contenders.begin(), contenders.end(), [&](const Contender& c) {
          return c.leaps == fewest && c.midnights > 0;
        });
    if (tells) {
      std::erase_if(contenders,
                    [&](const Contender& c) { return c.leaps > fewest; });
    }
  }
  // All the same day whatever the order (05/05/2026).
  if (contenders.size() > 1) {
    const auto same = [&](const Contender& c) {
      return c.last_ms == contenders.front().last_ms && c.leaps == 0;
    };
    if (std::all_of(contenders.begin(), contenders.end(), same)) {
      contenders.resize(1);
    }
  }
  // A year of two digits in front is rare where / or . stands between.
  if (contenders.size() > 1) {
    const bool hyphens = styles.front().pattern.find('-') != std::string::npos;
    if (!hyphens) {
      std::erase_if(contenders, [](const Contender& c) {
        return order_of(c.style.pattern) == DateOrder::ymd;
      });
    }
  }
  if (contenders.size() > 1) {
    // Dots: written day first wherever they are written.
    for (const Contender& c : contenders) {
      if (c.style.pattern.find("%d.%m.") != std::string::npos) {
        return DateOrderChoice{c.style, "dots: day first"};
      }
    }
    return Error{
        fmt::format("dates such as \"{}\" could be day first or month first",
                    printable(example, 40)),
        store.name(), "say which: --date-order dmy or --date-order mdy"};
  }
  const auto chosen = order_of(contenders.front().style.pattern);
  return DateOrderChoice{
      contenders.front().style,
      chosen
          ? fmt::format("{}, as the dates themselves show", words_for(*chosen))
          : ""};
}

}  // namespace telltale::host
