// Day first or month first: decided from the log, or not at all.
#pragma once

#include <cstddef>
#include <optional>
#include <string>
#include <vector>

#include "ingest/byte_store.hpp"
#include "ingest/log.hpp"
#include "ingest/stamp_reader.hpp"
#include "ingest/text_encoding.hpp"

namespace telltale::host {

/// Where the stamps are, for a pass over the whole log.
struct StampPlace {
  char delimiter = ',';
  std::size_t width = 0;   // cells of a row
  std::size_t column = 0;  // of the date, or of date and time
  /// Of a date: the time of day beside it.
  std::optional<std::size_t> clock_column;
  StampStyle clock;
};

/// One style of `styles`, which differ in the order of day, month and year
/// alone. `order` decides if given. Else the whole log is read: a style must
/// read every stamp; of several that do, the one in which time runs on over
/// midnight where in the others it leaps by weeks. (Days that merely follow
/// each other prove nothing: a set that is run once a month on the 5th gives
/// 01/05, 02/05, 03/05.) Dates with dots are day first unless that is ruled
/// out. An Error that names --date-order else.
struct DateOrderChoice {
  StampStyle style;
  std::string why;
};
Result<DateOrderChoice> choose_date_order(const ByteStore& store,
                                          EncodingGuess encoding,
                                          const StampPlace& place,
                                          const std::vector<StampStyle>& styles,
                                          std::optional<DateOrder> order);

}  // namespace telltale::host
