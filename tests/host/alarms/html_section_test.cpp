// The alarm page: its units, and that no text of a journal becomes markup.
#include "alarms/html_section.hpp"

#include <string>

#include "alarms/examine_alarms.hpp"
#include "catch.hpp"
#include "event_list.hpp"

namespace telltale::test {
namespace {

using host::UnitSystem;

std::string page_of(const host::AlarmReport& report, UnitSystem units) {
  fmt::memory_buffer out;
  host::write_alarm_page(report, units, out);
  return fmt::to_string(out);
}

bool has(const std::string& page, const char* words) {
  return page.find(words) != std::string::npos;
}

// The alarm is set to 96 °C and the log has tenths of them: between 95.9 and 96
// is as near as it can be found. 95.95 °C are 204.71 °F.
TEST_CASE("the alarm page shows limits and settings in the units asked for") {
  const auto report = host::examine_alarms(
      std::string(TELLTALE_DATASETS) + "/alarms/dotterel.csv", {});
  REQUIRE(report);
  REQUIRE(report->alarms.front().cure->proposal);
  const std::string logged = page_of(*report, UnitSystem::as_logged);
  CHECK(has(logged, "raised above 95.95 °C"));
  CHECK(has(logged, ">deadband, °C<"));
  const std::string us = page_of(*report, UnitSystem::us);
  CHECK(has(us, "raised above 204.7 °F"));
  CHECK(has(us, ">deadband, °F<"));
  // Not even in what is to be done next, or where a pointer rests on a mark.
  CHECK_FALSE(has(us, "°C"));
}

TEST_CASE("what a journal says is text on the page") {
  const host::AlarmReport report =
      analyse({{0, "<b>bilge</b>"}, {5, "<b>bilge</b>", kOff}}, 0, 100);
  const std::string page = page_of(report, UnitSystem::as_logged);
  CHECK(has(page, "&lt;b&gt;bilge"));
  CHECK_FALSE(has(page, "<b>bilge"));
}

}  // namespace
}  // namespace telltale::test
