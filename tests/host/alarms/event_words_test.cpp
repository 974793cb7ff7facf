// Words of journals, as many writers spell them.
#include "alarms/event_words.hpp"

#include "catch.hpp"

namespace telltale::host {
namespace {

TEST_CASE("words for coming, going and being seen") {
  for (const char* text :
       {"ON", "on", "1", "Active", "ALM", "Raised", "SET", "kommt", "K/kommt",
        "Alarm", "ACTIVE_UNACK", "ALM UNACK", "apparition", "TRUE"}) {
    INFO(text);
    CHECK(event_of_text(text) == EventKind::raised);
  }
  for (const char* text :
       {"OFF", "0", "RTN", "Cleared", "return to normal", "Normal", "geht",
        "Inactive", "RTN_UNACK", "ACK_RTN", "Alarm cleared", "not active",
        "No alarm", "reset"}) {
    INFO(text);
    CHECK(event_of_text(text) == EventKind::cleared);
  }
  for (const char* text : {"ACK", "Acknowledged", "ALM ACK", "quittiert"}) {
    INFO(text);
    CHECK(event_of_text(text) == EventKind::acknowledged);
  }
  for (const char* text : {"", "engine", "2", "high", "42.5"}) {
    INFO(text);
    CHECK_FALSE(event_of_text(text));
  }
}

AlarmRole role_of(const char* name, const char* priority = "") {
  AlarmName alarm;
  alarm.name = name;
  alarm.priority = priority;
  settle_role(alarm);
  return alarm.role;
}

TEST_CASE("a shutdown is known by its words") {
  for (const char* name :
       {"Low oil pressure shutdown", "OVERSPEED", "over speed", "GEN TRIP",
        "Emergency stop", "shut-down coolant", "Notstop", "Lockout relay"}) {
    INFO(name);
    CHECK(role_of(name) == AlarmRole::shutdown);
  }
  CHECK(role_of("oil pressure", "Shutdown") == AlarmRole::shutdown);
  for (const char* name : {"Low oil pressure warning", "High coolant",
                           "Failed to shut down", "Battery low"}) {
    INFO(name);
    CHECK(role_of(name) == AlarmRole::warning);
  }
}

TEST_CASE("messages are known by their class alone") {
  CHECK(role_of("Engine started", "info") == AlarmRole::message);
  CHECK(role_of("Engine started", "high") == AlarmRole::warning);
  CHECK(role_of("Info panel fault", "high") == AlarmRole::warning);
}

}  // namespace
}  // namespace telltale::host
