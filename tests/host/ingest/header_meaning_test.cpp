// Headers of the wild, each in a small log of its own.
#include <fmt/format.h>

#include <span>
#include <string>
#include <vector>

#include "catch.hpp"
#include "header_cases.hpp"
#include "ingest/log.hpp"
#include "panel_header_cases.hpp"
#include "support/units.hpp"
#include "temp_file.hpp"

namespace telltale::host {
namespace {

using test::HeaderCase;

std::vector<std::string> parts_of(std::string_view text) {
  std::vector<std::string> parts;
  std::string part;
  for (char c : text) {
    if (c == ' ') {
      parts.push_back(part);
      part.clear();
    } else {
      part += c;
    }
  }
  parts.push_back(part);
  return parts;
}

void check_all(std::span<const HeaderCase> cases) {
  for (const HeaderCase& expected : cases) {
    std::string text = fmt::format("Time;{}\n", expected.header);
    int second = 0;
    for (int round = 0; round < 4; ++round) {
      for (const std::string& reading : parts_of(expected.readings)) {
        text += fmt::format("2026-06-01 08:00:{:02};{}\n", second++, reading);
      }
    }
    const test::TempFile file(text);
    const auto log = Log::open(file.path(), {});
    INFO("header: " << expected.header << ", readings: " << expected.readings);
    if (!log) {
      FAIL_CHECK(log.error().line());
      continue;
    }
    const ColumnUse& use = log->layout().columns.at(1);
    INFO("why: " << use.why);
    CHECK(use.name == expected.name);
    if (!expected.unit.empty()) CHECK(name_of(use.unit) == expected.unit);
  }
}

TEST_CASE("headers mean what a technician reads in them") {
  check_all(test::kHeaderCases);
}

TEST_CASE("short headers of panels and hand-made logs are understood") {
  check_all(test::kPanelHeaderCases);
}

}  // namespace
}  // namespace telltale::host
