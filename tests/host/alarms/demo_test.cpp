// The demos of an invented yard: what a report on each must say, and that a
// cure keeps its promise.
#include <cstdlib>
#include <fstream>
#include <sstream>
#include <string>
#include <vector>

#include "alarms/alarm_clue.hpp"
#include "alarms/examine_alarms.hpp"
#include "catch.hpp"
#include "temp_file.hpp"

namespace telltale::test {
namespace {

using host::AlarmFigures;
using host::AlarmReport;

AlarmReport examined(const std::string& path) {
  auto report = host::examine_alarms(path, {});
  if (!report) FAIL(report.error().line());
  return std::move(*report);
}

const std::string kFolder = std::string(TELLTALE_DATASETS) + "/alarms/";

TEST_CASE("the journal of Lapwing Quay") {
  const AlarmReport r = examined(kFolder + "lapwing-quay.csv");
  CHECK(r.units.size() == 3);
  // The most frequent alarm is the bilge's, and the only one that chatters.
  CHECK(r.name(r.alarms.front().alarm).name == "BILGE_HIGH");
  int chattering = 0;
  for (const AlarmFigures& f : r.alarms) chattering += f.chatters();
  CHECK(chattering == 1);
  const host::Cure& cure = *r.alarms.front().cure;
  REQUIRE(cure.proposal);
  CHECK(cure.outcomes[*cure.proposal].setting.off_delay_s == 15);
  CHECK(cure.outcomes[*cure.proposal].raises == 27);  // three times a day
  // The crane: four bursts, each begun by the cooling water.
  CHECK(r.burst_count == 4);
  for (const host::Burst& burst : r.bursts) {
    CHECK(r.name(burst.members.front().alarm).name == "RAW_WATER_FLOW_LOW");
  }
  for (const AlarmFigures& f : r.alarms) {
    const std::string& name = r.name(f.alarm).name;
    if (name == "RAW_WATER_FLOW_LOW") {
      CHECK(f.part.first == 4);
      CHECK(f.part.time_to_act_s < 60);
    }
    CHECK((f.stale > 0) == (name == "REMOTE_PANEL_LOST"));
  }
}

// The proposed deadband put into the log by hand, from its readings and the
// limit of 96 degC that made it: the new log must hold what was promised.
TEST_CASE("the deadband for Dotterel removes the chatter it promised") {
  const std::string path = kFolder + "dotterel.csv";
  const AlarmReport before = examined(path);
  REQUIRE(before.alarms.size() == 1);
  const host::Cure& cure = *before.alarms.front().cure;
  CHECK(cure.basis == host::CureBasis::replay);
  REQUIRE(cure.limit);
  CHECK(cure.limit->channel == Channel::coolant_temperature);
  CHECK(cure.limit->limit == Approx(96.0).margin(0.1));
  CHECK(cure.limit->reproduced == before.alarms.front().raises);
  REQUIRE(cure.proposal);
  const host::CureOutcome& promised = cure.outcomes[*cure.proposal];
  REQUIRE(promised.setting.deadband > 0);

  std::ifstream log(path);
  std::string line;
  std::string text;
  bool on = false;
  while (std::getline(log, line)) {
    std::istringstream cells(line);
    std::string cell;
    std::vector<std::string> parts;
    while (std::getline(cells, cell, ',')) parts.push_back(cell);
    if (text.empty()) {
      text = line + "\n";
      continue;
    }
    const double reading = std::strtod(parts[3].c_str(), nullptr);
    on = reading >= (on ? 96.0 - promised.setting.deadband : 96.0);
    text += parts[0] + "," + parts[1] + "," + parts[2] + "," + parts[3] + "," +
            (on ? "High coolant temperature" : "") + "\n";
  }
  const TempFile cured(text);
  const AlarmReport after = examined(cured.path());
  CHECK(after.alarms.front().raises == promised.raises);
  CHECK_FALSE(after.alarms.front().chatters());
  CHECK(after.findings.empty());
}

TEST_CASE("an alarm's name tells its channel and side") {
  const auto clue = [](const char* name) {
    host::AlarmName alarm;
    alarm.name = name;
    return host::clue_of(alarm);
  };
  const auto is = [&](const char* name, Channel channel, bool above) {
    INFO(name);
    const auto found = clue(name);
    REQUIRE(found);
    CHECK(found->channel == channel);
    CHECK(found->above == above);
  };
  is("High coolant temperature", Channel::coolant_temperature, true);
  is("OIL_PRESS_LOW", Channel::oil_pressure, false);
  is("Low oil pressure warning", Channel::oil_pressure, false);
  is("Under frequency", Channel::frequency, false);
  is("Battery voltage low", Channel::battery_voltage, false);
  is("High exhaust temperature", Channel::exhaust_temperature, true);
  CHECK_FALSE(clue("Enclosure door"));
  CHECK_FALSE(clue("Remote panel lost"));
}

}  // namespace
}  // namespace telltale::test
