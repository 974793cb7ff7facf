// Maps: what a person says about a log's columns (contract section 3).
#pragma once

#include <cstdint>
#include <optional>
#include <string>
#include <vector>

#include "ingest/column_plan.hpp"
#include "ingest/log.hpp"
#include "ingest/text_encoding.hpp"
#include "support/result.hpp"
#include "support/units.hpp"

namespace telltale::host {

/// One [[column]] of a map. `index` counts from 1; 0: found by its header.
struct MapColumn {
  std::size_t index = 0;
  std::string header;
  Role role = Role::ignored;  // ignored, unit, state, alarm or channel
  bool has_role = false;      // the map names a channel, or "ignore"
  Channel channel = Channel::none;
  std::string set;  // of several side by side; empty: all
  std::optional<LogUnit> unit;
  double scale = 1.0;
  double offset = 0.0;
  std::vector<std::string> missing;
  std::uint32_t line = 0;  // in the map file, for messages
};

struct MapTime {
  std::size_t column = 0;  // 0: not given
  std::size_t date = 0;
  std::size_t time_of_day = 0;
  std::optional<StampStyle> style;  // of column, or of date
  std::optional<StampStyle> time_of_day_style;
  std::optional<std::int32_t> utc_offset_min;
  std::uint32_t line = 0;
};

struct LogMap {
  std::string path;
  std::optional<char> delimiter;
  std::optional<char> decimal;
  std::optional<std::uint64_t> header_line;  // 0: no header
  std::optional<Encoding> encoding;
  std::optional<MapTime> time;
  std::vector<MapColumn> columns;
};

/// Reads a map. An unknown key, a wrong type, an impossible value is an Error
/// whose `where` is "FILE:LINE".
Result<LogMap> read_map(const std::string& path);
/// The same from text; `name` stands for the file.
Result<LogMap> parse_map(std::string_view text, const std::string& name);

/// A map that says all that is known of a log: read back with it, the log has
/// the same layout and nothing is guessed.
std::string write_map(const LogLayout& layout, const DecodePlan& plan);

}  // namespace telltale::host
