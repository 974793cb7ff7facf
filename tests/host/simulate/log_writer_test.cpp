#include "simulate/log_writer.hpp"

#include <sstream>
#include <string>
#include <vector>

#include "catch.hpp"

namespace telltale::host::sim {
namespace {

Scenario small() {
  Scenario scenario;
  SensorSpec oil;
  oil.channel = Channel::oil_pressure;
  oil.unit = LogUnit::psi;
  oil.resolution = 0.5;
  SensorSpec coolant;
  coolant.channel = Channel::coolant_temperature;
  coolant.unit = LogUnit::degF;
  coolant.resolution = 1.0;
  SensorSpec volts;
  volts.channel = Channel::battery_voltage;
  volts.unit = LogUnit::V;
  volts.resolution = 0.05;
  scenario.sensors = {oil, coolant, volts};
  return scenario;
}

Sample sample() {
  Sample s;
  s.stamp = TimeMs{1780300800000};
  s.state = EngineState::loaded;
  s.present = 7;
  s.steps = {80, -4, 285};  // 40 psi, -4 degF, 14.25 V
  return s;
}

std::string log_of(const Scenario& scenario, std::vector<Sample> rows) {
  std::string out;
  LogWriter writer(scenario, rows.front().stamp, [&out](std::string_view b) {
    out += b;
    return true;
  });
  for (const Sample& row : rows) writer.row(row, scenario.format.unit_column);
  CHECK(writer.finish());
  return out;
}

TEST_CASE("the plain dialect") {
  CHECK(log_of(small(), {sample()}) ==
        "Time,Oil Pressure (psi),Coolant Temperature (°F),Battery Volts "
        "(V),State,Alarms\n"
        "2026-06-01 08:00:00,40.0,-4,14.25,On load,\n");
}

TEST_CASE("semicolon, decimal comma, CRLF, unit row and preamble") {
  Scenario scenario = small();
  scenario.format.delimiter = ';';
  scenario.format.decimal = ',';
  scenario.format.line_end = "\r\n";
  scenario.format.unit_row = true;
  scenario.format.preamble = {"Panel log", ""};
  scenario.format.time = TimeStyle::day_first;
  scenario.state_column = scenario.alarm_column = false;
  CHECK(log_of(scenario, {sample()}) ==
        "Panel log\r\n\r\n"
        "Time;Oil Pressure;Coolant Temperature;Battery Volts\r\n"
        ";psi;°F;V\r\n"
        "01.06.2026 08:00:00;40,0;-4;14,25\r\n");
}

TEST_CASE("units in cells, quoted headers, a unit column, two time columns") {
  Scenario scenario = small();
  scenario.format.units_in_cells = true;
  scenario.format.quoted_header = true;
  scenario.format.header = HeaderStyle::snake;
  scenario.format.unit_column = "GS1";
  scenario.format.time = TimeStyle::two_columns;
  scenario.state_column = scenario.alarm_column = false;
  CHECK(log_of(scenario, {sample()}) ==
        "\"date\",\"time\",\"unit\",\"oil_pressure_psi\","
        "\"coolant_temperature_degf\",\"battery_voltage_v\"\n"
        "2026-06-01,08:00:00,GS1,40.0 psi,-4 °F,14.25 V\n");
}

TEST_CASE("missing readings are spelled as asked, by code too") {
  Scenario scenario = small();
  scenario.state_column = scenario.alarm_column = false;
  Sample gap = sample();
  gap.present = 0;
  const auto last_line = [&] {
    const std::string log = log_of(scenario, {gap});
    const std::size_t begin = log.rfind('\n', log.size() - 2) + 1;
    return log.substr(begin, log.size() - begin - 1);
  };
  CHECK(last_line() == "2026-06-01 08:00:00,,,");
  scenario.format.missing = "N/A";
  CHECK(last_line() == "2026-06-01 08:00:00,N/A,N/A,N/A");
  // 1020 kPa are 147.94 psi, 215 degC are 419 degF.
  scenario.format.missing = "bus";
  CHECK(last_line() == "2026-06-01 08:00:00,148.0,419,3276.75");
}

TEST_CASE("alarms stand together, quoted where the delimiter needs it") {
  Scenario scenario = small();
  Sample alarmed = sample();
  alarmed.alarms = 0b101;
  CHECK(log_of(scenario, {alarmed})
            .find(",Low oil pressure; High coolant temperature\n") !=
        std::string::npos);
  scenario.format.delimiter = ';';
  CHECK(log_of(scenario, {alarmed})
            .find(";\"Low oil pressure; High coolant temperature\"\n") !=
        std::string::npos);
}

TEST_CASE("encodings: byte-order mark, Latin-1, UTF-16 both ways") {
  Scenario scenario = small();
  const std::string plain = log_of(scenario, {sample()});
  scenario.format.encoding = Encoding::utf8_mark;
  CHECK(log_of(scenario, {sample()}) == "\xEF\xBB\xBF" + plain);
  scenario.format.encoding = Encoding::latin1;
  const std::string latin = log_of(scenario, {sample()});
  CHECK(latin.size() == plain.size() - 1);
  CHECK(latin.find("(\xB0"
                   "F)") != std::string::npos);
  scenario.format.encoding = Encoding::utf16_le;
  const std::string little = log_of(scenario, {sample()});
  CHECK(little.substr(0, 6) == std::string("\xFF\xFET\0i\0", 6));
  CHECK(little.size() == 2 * latin.size() + 2);
  CHECK(little.find(std::string("\xB0\0F\0", 4)) != std::string::npos);
  scenario.format.encoding = Encoding::utf16_be;
  CHECK(log_of(scenario, {sample()}).substr(0, 4) ==
        std::string("\xFE\xFF\0T", 4));
}

TEST_CASE("repeated headers and a last line cut off") {
  Scenario scenario = small();
  scenario.format.repeat_header_rows = 2;
  const std::string log =
      log_of(scenario, {sample(), sample(), sample(), sample(), sample()});
  int headers = 0;
  for (std::size_t at = log.find("Time,"); at != std::string::npos;
       at = log.find("Time,", at + 1)) {
    ++headers;
  }
  CHECK(headers == 3);
  scenario = small();
  scenario.format.cut_last_line = true;
  CHECK(log_of(scenario, {sample(), sample()}).back() != '\n');
}

TEST_CASE("resolutions are written with the decimals they need") {
  Scenario scenario = small();
  scenario.sensors.resize(1);
  scenario.state_column = scenario.alarm_column = false;
  const auto cell = [&scenario](double resolution, std::int64_t steps) {
    scenario.sensors[0].resolution = resolution;
    Sample row = sample();
    row.present = 1;
    row.steps[0] = steps;
    const std::string log = log_of(scenario, {row});
    const std::size_t begin = log.rfind(',') + 1;
    return log.substr(begin, log.size() - begin - 1);
  };
  CHECK(cell(1.0, 41) == "41");
  CHECK(cell(4.0, 41) == "164");
  CHECK(cell(0.1, 5) == "0.5");
  CHECK(cell(0.05, -1) == "-0.05");
  CHECK(cell(0.125, 3) == "0.375");
  CHECK(cell(0.01, 100000) == "1000.00");
}

}  // namespace
}  // namespace telltale::host::sim
