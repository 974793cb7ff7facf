// The HTML report: one file that asks for nothing, runs nothing but its own
// script, and shows text from a log as text.
#include "report/html/html_writer.hpp"

#include <string>
#include <vector>

#include "made_page.hpp"
#include "report/html/embedded.hpp"

namespace telltale::test {
namespace {

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

}  // namespace

TEST_CASE("html: verdict, findings, run, reading, not checked, in this order") {
  const std::string page = page_of({csv_of(troubled())});
  std::size_t last = 0;
  for (const char* part : {">Verdict<", "Findings, gravest", "class=\"run\"",
                           "How the log was", "What was not checked"}) {
    const std::size_t at = page.find(part);
    INFO(part);
    REQUIRE(at != std::string::npos);
    CHECK(at > last);
    last = at;
  }
  CHECK(page.find("oil-pressure-low") < page.find("<code>long-crank"));
}

TEST_CASE("html: every finding has its picture, and the run its channels") {
  const std::string page = page_of({csv_of(troubled())});
  const std::size_t findings = count(page, "<article class=\"finding");
  REQUIRE(findings >= 4);
  CHECK(count(page, "<div class=\"pictures\"><figure") == findings);
  CHECK(count(page, "class=\"channel\" data-track=") >= 8);
  CHECK(page.find("Oil pressure against temperature") != std::string::npos);
  CHECK(page.find("Frequency against load") != std::string::npos);
  CHECK(page.find("class=\"limit\"") != std::string::npos);
}

TEST_CASE("html: every link inside leads somewhere, every id is there once") {
  const std::string page =
      without_script(page_of({csv_of(troubled()), csv_of(usual_run(10.0))}));
  for (std::size_t at = page.find("href=\"#"); at != std::string::npos;
       at = page.find("href=\"#", at + 1)) {
    const std::size_t from = at + 7;
    const std::string id = page.substr(from, page.find('"', from) - from);
    INFO(id);
    CHECK(count(page, " id=\"" + id + "\"") == 1);
  }
  CHECK(page.find("class=\"index\"") != std::string::npos);
}

TEST_CASE("html: nothing to fetch, nothing inline beyond what is hashed") {
  const std::string page = without_script(page_of({csv_of(troubled())}));
  CHECK(page.find("default-src 'none'") != std::string::npos);
  CHECK(page.find("unsafe-inline") == std::string::npos);
  CHECK(page.find(std::string(host::embedded::script_hash())) !=
        std::string::npos);
  for (const char* never : {" src=", "<link", "@import", "url(", "style=\"",
                            "onclick", "onload=", "<iframe"}) {
    INFO(never);
    CHECK(page.find(never) == std::string::npos);
  }
}

TEST_CASE("html: markup in a log stays text") {
  std::string log = csv_of(troubled());
  const std::size_t end = log.find('\n');
  const std::string evil =
      "</script><script>alert(1)</script><img src=x onerror=alert(2)>";
  std::string hostile = log.substr(0, end) + ",\"" + evil + "\"\n";
  for (std::size_t at = end + 1; at < log.size();) {
    const std::size_t next = log.find('\n', at);
    hostile += log.substr(at, next - at) + ",1\n";
    at = next + 1;
  }
  const std::string page = page_of({hostile});
  CHECK(page.find("<script>alert") == std::string::npos);
  CHECK(page.find("<img") == std::string::npos);
  CHECK(page.find("&lt;script&gt;alert(1)") != std::string::npos);
  // Data for the script, then the script: two elements and no more.
  CHECK(count(page, "</script>") == 2);
}

TEST_CASE("html: shows the units asked for") {
  CHECK(page_of({csv_of(troubled())}, host::UnitSystem::us)
            .find("<span>psi</span>") != std::string::npos);
  CHECK(page_of({csv_of(troubled())}, host::UnitSystem::metric)
            .find("<span>kPa</span>") != std::string::npos);
}

TEST_CASE("html: the alarms that stood have their lanes, by name") {
  MadeRun run = troubled();
  run.alarm(0, 900.0, 960.0).alarm(1, 950.0, 951.0);
  LogSpelling spelling;
  spelling.alarm = "Coolant <high>";
  const std::string page = without_script(page_of({csv_of(run, spelling)}));
  const std::string lanes =
      between(page, "<figcaption>Alarms of the controller", "</figure>");
  CHECK(count(lanes, "class=\"stands\"") == 2);
  CHECK(lanes.find("Coolant &lt;high&gt;") != std::string::npos);
  CHECK(page.find("<section id=\"l1-alarms\">") != std::string::npos);
}

TEST_CASE("html: units of the core's texts are printed as people write them") {
  MadeRun run;
  run.rest(60.0).start().warm().load(60.0, 600.0).stop();
  run.fault(Channel::coolant_temperature, during(500.0, 200.0, to(108.0)));
  const std::string page = without_script(page_of({csv_of(run)}));
  const std::string finding =
      between(page, "<article class=\"finding", "coolant-high");
  CHECK(finding.find("98 to 105 °C") != std::string::npos);
  CHECK(finding.find("degC") == std::string::npos);
}

}  // namespace telltale::test
