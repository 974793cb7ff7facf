// One line a run as CSV: RFC 4180, as many cells as the header has, no cell
// that a spreadsheet takes for a formula.
#include "report/csv_writer.hpp"

#include <map>
#include <string>
#include <vector>

#include "catch.hpp"
#include "made_log.hpp"
#include "session/session.hpp"
#include "temp_file.hpp"

namespace telltale::test {
namespace {

std::string csv_report(const std::string& log, const Plate& plate = {}) {
  const TempFile file(log);
  host::SessionOptions options;
  options.profile = stated_by(plate);
  const auto report = host::examine(file.path(), options);
  REQUIRE(static_cast<bool>(report));
  fmt::memory_buffer out;
  host::write_csv_header(out);
  host::write_csv_runs(*report, out);
  return {out.data(), out.size()};
}
std::map<std::string, std::string> first_run(const std::string& csv) {
  const std::vector<std::string> lines = lines_of(csv);
  REQUIRE(lines.size() >= 2);
  const auto names = cells_of(lines[0]);
  const auto cells = cells_of(lines[1]);
  REQUIRE(names.size() == cells.size());
  std::map<std::string, std::string> out;
  for (std::size_t i = 0; i < names.size(); ++i) out[names[i]] = cells[i];
  CHECK(out.size() == names.size());  // no name twice
  return out;
}

TEST_CASE("csv: a line a run, every line as wide as the header") {
  MadeRun run = usual_run(10.0);
  run.rest(1200.0).start().warm().load(50.0, 300.0).stop();
  const std::string csv = csv_report(csv_of(run));
  const auto lines = lines_of(csv);
  REQUIRE(lines.size() == 3);
  for (const std::string& line : lines) {
    CHECK(cells_of(line).size() == cells_of(lines[0]).size());
  }
  // RFC 4180: lines end in CR LF.
  for (std::size_t at = csv.find('\n'); at != std::string::npos;
       at = csv.find('\n', at + 1)) {
    CHECK(csv[at - 1] == '\r');
  }
}

TEST_CASE("csv: the figures of the run") {
  MadeRun run = usual_run(20.0);
  run.fault(Channel::battery_voltage, during(900.0, 300.0, to(12.1)));
  auto cells = first_run(csv_report(csv_of(run)));
  CHECK(cells["verdict"] == "urgent");
  CHECK(cells["urgent"] == "1");
  CHECK(cells["attention"] == "0");
  CHECK(cells["findings"] == "charging-low (urgent)");
  CHECK(cells["begins"] == "start");
  CHECK(cells["ends"] == "stop");
  CHECK(cells["attempts"] == "1");
  CHECK(std::stod(cells["battery_voltage_min"]) == 12.1);
  CHECK(cells["power_factor_median"].empty());
}

TEST_CASE("csv: what can't be had is an empty cell") {
  MadeRun run;
  run.load(40.0, 900.0);
  auto cells = first_run(csv_report(csv_of(run)));
  CHECK(cells["attempts"].empty());
  CHECK(cells["crank_seconds"].empty());
  CHECK(cells["acceptance_class"].empty());
}

// OWASP: a cell that begins with = + - @, tab or CR is run by spreadsheets.
TEST_CASE("csv: names are quoted, and no formula survives") {
  for (const std::string name :
       {"=HYPERLINK(\"x\")", "+1+1", "-2+3", "@SUM(A1)", "\tX"}) {
    INFO(name);
    std::string quoted = "\"";
    for (const char c : name) quoted += c == '"' ? "\"\"" : std::string(1, c);
    LogSpelling spelling;
    spelling.unit = quoted + "\"";
    const std::string cell =
        first_run(csv_report(csv_of(usual_run(3.0), spelling)))["unit"];
    REQUIRE(!cell.empty());
    CHECK(std::string("=+-@\t\r").find(cell[0]) == std::string::npos);
  }
  LogSpelling odd;
  odd.unit = "\"Tender, \"\"no. 2\"\"\"";
  CHECK(first_run(csv_report(csv_of(usual_run(3.0), odd)))["unit"] ==
        "Tender, \"no. 2\"");
}

}  // namespace
}  // namespace telltale::test
