// The same rows, written in many ways, read the same.
#include <cmath>
#include <string>
#include <vector>

#include "catch.hpp"
#include "dialects.hpp"
#include "ingest/log.hpp"
#include "log_writer.hpp"
#include "temp_file.hpp"

namespace telltale::host {
namespace {

using test::Dialect;
using test::TimeStyle;

TEST_CASE("one set of rows reads the same from every dialect") {
  const std::vector<Row> expected = test::made_up_rows(360);
  const std::vector<Dialect> all = test::dialects();
  REQUIRE(all.size() >= 40);
  for (const Dialect& dialect : all) {
    DYNAMIC_SECTION(dialect.name) {
      const std::string bytes = test::write_log(expected, dialect);
      const test::TempFile file(bytes);
      auto log = Log::open(file.path(), {});
      if (!log) FAIL(log.error().line());
      for (const ColumnUse& use : log->layout().columns) {
        UNSCOPED_INFO(use.header << " -> " << use.name << ": " << use.why);
      }
      for (const std::string& note : log->layout().notes) {
        UNSCOPED_INFO("note: " << note);
      }
      auto reader = log->rows();
      REQUIRE(reader);
      std::vector<Row> got;
      Row row;
      while (reader->next(row)) got.push_back(row);
      REQUIRE(got.size() == expected.size());
      CHECK(log->layout().interval_s == Approx(1.0).epsilon(0.01));
      const std::int64_t origin =
          test::is_elapsed(dialect) ? expected.front().logged.ms : 0;
      for (std::size_t i = 0; i < got.size(); ++i) {
        const Row& want = expected[i];
        INFO("row " << i << ", line " << got[i].line);
        // Eight digits of a day are a millisecond or so.
        REQUIRE(std::abs(got[i].logged.ms + origin - want.logged.ms) <=
                (dialect.time == TimeStyle::serial ? 1 : 0));
        REQUIRE(got[i].present == want.present);
        REQUIRE(got[i].blank == want.blank);
        for (std::size_t c = 0; c < kChannelCount; ++c) {
          const auto channel = static_cast<Channel>(c);
          if ((want.present & bit(channel)) == 0) continue;
          INFO(info_of(channel).slug);
          REQUIRE(std::abs(got[i].value[c] - want.value[c]) <=
                  test::tolerance_of(channel, dialect));
        }
        REQUIRE(got[i].state == want.state);
        AlarmMask alarms = 0;
        const auto& names = reader->alarm_names();
        for (std::size_t b = 0; b < names.size(); ++b) {
          if ((got[i].alarms >> b & 1U) == 0) continue;
          if (names[b] == "Low oil pressure") alarms |= 1U;
          if (names[b] == "High coolant temperature") alarms |= 2U;
        }
        REQUIRE(alarms == want.alarms);
      }
      const RowTally& tally = reader->tally();
      CHECK(tally.accepted + tally.rejected + tally.skipped == tally.lines);
      CHECK(tally.rejected == 0);
    }
  }
}

}  // namespace
}  // namespace telltale::host
