// Logs with the columns of several sets side by side.
#include "ingest/side_by_side.hpp"

#include <regex>
#include <string>
#include <vector>

#include "catch.hpp"
#include "ingest/log.hpp"
#include "read_log.hpp"
#include "temp_file.hpp"

namespace telltale::host {
namespace {

std::vector<std::string> sets_named(const std::vector<std::string>& headers) {
  std::vector<Column> columns(headers.size());
  for (std::size_t i = 0; i < headers.size(); ++i) {
    columns[i].header = parse_header(headers[i]);
  }
  name_sets(columns);
  std::vector<std::string> sets;
  for (const Column& column : columns) sets.push_back(column.plan.set);
  return sets;
}

using Sets = std::vector<std::string>;

TEST_CASE("sets are told by their places and numbers") {
  CHECK(sets_named({"Time", "Port RPM", "Stbd RPM", "Sea Temp"}) ==
        Sets{"", "Port", "Starboard", ""});
  CHECK(sets_named({"Gen 1 Hz", "Gen 2 Hz", "Gen 2 kW"}) ==
        Sets{"Set 1", "Set 2", "Set 2"});
  CHECK(sets_named({"G1 Oil psi", "G2 Oil psi"}) == Sets{"Set 1", "Set 2"});
  CHECK(sets_named({"genset.0.rpm", "genset.1.rpm"}) == Sets{"Set 0", "Set 1"});
  CHECK(sets_named({"DG1 Freq", "DG2 Freq", "DG3 Freq"}) ==
        Sets{"Set 1", "Set 2", "Set 3"});
}

TEST_CASE("numbers of other things name no sets") {
  for (const Sets& headers :
       {Sets{"Temp 1", "Temp 2"}, Sets{"Battery 1 V", "Battery 2 V"},
        Sets{"Winding 1 Volts", "Winding 2 Volts"}, Sets{"L1 V", "L2 V"},
        Sets{"Gen 1 RPM", "Gen 1 Hz"},  // one set
        Sets{"Port RPM", "Stbd Rudder"}}) {
    INFO(headers.front());
    CHECK(sets_named(headers) == Sets(headers.size()));
  }
}

std::string two_sets() {
  std::string text =
      "Time,Port RPM,Port Oil (psi),Port Alarm,Stbd RPM,Stbd Oil (psi),"
      "Stbd Alarm,Sea Temp (C)\n";
  for (int s = 0; s < 60; ++s) {
    const std::string second = (s < 10 ? "0" : "") + std::to_string(s);
    text += "2026-06-01 08:00:" + second + ",1800,45," +
            (s >= 30 ? "Low fuel" : "") + ",1500,50," + (s >= 40 ? "Hot" : "") +
            ",14\n";
  }
  return text + "2026-06-01 08:01:00,1800\n";  // a cell count gone wrong
}

TEST_CASE("each set has rows of its own, and what is common is in all") {
  const test::TempFile file(two_sets());
  const auto log = Log::open(file.path(), {});
  REQUIRE(log);
  auto reader = log->rows();
  REQUIRE(reader);
  Row row;
  std::vector<int> rows(2);
  AlarmMask alarms[2] = {0, 0};
  while (reader->next(row)) {
    REQUIRE(row.unit < 2);
    const bool port = reader->unit_names()[row.unit] == "Port";
    ++rows[row.unit];
    alarms[row.unit] |= row.alarms;
    CHECK(row.value[index_of(Channel::engine_speed)] == (port ? 1800 : 1500));
    CHECK(row.value[index_of(Channel::oil_pressure)] ==
          Approx(port ? 310.264 : 344.738));
    CHECK(row.value[index_of(Channel::raw_water_temperature)] == 14);
  }
  CHECK(rows == std::vector<int>{60, 60});
  CHECK(reader->unit_names() == Sets{"Port", "Starboard"});
  // Alarms keep their names apart.
  REQUIRE(reader->alarm_names() == Sets{"Low fuel", "Hot"});
  const bool port_first = reader->unit_names()[0] == "Port";
  CHECK(alarms[port_first ? 0 : 1] == 1);
  CHECK(alarms[port_first ? 1 : 0] == 2);
  const RowTally& tally = reader->tally();
  CHECK(tally.lines == 62);
  CHECK(tally.accepted == 60);
  CHECK(tally.rejected == 1);
  CHECK(tally.skipped == 1);
}

TEST_CASE("a set whose columns a map leaves out has no rows") {
  const test::TempFile map(
      "[[column]]\nheader = \"Stbd RPM\"\nchannel = \"ignore\"\n"
      "[[column]]\nheader = \"Stbd Oil (psi)\"\nchannel = \"ignore\"\n"
      "[[column]]\nheader = \"Stbd Alarm\"\nchannel = \"ignore\"\n");
  ReadOptions options;
  options.map_path = map.path();
  const auto read = test::read_log(two_sets(), options);
  CHECK(read.rows.size() == 60);
  CHECK(read.units == Sets{""});
  CHECK(read.alarms == Sets{"Low fuel"});
  CHECK(read.value(0, Channel::engine_speed) == 1800);
  CHECK(read.value(0, Channel::raw_water_temperature) == 14);
  CHECK_FALSE(read.noted("side by side"));
}

std::string without_comments(const std::string& toml) {
  return std::regex_replace(toml, std::regex("  #[^\\n]*"), "");
}

TEST_CASE("a map keeps the sets apart") {
  const test::TempFile file(two_sets());
  const auto log = Log::open(file.path(), {});
  REQUIRE(log);
  const test::TempFile map(log->map());
  ReadOptions options;
  options.map_path = map.path();
  const auto again = Log::open(file.path(), options);
  REQUIRE(again);
  CHECK(without_comments(again->map()) ==
        without_comments(test::slurp(map.path())));
}

}  // namespace
}  // namespace telltale::host
