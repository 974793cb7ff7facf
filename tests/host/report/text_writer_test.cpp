// The text report: at most 80 columns, verdict first, nothing that a terminal
// obeys, colour never the only carrier of meaning.
#include "report/text_writer.hpp"

#include <string>
#include <vector>

#include "catch.hpp"
#include "made_log.hpp"
#include "report/page.hpp"
#include "session/session.hpp"
#include "temp_file.hpp"

namespace telltale::test {
namespace {

std::string text_of(const std::string& log, const host::TextStyle& style = {}) {
  const TempFile file(log);
  host::SessionOptions options;
  options.profile = stated_by(Plate{});
  const auto report = host::examine(file.path(), options);
  REQUIRE(static_cast<bool>(report));
  fmt::memory_buffer out;
  host::write_text(*report, style, out);
  return {out.data(), out.size()};
}
MadeRun troubled() {
  MadeRun run;
  run.rest(120.0).crank(12.0).rest(20.0).start().warm();
  for (const double load : {60.0, 20.0, 90.0, 0.0, 60.0}) run.load(load, 240.0);
  run.stop();
  run.fault(Channel::battery_voltage, during(900.0, 400.0, to(12.1)))
      .fault(Channel::coolant_temperature, creeping(800.0, 400.0, 30.0))
      .fault(Channel::oil_pressure, during(1100.0, 100.0, to(70.0)));
  return run;
}
/// The text without colour sequences.
std::string plain(const std::string& text) {
  std::string out;
  for (std::size_t i = 0; i < text.size(); ++i) {
    if (text[i] == '\x1b') {
      i = text.find('m', i);
      REQUIRE(i != std::string::npos);
    } else {
      out += text[i];
    }
  }
  return out;
}

TEST_CASE("text: readable at 80 columns") {
  for (const bool us : {false, true}) {
    LogSpelling spelling;
    spelling.us_units = us;
    for (const std::string& line :
         lines_of(text_of(csv_of(troubled(), spelling)))) {
      INFO(line);
      CHECK(host::columns_of(line) <= 80);
    }
  }
}

TEST_CASE("text: no line ends in blanks") {
  for (const std::string& line : lines_of(text_of(csv_of(troubled())))) {
    INFO(line);
    CHECK((line.empty() || line.back() != ' '));
  }
}

TEST_CASE("text: the verdict stands before the findings, urgent ones first") {
  const std::string text = text_of(csv_of(troubled()));
  const std::size_t verdict = text.find("URGENT");
  const std::size_t oil = text.find("[oil-pressure-low]");
  const std::size_t crank = text.find("[long-crank]");
  REQUIRE(verdict != std::string::npos);
  REQUIRE(oil != std::string::npos);
  REQUIRE(crank != std::string::npos);
  CHECK(verdict < oil);
  CHECK(oil < crank);
  CHECK(text_of(csv_of(usual_run(10.0))).find("healthy") != std::string::npos);
}

TEST_CASE("text: colour adds nothing that the words do not say") {
  host::TextStyle colour;
  colour.colour = true;
  const std::string log = csv_of(troubled());
  const std::string coloured = text_of(log, colour);
  CHECK(coloured.find('\x1b') != std::string::npos);
  // The file's name differs from run to run of this test.
  const auto body = [](const std::string& text) {
    return text.substr(text.find('\n'));
  };
  CHECK(body(plain(coloured)).size() == body(text_of(log)).size());
  CHECK(text_of(log).find('\x1b') == std::string::npos);
}

TEST_CASE("text: --units changes the figures") {
  LogSpelling us;
  us.us_units = true;
  const std::string log = csv_of(troubled(), us);
  const std::string logged = text_of(log);
  // 70 kPa are 10.15 psi.
  CHECK(logged.find("10.2 psi") != std::string::npos);
  CHECK(logged.find("°F") != std::string::npos);
  CHECK(logged.find("70 kPa") == std::string::npos);
  host::TextStyle metric;
  metric.units = host::UnitSystem::metric;
  const std::string changed = text_of(log, metric);
  CHECK(changed.find("70 kPa") != std::string::npos);
  CHECK(changed.find("10.2 psi") == std::string::npos);
  CHECK(changed.find("°C") != std::string::npos);
}

TEST_CASE("text: nothing that a terminal obeys gets through") {
  LogSpelling spelling;
  spelling.unit = "\"evil \x1b]0;x\x07\x9b 31m\r\nname\"";
  std::string log = csv_of(usual_run(5.0), spelling);
  log.replace(log.find("oil_temperature"), 15, "odd \x1b[2J\x08 head");
  for (const char c : text_of(log)) {
    const auto byte = static_cast<unsigned char>(c);
    CHECK((byte >= 0x20 || c == '\n'));
    CHECK(byte != 0x7f);
  }
}

}  // namespace
}  // namespace telltale::test
