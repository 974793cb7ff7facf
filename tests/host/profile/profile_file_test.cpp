// The profile file: every key of contract section 5 read, everything else
// refused with the line it stands on.
#include "profile/profile_file.hpp"

#include <string>

#include "catch.hpp"
#include "judge.hpp"

namespace telltale::host {
namespace {

ProfileFile read(const std::string& text) {
  const auto file = parse_profile(text, "set.toml");
  if (!file) FAIL(file.error().line());
  return *file;
}
/// The error's place and what it says.
std::string refusal(const std::string& text) {
  const auto file = parse_profile(text, "set.toml");
  return file ? std::string("accepted") : file.error().line();
}
bool says(const std::string& text, const std::string& word) {
  return text.find(word) != std::string::npos;
}

TEST_CASE("profile: every key of the contract") {
  const ProfileFile file = read(R"([unit]
name = "Harbor tender no. 2"
[rating]
frequency_hz = 60
poles = 2
power_kw = 8.0
voltage_v = 240
legs = 2
power_factor = 0.8
battery_v = 24
generator = "asynchronous"
winding_class = "H"
class = "G3"
cooling = "sea water"
exhaust = "dry"
[limits]
"charging-low" = { attention = 26.0, urgent = 24.8, delay_s = 240 }
"light-load" = { note = 40 }
[service]
oil = { every_h = 200, every_months = 12, done_h = 1180, done_on = 2026-03-02 }
impeller = { every_h = 300 }
)");
  CHECK(file.name == "Harbor tender no. 2");
  CHECK(file.frequency_hz == 60.0F);
  CHECK(file.poles == 2);
  CHECK(file.power_kw == 8.0F);
  CHECK(file.voltage_v == 240.0F);
  CHECK(file.legs == 2);
  CHECK(file.power_factor == 0.8F);
  CHECK(file.battery_v == 24.0F);
  CHECK(file.generator == Generator::asynchronous);
  CHECK(file.winding == WindingClass::H);
  CHECK(file.performance == PerformanceClass::G3);
  CHECK(file.cooling == Cooling::sea_water);
  CHECK(file.exhaust == Exhaust::dry);
  REQUIRE(file.limits.size() == 2);
  CHECK(file.limits[0].check == test::id_of("charging-low"));
  CHECK(file.limits[0].attention == 26.0F);
  CHECK(file.limits[0].urgent == 24.8F);
  CHECK(file.limits[0].delay_s == 240.0F);
  CHECK(!is_known(file.limits[0].note));
  CHECK(file.limits[1].note == 40.0F);
  CHECK(!is_known(file.limits[1].attention));
  REQUIRE(file.service.size() == 2);
  // TOML sorts by key.
  const ProfileFile::Service& oil =
      file.service[file.service[0].name == "oil" ? 0 : 1];
  CHECK(oil.every_h == 200.0F);
  CHECK(oil.every_months == 12.0F);
  CHECK(oil.done_h == 1180.0F);
  // date -d 2026-03-02T00:00Z +%s
  CHECK(oil.done_on == TimeMs{1'772'409'600'000});
}

TEST_CASE("profile: nothing is needed") {
  const ProfileFile file = read("");
  CHECK(!file.name);
  CHECK(!file.frequency_hz);
  CHECK(file.limits.empty());
  CHECK(file.service.empty());
  read("# only words\n[rating]\n");
}

TEST_CASE("profile: an unknown key is named with its line") {
  const std::string wrong = refusal("[rating]\npoles = 2\npowr_kw = 8\n");
  CHECK(says(wrong, "set.toml:3"));
  CHECK(says(wrong, "powr_kw"));
  CHECK(says(wrong, "power_kw"));  // what there is
  CHECK(says(refusal("[ratings]\npoles = 2\n"), "ratings"));
  CHECK(says(refusal("[unit]\nowner = \"x\"\n"), "set.toml:2"));
  CHECK(says(refusal("[limits]\n\"coolant-hot\" = { urgent = 1 }\n"),
             "coolant-hot"));
  CHECK(
      says(refusal("[limits]\n\"coolant-high\" = { urgnt = 110 }\n"), "urgnt"));
  CHECK(says(refusal("[service]\noil = { every = 100 }\n"), "set.toml:2"));
}

TEST_CASE("profile: a wrong type is refused with its line") {
  const std::string lines[] = {
      "frequency_hz = \"60\"", "poles = true",      "power_kw = [8]",
      "voltage_v = \"240 V\"", "class = 2",         "cooling = false",
      "generator = 1",         "power_factor = {}", "exhaust = 1.0"};
  for (const std::string& line : lines) {
    INFO(line);
    CHECK(says(refusal("[rating]\n\n" + line + "\n"), "set.toml:3"));
  }
  CHECK(says(refusal("rating = 3\n"), "set.toml:1"));
  CHECK(says(refusal("[limits]\n\"coolant-high\" = 95\n"), "set.toml:2"));
  CHECK(says(refusal("[service]\noil = 200\n"), "set.toml:2"));
  CHECK(says(refusal("[service]\noil = { every_h = 1, done_on = \"May\" }\n"),
             "done_on"));
  CHECK(says(refusal("[unit]\nname = 7\n"), "name"));
}

TEST_CASE("profile: an impossible value is refused with its line") {
  const std::string lines[] = {"frequency_hz = 55",
                               "frequency_hz = nan",
                               "poles = 3",
                               "power_kw = 0",
                               "power_kw = -8",
                               "power_kw = inf",
                               "voltage_v = 0",
                               "legs = 4",
                               "power_factor = 1.2",
                               "battery_v = 48",
                               "winding_class = \"Z\"",
                               "class = \"G9\"",
                               "cooling = \"air\"",
                               "generator = \"dc\"",
                               "exhaust = \"damp\""};
  for (const std::string& line : lines) {
    INFO(line);
    CHECK(says(refusal("[rating]\n" + line + "\n"), "set.toml:2"));
  }
  CHECK(says(refusal("[limits]\n\"coolant-high\" = { urgent = inf }\n"),
             "set.toml:2"));
  CHECK(says(refusal("[limits]\n\"coolant-high\" = { delay_s = -1 }\n"),
             "set.toml:2"));
  CHECK(says(refusal("[service]\noil = { done_h = 5 }\n"), "every_h"));
  CHECK(says(refusal("[service]\noil = { every_h = 0 }\n"), "every_h"));
}

TEST_CASE("profile: limits that contradict each other are refused") {
  CHECK(says(refusal("[limits]\n\"coolant-high\" = { attention = 100, urgent "
                     "= 90 }\n"),
             "set.toml:2"));
  CHECK(says(refusal("[limits]\n\"charging-low\" = { attention = 12, urgent "
                     "= 13 }\n"),
             "contradict"));
  CHECK(refusal("[limits]\n\"coolant-high\" = { attention = 98 }\n") ==
        "accepted");
}

// An override of one severity leaves the other at its default: that of this
// set, not of another.
TEST_CASE("profile: limits are held against the set's own defaults") {
  CHECK(refusal("[rating]\nexhaust = \"dry\"\n[limits]\n\"exhaust-high\" = { "
                "attention = 500 }\n") == "accepted");
  CHECK(refusal("[rating]\nbattery_v = 24\n[limits]\n\"charging-low\" = { "
                "urgent = 24.0 }\n") == "accepted");
  CHECK(refusal("[rating]\ncooling = \"sea water\"\n[limits]\n\"coolant-high\""
                " = { urgent = 80 }\n") == "accepted");
}

TEST_CASE("profile: what is no TOML is refused with its line") {
  CHECK(says(refusal("[rating]\npoles == 2\n"), "set.toml:2"));
  CHECK(says(refusal("[rating]\npoles = 2\npoles = 4\n"), "set.toml"));
  CHECK(says(refusal(std::string("\x00\x01\x02", 3)), "set.toml"));
  CHECK(!read_profile("no-such-profile.toml"));
}

}  // namespace
}  // namespace telltale::host
