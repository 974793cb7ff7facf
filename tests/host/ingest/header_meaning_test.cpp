// Headers of the wild, each in a small log of its own.
#include <fmt/format.h>

#include <string>
#include <vector>

#include "catch.hpp"
#include "header_cases.hpp"
#include "ingest/log.hpp"
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

TEST_CASE("headers mean what a technician reads in them") {
  for (const HeaderCase& expected : test::kHeaderCases) {
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

}  // namespace
}  // namespace telltale::host
