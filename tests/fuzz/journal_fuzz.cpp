// libFuzzer target over the alarm analysis: a journal understood, read,
// examined and written in every format. The first byte of the input chooses
// options; the rest is the journal. What must hold of every report is checked;
// a broken promise aborts.
#include <fmt/format.h>

#include <cstddef>
#include <cstdint>
#include <cstdlib>
#include <nlohmann/json.hpp>
#include <string>
#include <string_view>

#include "alarms/csv_report.hpp"
#include "alarms/examine_alarms.hpp"
#include "alarms/html_section.hpp"
#include "alarms/json_report.hpp"
#include "alarms/text_report.hpp"
#include "ingest/columns_text.hpp"

namespace {

using namespace telltale::host;

void require(bool holds) {
  if (!holds) std::abort();
}

void check_figures(const AlarmReport& report) {
  std::uint64_t raises = 0;
  for (const AlarmFigures& f : report.alarms) {
    raises += f.raises;
    // What can't be had is NaN, and less than nothing is nothing.
    require(!(f.standing_s < 0.0) && !(f.longest_s > f.standing_s + 1e-6));
    require(!(f.share < 0.0) && !(f.share > 1.0));
    require(!(f.chatter_index < 0.0));
    if (f.cure && f.cure->proposal) {
      require(*f.cure->proposal < f.cure->outcomes.size());
    }
  }
  require(raises == report.raises);
  const RowTally& tally = report.tally;
  require(tally.accepted + tally.rejected + tally.skipped == tally.lines);
}

void write_all(const AlarmReport& report) {
  (void)columns_table(report.layout, report.tally, reading_notes(report));
  const auto written = [](auto&& write) {
    fmt::memory_buffer out;
    write(out);
    return fmt::to_string(out);
  };
  (void)written([&](auto& out) { write_alarm_text(report, {}, out); });
  (void)written([&](auto& out) { write_alarm_csv(report, out); });
  (void)written(
      [&](auto& out) { write_alarm_page(report, UnitSystem::us, out); });
  const std::string json =
      written([&](auto& out) { write_alarm_json(report, out); });
  require(nlohmann::json::accept(json));
}

}  // namespace

extern "C" int LLVMFuzzerTestOneInput(const std::uint8_t* data,
                                      std::size_t size) {
  if (size < 2) return 0;
  const unsigned choice = data[0];
  AlarmOptions options;
  if ((choice & 1U) != 0) options.read.date_order = DateOrder::dmy;
  if ((choice & 2U) != 0) options.read.utc_offset_min = 90;
  if ((choice & 4U) != 0) options.unit = "A1";
  const auto report = examine_alarms(
      ByteStore::of_memory(
          std::string(reinterpret_cast<const char*>(data) + 1, size - 1),
          "fuzz"),
      options);
  if (!report) {
    require(!report.error().what.empty());
    return 0;
  }
  check_figures(*report);
  write_all(*report);
  return 0;
}
