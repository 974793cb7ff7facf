// A sample of a log: its beginning and stretches from all over it, enough to
// understand it without reading all of it.
#pragma once

#include <cstddef>
#include <cstdint>
#include <string>
#include <vector>

#include "ingest/byte_store.hpp"
#include "ingest/csv_source.hpp"
#include "ingest/text_encoding.hpp"

namespace telltale::host {

struct SampleRecord {
  std::string text;
  std::uint64_t line = 0;  // 0: not known (a stretch from further on)
  bool follows = true;     // comes right after the one before
  Record shape;            // flags only; begin and end are not valid
};

struct Sample {
  std::vector<SampleRecord> records;
  std::size_t head_records = 0;  // of these, how many are the log's beginning
  bool whole = false;            // the log has no more than this
  bool any_nul = false;
  bool any_line_feed = false;
};

/// Limits that keep a sample small, whatever the file.
inline constexpr std::size_t kHeadRecords = 1500;
inline constexpr std::size_t kHeadBytes = std::size_t{1} << 20;
inline constexpr std::size_t kStretches = 24;
inline constexpr std::size_t kStretchRecords = 40;
inline constexpr std::size_t kStretchBytes = std::size_t{32} << 10;
inline constexpr std::size_t kTailRecords = 2000;  // within 16 kB

Sample take_sample(const ByteStore& store, EncodingGuess encoding);

/// A sample record's cells, unquoted, as strings of their own.
std::vector<std::string> cells_of(const SampleRecord& record, char delimiter);

}  // namespace telltale::host
