// The report's JSON against contract section 8: every key there, none else,
// each of its type; what can't be had is null or absent, never 0.
#include "report/json_writer.hpp"

#include <nlohmann/json.hpp>
#include <regex>
#include <set>
#include <string>
#include <vector>

#include "catch.hpp"
#include "judge.hpp"
#include "made_log.hpp"
#include "session/session.hpp"
#include "temp_file.hpp"

namespace telltale::test {
namespace {

using Json = nlohmann::json;

Json json_of(const std::string& csv, const Plate& plate = {}) {
  const TempFile file(csv);
  host::SessionOptions options;
  options.profile = stated_by(plate);
  const auto report = host::examine(file.path(), options);
  REQUIRE(static_cast<bool>(report));
  fmt::memory_buffer out;
  host::write_json(*report, out);
  return Json::parse(std::string(out.data(), out.size()));
}
/// Much in one log: two kinds of trouble, load steps, alarms, a state column.
MadeRun eventful() {
  MadeRun run;
  run.rest(120.0).crank(12.0).rest(20.0).start().warm();
  for (const double load : {60.0, 20.0, 90.0, 0.0, 60.0}) run.load(load, 240.0);
  run.stop().with_state();
  run.fault(Channel::battery_voltage, during(900.0, 400.0, to(12.1)));
  for (int i = 0; i < 4; ++i) run.alarm(0, 900.0 + 10 * i, 905.0 + 10 * i);
  return run;
}

void check_keys(const Json& object, const std::set<std::string>& wanted,
                const std::set<std::string>& more = {}) {
  REQUIRE(object.is_object());
  std::set<std::string> keys;
  for (const auto& [key, value] : object.items()) keys.insert(key);
  for (const std::string& key : wanted) {
    INFO(key);
    CHECK(keys.count(key) == 1);
    keys.erase(key);
  }
  for (const std::string& key : more) keys.erase(key);
  CHECK(keys == std::set<std::string>{});
}
bool is_time(const Json& value, bool elapsed = false) {
  static const std::regex kUtc(
      R"(\d{4}-\d\d-\d\dT\d\d:\d\d:\d\d(\.\d{1,3})?Z)");
  static const std::regex kElapsed(R"(t\+\d+\.\d+)");
  return value.is_string() &&
         std::regex_match(value.get<std::string>(), elapsed ? kElapsed : kUtc);
}
bool is_one_of(const Json& value, const std::set<std::string>& words) {
  return value.is_string() && words.count(value.get<std::string>()) == 1;
}
bool is_number_or_null(const Json& value) {
  return value.is_null() || value.is_number();
}
std::set<std::string> channels() {
  std::set<std::string> out;
  for (const ChannelInfo& info : kChannels) out.emplace(info.slug);
  return out;
}
std::set<std::string> checks() {
  return {all_slugs().begin(), all_slugs().end()};
}

void check_finding(const Json& f, bool elapsed) {
  check_keys(f, {"check", "severity", "channel", "from", "to", "value", "limit",
                 "unit", "summary", "evidence", "causes", "next", "caution",
                 "source", "caused_by", "first_out"});
  CHECK(is_one_of(f["check"], checks()));
  CHECK(is_one_of(f["severity"], {"note", "attention", "urgent"}));
  CHECK((f["channel"].is_null() || is_one_of(f["channel"], channels())));
  CHECK(is_time(f["from"], elapsed));
  CHECK(is_time(f["to"], elapsed));
  CHECK(f["value"].is_number());
  CHECK(is_number_or_null(f["limit"]));
  CHECK(f["unit"].is_string());
  for (const char* key : {"summary", "caution", "source"}) {
    CHECK(f[key].is_string());
  }
  CHECK(f["summary"].get<std::string>().find('{') == std::string::npos);
  CHECK(!f["source"].get<std::string>().empty());
  for (const char* key : {"evidence", "causes", "next"}) {
    REQUIRE(f[key].is_array());
    for (const Json& line : f[key]) {
      CHECK(line.is_string());
      CHECK(line != "");
    }
  }
  CHECK(!f["causes"].empty());
  CHECK(!f["next"].empty());
  CHECK((f["caused_by"].is_null() || is_one_of(f["caused_by"], checks())));
  CHECK((f["first_out"].is_null() || is_one_of(f["first_out"], channels())));
}
void check_run(const Json& r, bool elapsed) {
  check_keys(r,
             {"unit", "run", "start", "end", "begins", "ends", "seconds",
              "attempts", "crank_seconds", "phases", "channels", "load_steps",
              "acceptance", "verdict", "findings", "not_checked"});
  CHECK(r["unit"].is_string());
  CHECK(r["run"].is_number_integer());
  CHECK(is_time(r["start"], elapsed));
  CHECK(is_time(r["end"], elapsed));
  CHECK(is_one_of(r["begins"], {"start", "log"}));
  CHECK(is_one_of(r["ends"], {"stop", "abrupt", "log"}));
  CHECK(r["seconds"].is_number());
  CHECK((r["attempts"].is_null() || r["attempts"].is_number_integer()));
  CHECK(is_number_or_null(r["crank_seconds"]));
  for (const Json& phase : r["phases"]) {
    check_keys(phase, {"phase", "from", "to"});
    CHECK(is_one_of(phase["phase"],
                    {"stopped", "cranking", "running-up", "no-load", "on-load",
                     "cool-down", "stopping"}));
    CHECK(is_time(phase["from"], elapsed));
    CHECK(is_time(phase["to"], elapsed));
  }
  for (const auto& [name, figures] : r["channels"].items()) {
    CHECK(channels().count(name) == 1);
    check_keys(figures, {"unit", "samples", "mean", "sd", "min", "p05",
                         "median", "p95", "max"});
    CHECK(figures["samples"].get<int>() > 0);
    CHECK(figures["min"] <= figures["p05"]);
    CHECK(figures["p05"] <= figures["median"]);
    CHECK(figures["median"] <= figures["p95"]);
    CHECK(figures["p95"] <= figures["max"]);
    CHECK(figures["sd"] >= 0.0);
  }
  for (const Json& step : r["load_steps"]) {
    check_keys(step, {"at", "from_pct", "to_pct", "frequency_dip_pct",
                      "recovery_s", "observable"});
    CHECK(is_time(step["at"], elapsed));
    CHECK(is_number_or_null(step["frequency_dip_pct"]));
    CHECK(is_number_or_null(step["recovery_s"]));
    CHECK(step["observable"].is_boolean());
  }
  if (!r["acceptance"].is_null()) {
    check_keys(r["acceptance"], {"class", "quantities"}, {"interval_s"});
    for (const Json& q : r["acceptance"]["quantities"]) {
      check_keys(q, {"quantity", "value", "unit", "class", "bound"});
      CHECK(is_one_of(q["bound"], {"exact", "lower", "not observable"}));
      CHECK(is_number_or_null(q["value"]));
    }
  }
  CHECK(is_one_of(r["verdict"], {"healthy", "note", "attention", "urgent"}));
  for (const Json& f : r["findings"]) check_finding(f, elapsed);
  for (const Json& item : r["not_checked"]) {
    check_keys(item, {"check", "why"});
    CHECK(is_one_of(item["check"], checks()));
    CHECK(item["why"].get<std::string>().size() > 5);
  }
}
void check_report(const Json& report, bool elapsed = false) {
  check_keys(report, {"schema", "log", "runs"});
  CHECK(report["schema"] == "telltale.report/1");
  const Json& log = report["log"];
  check_keys(
      log,
      {"file", "bytes", "rows", "rejected", "first", "last", "interval_s",
       "delimiter", "encoding", "time_format", "columns", "notes", "findings"},
      // Said besides: what settles a doubtful reading.
      {"decimal", "header_line", "duplicates", "sorted", "spread"});
  CHECK(log["bytes"].get<int>() > 0);
  CHECK(log["rows"].get<int>() > 0);
  CHECK(log["rejected"].is_number_integer());
  CHECK(is_time(log["first"], elapsed));
  CHECK(is_time(log["last"], elapsed));
  std::set<std::string> names = channels();
  names.insert({"time", "date", "time_of_day", "unit", "state", "alarm"});
  for (const Json& column : log["columns"]) {
    check_keys(column, {"header", "channel", "unit", "why"});
    CHECK((column["channel"].is_null() || is_one_of(column["channel"], names)));
    CHECK(!column["why"].get<std::string>().empty());
    static const std::set<std::string> kUnits = {
        "degC", "degF", "K", "kPa", "bar", "psi", "MPa",   "mbar", "inHg", "V",
        "mV",   "kV",   "A", "mA",  "kW",  "W",   "hp",    "kVA",  "%",    "1",
        "Hz",   "rpm",  "h", "min", "s",   "L/h", "gal/h", "L",    "gal"};
    CHECK((column["unit"].is_null() || is_one_of(column["unit"], kUnits)));
  }
  for (const Json& f : log["findings"]) check_finding(f, elapsed);
  for (const Json& run : report["runs"]) check_run(run, elapsed);
}

TEST_CASE("json: the shape of the contract") {
  const Json report = json_of(csv_of(eventful()));
  check_report(report);
  REQUIRE(report["runs"].size() == 1);
  const Json& run = report["runs"][0];
  CHECK(run["begins"] == "start");
  CHECK(run["ends"] == "stop");
  CHECK(run["attempts"] == 2);
  CHECK(run["verdict"] == "urgent");
  CHECK(!run["load_steps"].empty());
  CHECK(!run["findings"].empty());
  CHECK(report["log"]["interval_s"] == 1.0);
}

TEST_CASE("json: the same text with one thread and with more") {
  host::HealthReport report;
  for (const int count : {1, 16, 17, 33, 64, 70}) {
    while (static_cast<int>(report.runs.size()) < count) {
      host::RunReport& run = report.runs.emplace_back();
      run.run = static_cast<int>(report.runs.size());
      run.start.logged = run.end.logged = TimeMs{60'000LL * run.run};
    }
    const auto text = [&](host::Threads threads) {
      std::string out;
      host::write_json(
          report, [&](std::string_view piece) { out += piece; }, threads);
      return out;
    };
    INFO(count << " runs");
    const std::string one = text(host::Threads::one);
    CHECK(text(host::Threads::more) == one);
    const Json parsed = Json::parse(one);
    REQUIRE(parsed["runs"].size() == report.runs.size());
    CHECK(parsed["runs"].back()["run"] == count);
  }
}

TEST_CASE("json: elapsed time counts from the start") {
  LogSpelling spelling;
  spelling.elapsed = true;
  const Json report = json_of(csv_of(eventful(), spelling));
  check_report(report, true);
  CHECK(report["runs"][0]["start"] == "t+120.0");
}

TEST_CASE("json: canonical units, whatever the log is written in") {
  LogSpelling us;
  us.us_units = true;
  const Json report = json_of(csv_of(eventful(), us));
  check_report(report);
  const Json& channels = report["runs"][0]["channels"];
  CHECK(channels["oil_pressure"]["unit"] == "kPa");
  CHECK(channels["oil_pressure"]["median"].get<double>() > 200.0);
  CHECK(channels["coolant_temperature"]["unit"] == "degC");
  CHECK(channels["coolant_temperature"]["max"].get<double>() < 90.0);
  for (const Json& column : report["log"]["columns"]) {
    if (column["channel"] == "oil_pressure") CHECK(column["unit"] == "psi");
  }
}

TEST_CASE("json: what can't be had is null or absent, never 0") {
  MadeRun run;
  run.load(40.0, 900.0).every(10.0).without(Channel::coolant_temperature);
  const Json report = json_of(csv_of(run));
  check_report(report);
  const Json& r = report["runs"][0];
  CHECK(r["begins"] == "log");
  CHECK(r["ends"] == "log");
  CHECK(r["attempts"].is_null());
  CHECK(r["crank_seconds"].is_null());
  CHECK(r["acceptance"].is_null());
  CHECK(r["channels"].count("coolant_temperature") == 0);
  CHECK(r["channels"].count("power_factor") == 0);
}

TEST_CASE("json: attempts that never start are a run of 0 seconds") {
  MadeRun run;
  run.rest(60.0);
  for (int i = 0; i < 5; ++i) run.crank(4.0).rest(20.0);
  run.rest(900.0);
  const Json report = json_of(csv_of(run));
  check_report(report);
  REQUIRE(report["runs"].size() == 1);
  CHECK(report["runs"][0]["seconds"] == 0.0);
  CHECK(report["runs"][0]["attempts"] == 5);
}

TEST_CASE("json: hostile names come out as harmless text") {
  LogSpelling spelling;
  spelling.unit = "\"a\x1b[31m\xff\"\"b\"";
  const Json report = json_of(csv_of(usual_run(5.0), spelling));
  check_report(report);
  for (const char c : report["runs"][0]["unit"].get<std::string>()) {
    CHECK(static_cast<unsigned char>(c) >= 0x20);
  }
}

}  // namespace
}  // namespace telltale::test
