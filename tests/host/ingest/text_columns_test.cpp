#include "ingest/text_columns.hpp"

#include <string>

#include "catch.hpp"

namespace telltale::host {
namespace {

using enum EngineState;

TEST_CASE("states are read from the words of controllers") {
  struct Case {
    const char* word;
    EngineState state;
  };
  for (const Case& c : {Case{"OFF", stopped},
                        Case{"Stopped", stopped},
                        Case{"READY", stopped},
                        Case{"Standby", stopped},
                        Case{"At rest", stopped},
                        Case{"Not running", stopped},
                        Case{"Preheat", preheat},
                        Case{"PRE-HEAT", preheat},
                        Case{"Glow", preheat},
                        Case{"Cranking", cranking},
                        Case{"CRANK ON", cranking},
                        Case{"Starting", starting},
                        Case{"Run-up", starting},
                        Case{"Running", running},
                        Case{"Engine running", running},
                        Case{"Warm up", running},
                        Case{"On Load", loaded},
                        Case{"RUNNING ON LOAD", loaded},
                        Case{"Running off load", running},
                        Case{"Supplying", loaded},
                        Case{"Cool Down", cool_down},
                        Case{"COOLDOWN", cool_down},
                        Case{"Cooling", cool_down},
                        Case{"Stopping", stopping},
                        Case{"Fault", fault},
                        Case{"Lockout", fault},
                        Case{"SHUTDOWN", fault},
                        Case{"Emergency stop", fault},
                        Case{"Vorgl\xC3\xBChen", preheat},
                        Case{"St\xC3\xB6rung", fault},
                        Case{"Nachlauf", cool_down},
                        Case{"Arr\xC3\xAAt", stopped},
                        Case{"En marche", running},
                        Case{"Parado", stopped},
                        Case{"Draait", running},
                        Case{"AUTO", unknown},
                        Case{"", unknown},
                        Case{"3", unknown},
                        Case{"OK", unknown},
                        Case{"No fault", unknown}}) {
    INFO(c.word);
    CHECK(state_of_text(c.word) == c.state);
  }
}

TEST_CASE("texts that mean no alarm") {
  for (const char* text : {"", "OK", "none", "0", "normal", "-", "No alarm",
                           "clear", "---", "N/A", "false", "0x0000"}) {
    INFO(text);
    CHECK(means_no_alarm(text));
  }
  for (const char* text :
       {"ERROR", "Fault", "Low oil", "23", "overspeed", "1"}) {
    INFO(text);
    CHECK_FALSE(means_no_alarm(text));
  }
}

// The rule of the reading layer: 31 bits of their own, the last shared.
TEST_CASE("the 32nd alarm and all later ones share a bit") {
  AlarmReader reader;
  for (int i = 0; i < 40; ++i) {
    const AlarmMask mask = reader.read("alarm " + std::to_string(i));
    CHECK(mask == AlarmMask{1} << std::min(i, 31));
  }
  REQUIRE(reader.names().size() == 32);
  CHECK(reader.names()[30] == "alarm 30");
  CHECK(reader.names()[31] == "other alarms");
  CHECK(reader.read("alarm 3; alarm 35") ==
        ((AlarmMask{1} << 3) | (AlarmMask{1} << 31)));
}

TEST_CASE("contacts say yes in many ways") {
  AlarmReader reader;
  for (const char* text : {"1", "on", "TRUE", "Yes", "active", "ALARM"}) {
    CHECK(reader.read_contact("Low oil", text) == 1U);
  }
  for (const char* text : {"0", "off", "false", "", "---", "ok"}) {
    CHECK(reader.read_contact("Low oil", text) == 0U);
  }
}

}  // namespace
}  // namespace telltale::host
