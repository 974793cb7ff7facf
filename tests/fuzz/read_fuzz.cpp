// libFuzzer target over the whole reading layer: sniffing, mapping, time, rows,
// views. The first byte of the input chooses options; the rest is the log. What
// must hold of every log is checked; a broken promise aborts.
#include <cmath>
#include <cstddef>
#include <cstdint>
#include <cstdlib>
#include <string>
#include <vector>

#include "ingest/byte_store.hpp"
#include "ingest/columns_text.hpp"
#include "ingest/date_order.hpp"
#include "ingest/line_ledger.hpp"
#include "ingest/log_json.hpp"
#include "ingest/log_stream.hpp"
#include "ingest/map_file.hpp"
#include "ingest/row_source.hpp"
#include "ingest/survey.hpp"
#include "ingest/table_survey.hpp"
#include "ingest/time_order.hpp"

namespace {

using namespace telltale;
using namespace telltale::host;

void require(bool holds) {
  if (!holds) std::abort();
}

// What Log::open and LogReader do, on memory.
void read_all(const std::shared_ptr<const ByteStore>& store,
              const Survey& survey, ChannelMask wanted) {
  LineLedger ledger;
  const auto source = make_row_source(store, survey, {wanted}, ledger);
  TimeOrder order(order_options_of(survey));
  std::vector<TimeMs> last(UnitNames::kMost, kNoTime);
  RawRow raw;
  Row row;
  std::uint64_t rows = 0;
  const auto drain = [&] {
    while (order.pop(row)) {
      ++rows;
      require(row.unit < last.size());
      require(row.at >= last[row.unit]);
      last[row.unit] = row.at;
      require((row.present & row.blank) == 0);
      for (std::size_t i = 0; i < kChannelCount; ++i) {
        const bool here = (row.present >> i & 1U) != 0;
        require(std::isfinite(row.value[i]) == here);
      }
      (void)format_time(row.logged, survey.layout);
    }
    for (const auto& dropped : order.take_dropped()) {
      ledger.rebook(dropped.fate, dropped.line, dropped.lines, dropped.text);
    }
  };
  while (source->next(raw)) {
    order.push(raw.row, raw.text, raw.print, raw.lines);
    drain();
  }
  order.finish();
  drain();
  const RowTally& tally = ledger.tally;
  require(tally.accepted + tally.rejected + tally.skipped == tally.lines);
  (void)columns_table(survey.layout, tally, source->notes());
  LogExtent extent;
  extent.tally = tally;
  require(!log_json(survey.layout, extent).dump().empty());
}

void fuzz_log(std::string_view bytes, const ReadOptions& options) {
  const auto store = ByteStore::of_memory(std::string(bytes), "fuzz");
  const auto survey = survey_log(*store, options, nullptr);
  (void)draft_map(*store);
  if (!survey) {
    require(!survey.error().what.empty());
    return;
  }
  read_all(store, *survey, kEveryChannel);
  // A map written from a layout is a map, and fits its log.
  const std::string text = write_map(survey->layout, survey->plan);
  const auto map = parse_map(text, "map");
  require(bool(map));
  const auto again = survey_log(*store, options, &*map);
  if (again) read_all(store, *again, bit(Channel::engine_speed));
}

void fuzz_stream(std::string_view bytes, std::size_t step) {
  auto stream = LogStream::sniff(bytes.substr(0, bytes.size() / 2), "fuzz", {});
  if (!stream) return;
  Row row;
  for (std::size_t at = bytes.size() / 2; at < bytes.size(); at += step) {
    stream->feed(bytes.substr(at, step));
    while (stream->next(row)) {
    }
  }
  stream->close();
  while (stream->next(row)) {
  }
  const RowTally& tally = stream->tally();
  require(tally.accepted + tally.rejected + tally.skipped == tally.lines);
}

}  // namespace

extern "C" int LLVMFuzzerTestOneInput(const std::uint8_t* data,
                                      std::size_t size) {
  if (size < 2) return 0;
  const unsigned choice = data[0];
  const std::string_view bytes(reinterpret_cast<const char*>(data) + 1,
                               size - 1);
  ReadOptions options;
  if ((choice & 1U) != 0) options.date_order = DateOrder::dmy;
  if ((choice & 2U) != 0) options.utc_offset_min = 90;
  switch (choice >> 2 & 3U) {
    case 0:
    case 1:
      fuzz_log(bytes, options);
      break;
    case 2:
      fuzz_stream(bytes, 1 + (choice >> 4));
      break;
    default:
      (void)parse_map(bytes, "fuzz");
  }
  return 0;
}
