// Event records decoded by the real program.
#include <fstream>
#include <nlohmann/json.hpp>
#include <sstream>

#include "catch.hpp"
#include "child.hpp"
#include "telltale/advise/event_record.hpp"
#include "temp_file.hpp"

namespace telltale::test {
namespace {

std::string records() {
  Finding<float> finding;
  finding.check = 31;  // charging-low
  finding.channel = Channel::battery_voltage;
  finding.severity = Severity::urgent;
  finding.unit = Unit::V;
  finding.run = 3;
  finding.value = 12.25F;
  finding.limit = 12.5F;
  finding.since = TimeMs{1'780'300'800'000};  // 2026-06-01T08:00:00Z
  finding.until = TimeMs{1'780'300'920'000};
  std::string out;
  for (const bool wall_clock : {true, false}) {
    if (!wall_clock) finding.since = finding.until = TimeMs{5000};
    const auto bytes = encode_event(finding, wall_clock ? 7 : 8, wall_clock);
    out.append(bytes.begin(), bytes.end());
  }
  out.append(32, '\xFF');  // flash not yet written
  return out;
}

std::string run(const std::vector<std::string>& options,
                const std::string& bytes, int& code) {
  const TempFile file(bytes);
  std::vector<std::string> words = {TELLTALE_PROGRAM, "events", file.path()};
  words.insert(words.end(), options.begin(), options.end());
  Child child(words);
  return child.wait_for_end(code);
}

TEST_CASE("records as JSON") {
  int code = -1;
  std::istringstream lines(run({"--json"}, records(), code));
  CHECK(code == 0);
  std::string line;
  REQUIRE(std::getline(lines, line));
  const auto first = nlohmann::json::parse(line);
  CHECK(first["event"] == "opened");
  CHECK(first["sequence"] == 7);
  CHECK(first["check"] == "charging-low");
  CHECK(first["severity"] == "urgent");
  CHECK(first["channel"] == "battery_voltage");
  CHECK(first["from"] == "2026-06-01T08:00:00Z");
  CHECK(first["to"] == "2026-06-01T08:02:00Z");
  CHECK(first["value"] == 12.25);
  CHECK(first["limit"] == 12.5);
  CHECK(first["unit"] == "V");
  CHECK(first["run"] == 3);
  REQUIRE(std::getline(lines, line));
  CHECK(nlohmann::json::parse(line)["from"] == "t+5.0");
  CHECK(!std::getline(lines, line));
}

TEST_CASE("records in words") {
  int code = -1;
  const std::string text = run({}, records(), code);
  CHECK(code == 0);
  CHECK(text.find("urgent") != std::string::npos);
  CHECK(text.find("charging-low") != std::string::npos);
  CHECK(text.find("12.25 V (limit 12.50 V)") != std::string::npos);
  CHECK(text.find("for 2 min") != std::string::npos);
}

TEST_CASE("a file without records is an error, a damaged one tells the rest") {
  int code = 0;
  CHECK(run({}, "no records in here, but a text", code).empty());
  CHECK(code == 2);
  std::string bytes = records();
  bytes[40] ^= 1;
  const std::string text = run({"--json"}, bytes, code);
  CHECK(code == 0);
  CHECK(std::count(text.begin(), text.end(), '\n') == 1);
}

}  // namespace
}  // namespace telltale::test
