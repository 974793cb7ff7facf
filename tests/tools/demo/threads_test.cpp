// Every demo log, read and judged by turns and on several threads: the same
// report, to the last bit.
#include <fmt/format.h>

#include <string>

#include "catch.hpp"
#include "demo/demo_logs.hpp"
#include "report/json_writer.hpp"

namespace telltale::tool {
namespace {

std::string report_of(const DemoLog& log, host::Threads threads) {
  const auto report = report_on(log, TELLTALE_DATASETS, threads);
  if (!report) FAIL(report.error().line());
  fmt::memory_buffer out;
  host::write_json(*report, out);
  return fmt::to_string(out);
}

TEST_CASE("demo logs: one thread and more give the same report") {
  const auto logs = read_demo_logs(TELLTALE_DATASETS);
  REQUIRE(logs);
  REQUIRE(logs->size() >= 50);
  for (const DemoLog& log : *logs) {
    INFO(log.file);
    const std::string by_turns = report_of(log, host::Threads::one);
    CHECK(report_of(log, host::Threads::more) == by_turns);
  }
}

}  // namespace
}  // namespace telltale::tool
