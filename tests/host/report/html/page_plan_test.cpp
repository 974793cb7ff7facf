// What a page shows when there is more than it can hold: the gravest in full,
// and never 4 MB. The yardstick is the page as it is written.
#include "report/html/page_plan.hpp"

#include "made_page.hpp"

namespace telltale::test {
namespace {

using host::Showing;

/// A report of a run with several findings, and its pictures.
host::HealthReport troubled_report(host::PictureStore& pictures) {
  MadeRun run;
  run.rest(120.0).start().warm();
  for (const double load : {60.0, 20.0, 90.0, 0.0, 60.0}) run.load(load, 240.0);
  run.stop();
  run.fault(Channel::battery_voltage, during(900.0, 400.0, to(12.1)))
      .fault(Channel::oil_pressure, during(1100.0, 100.0, to(70.0)));
  host::SessionOptions options;
  options.profile = stated_by(Plate{});
  options.pictures = &pictures;
  const TempFile file(csv_of(run));
  auto report = host::examine(file.path(), options);
  REQUIRE(static_cast<bool>(report));
  REQUIRE(report->runs.size() == 1);
  REQUIRE(report->runs[0].findings.size() >= 2);
  return std::move(*report);
}

/// The same with so many runs, one an hour.
host::HealthReport repeated(const host::HealthReport& one, int runs) {
  host::HealthReport out = one;
  for (int i = 1; i < runs; ++i) {
    out.runs.push_back(one.runs[0]);
    out.runs.back().run = i + 1;
    out.runs.back().start.logged = one.runs[0].start.logged + seconds(3600 * i);
  }
  return out;
}

}  // namespace

TEST_CASE("page plan: a page of one run is as fine as a screen can show") {
  host::PictureStore pictures;
  const host::HealthReport report = troubled_report(pictures);
  const host::PagePlan plan(std::span(&report, 1));
  CHECK(plan.detail().svg_columns == 360);
  CHECK(plan.detail().data_columns == 1200);
  CHECK(plan.of(report.runs[0]) == Showing::full);
  for (const auto& f : report.runs[0].findings) {
    CHECK(plan.of(f) == Showing::full);
  }
}

TEST_CASE("page plan: the page stays under 4 MB whatever it is about") {
  host::PictureStore pictures;
  const host::HealthReport one = troubled_report(pictures);
  for (const int runs : {1, 10, 30, 100, 1000, 4000}) {
    const host::HealthReport report = repeated(one, runs);
    fmt::memory_buffer page;
    host::write_html(std::span(&report, 1), host::UnitSystem::as_logged, page);
    INFO(runs << " runs, " << page.size() << " bytes");
    CHECK(page.size() < 4'000'000);
    // Room is made use of.
    if (runs >= 30) CHECK(page.size() > 2'000'000);
  }
}

TEST_CASE("page plan: the gravest first, of equals the latest") {
  host::PictureStore pictures;
  host::HealthReport report = repeated(troubled_report(pictures), 200);
  for (host::RunReport& run : report.runs) {
    run.verdict = Severity::attention;
    for (auto& f : run.findings) f.finding.severity = Severity::attention;
  }
  report.runs[7].verdict = Severity::urgent;
  report.runs[7].findings[0].finding.severity = Severity::urgent;
  const host::PagePlan plan(std::span(&report, 1));
  CHECK(plan.of(report.runs[7]) == Showing::full);
  CHECK(plan.of(report.runs[7].findings[0]) == Showing::full);
  CHECK(plan.of(report.runs[199]) == Showing::full);
  CHECK(plan.of(report.runs[8]) == Showing::brief);
}

TEST_CASE("page plan: runs that are well are listed while they are few") {
  host::PictureStore pictures;
  for (const int runs : {60, 61}) {
    host::HealthReport report = repeated(troubled_report(pictures), runs);
    for (host::RunReport& run : report.runs) {
      run.verdict = Severity::healthy;
      run.findings.clear();
    }
    const host::PagePlan plan(std::span(&report, 1));
    CHECK(plan.of(report.runs.back()) == Showing::full);
    CHECK(plan.of(report.runs.front()) ==
          (runs == 60 ? Showing::brief : Showing::left_out));
  }
}

TEST_CASE("page plan: what is left out is counted") {
  host::PictureStore pictures;
  const host::HealthReport report = repeated(troubled_report(pictures), 2500);
  const host::PagePlan plan(std::span(&report, 1));
  std::size_t findings = 0;
  std::size_t runs = 0;
  for (const host::RunReport& run : report.runs) {
    runs += plan.of(run) == Showing::left_out ? 1 : 0;
    for (const auto& f : run.findings) {
      findings += plan.of(f) == Showing::left_out ? 1 : 0;
    }
  }
  REQUIRE(runs > 0);
  REQUIRE(findings > 0);
  fmt::memory_buffer out;
  host::write_html(std::span(&report, 1), host::UnitSystem::as_logged, out);
  const std::string page(out.data(), out.size());
  CHECK(page.find(fmt::format("And {} more runs,", runs)) != std::string::npos);
  CHECK(page.find(fmt::format("And {} more; the JSON", findings)) !=
        std::string::npos);
}

}  // namespace telltale::test
