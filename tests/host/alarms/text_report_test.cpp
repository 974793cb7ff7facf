// The text of an alarm report: what comes first, and how wide it is.
#include "alarms/text_report.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <sstream>

#include "catch.hpp"
#include "event_list.hpp"
#include "report/page.hpp"

namespace telltale::test {
namespace {

std::string text_of(const host::AlarmReport& report) {
  fmt::memory_buffer out;
  host::write_alarm_text(report, {}, out);
  return fmt::to_string(out);
}

// Nine alarms chatter, side by side so that they are a flood; one stood for two
// days before that.
host::AlarmReport noisy() {
  std::vector<ListedEvent> events = {{0.0, "door open"},
                                     {180'000.0, "door open", kOff}};
  for (int k = 0; k < 20; ++k) {
    for (int alarm = 0; alarm < 9; ++alarm) {
      const std::string name = fmt::format("level {} high", alarm);
      events.push_back({200'000.0 + k * 20.0 + alarm, name});
      events.push_back({200'009.5 + k * 20.0 + alarm, name, kOff});
    }
  }
  std::stable_sort(events.begin(), events.end(),
                   [](const ListedEvent& a, const ListedEvent& b) {
                     return a.at_s < b.at_s;
                   });
  return analyse(events, 0, 300'000);
}

TEST_CASE("alarms that chatter do not hide a flood or a standing alarm") {
  const host::AlarmReport report = noisy();
  REQUIRE(report.findings.size() == 11);
  const std::string text = text_of(report);
  const std::size_t flood = text.find("alarm-flood: 1 flood");
  const std::size_t chatter = text.find("alarm-chatter: level");
  const std::size_t standing = text.find("alarm-standing: door open");
  REQUIRE(flood != std::string::npos);
  REQUIRE(standing != std::string::npos);
  CHECK(flood < chatter);
  CHECK(chatter < standing);
  CHECK(text.find("and 5 more") < standing);
}

TEST_CASE("the text keeps to 80 columns") {
  std::istringstream lines(text_of(noisy()));
  for (std::string line; std::getline(lines, line);) {
    INFO(line);
    CHECK(host::columns_of(line) <= host::Page::kWidth);
  }
}

}  // namespace
}  // namespace telltale::test
