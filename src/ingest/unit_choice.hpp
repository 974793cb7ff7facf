// Settles the unit of a channel's column from header, cells and values.
#pragma once

#include <optional>
#include <string>

#include "ingest/column_stats.hpp"
#include "ingest/header_name.hpp"
#include "ingest/unit_text.hpp"
#include "telltale/acquire/channel.hpp"

namespace telltale::host {

/// What the log's other columns say about units.
struct UnitHints {
  LogUnit temperature = LogUnit::none;  // the one unit of other temperatures
  bool mixed_temperatures = false;
  bool us = false;      // psi, degF or gallons elsewhere
  bool metric = false;  // bar, kPa, degC or litres elsewhere
};

struct UnitChoice {
  std::optional<UnitText> unit;  // none: can't be decided
  std::string why;               // for ColumnUse::why
  std::string note;              // for LogLayout::notes; empty: none
};

/// The unit to read the column in. A unit in the header or behind the readings
/// counts unless no engine can have such readings in it; then the one unit that
/// fits, if it is one, with a note. Without any, the one unit in which the
/// readings are usual for the channel, or the one the other columns suggest.
UnitChoice choose_unit(Channel channel, const HeaderName& header,
                       const ColumnStats& stats, const UnitHints& hints);

}  // namespace telltale::host
