#include "ingest/header_name.hpp"

#include "catch.hpp"
#include "ingest/fold_letters.hpp"
#include "ingest/leg_token.hpp"
#include "ingest/split_words.hpp"

namespace telltale::host {
namespace {

using Words = std::vector<std::string>;

TEST_CASE("letters fold to small ASCII ones") {
  CHECK(fold_letters("\xC3\x96LDRUCK") == "oldruck");
  CHECK(fold_letters("R\xC3\xA9gime") == "regime");
  CHECK(fold_letters("Stra\xC3\x9F"
                     "e") == "strasse");
  CHECK(fold_letters("Kj\xC3\xB8le") == "kjole");
  CHECK(fold_letters("\xC3\xA6") == "ae");
  CHECK(fold_letters("\xCE\xA9") == "\xCE\xA9");  // no Latin letter: kept
  CHECK(fold_letters("\xC3") == "\xC3");
}

TEST_CASE("headers split at marks, humps and numbers") {
  CHECK(split_words("Oil Press") == Words{"oil", "press"});
  CHECK(split_words("oil_press_psi") == Words{"oil", "press", "psi"});
  CHECK(split_words("GenFreq/Hz") == Words{"gen", "freq", "hz"});
  CHECK(split_words("OILPress") == Words{"oil", "press"});
  CHECK(split_words("GenkW") == Words{"gen", "kw"});
  CHECK(split_words("OilPresskPa") == Words{"oil", "press", "kpa"});
  CHECK(split_words("AmpsL1") == Words{"amps", "l1"});
  CHECK(split_words("L1-N") == Words{"l1", "n"});
  CHECK(split_words("Load%") == Words{"load", "percent"});
  CHECK(split_words("A.C. Volts") == Words{"ac", "volts"});
  CHECK(split_words("engine.0.oilPressure") ==
        Words{"engine", "0", "oil", "pressure"});
  CHECK(split_words("").empty());
  CHECK(split_words("--- / ---").empty());
}

TEST_CASE("legs are known in letters and numbers") {
  CHECK(leg_token("l1")->first == "l1");
  CHECK(leg_token("l2n")->second == "neutral");
  CHECK(leg_token("vab")->quantity == "voltage");
  CHECK(leg_token("vab")->second == "l2");
  CHECK(leg_token("u12")->second == "l2");
  CHECK(leg_token("ic")->quantity == "current");
  CHECK(leg_token("ic")->first == "l3");
  CHECK(leg_token("phase2")->first == "l2");
  for (const char* word :
       {"l", "v", "oil", "ilc", "l4", "12", "abc", "a", ""}) {
    INFO(word);
    CHECK_FALSE(leg_token(word));
  }
}

TEST_CASE("a unit is found wherever a header has it") {
  struct Case {
    const char* header;
    LogUnit unit;
  };
  for (const Case& c :
       {Case{"Oil Press (psi)", LogUnit::psi},
        Case{"Coolant [\xC2\xB0"
             "F]",
             LogUnit::degF},
        Case{"Batt V", LogUnit::V}, Case{"GenFreq/Hz", LogUnit::Hz},
        Case{"Oil Pressure, kPa", LogUnit::kPa},
        Case{"Coolant - degC", LogUnit::degC},
        Case{"Oil Press in bar", LogUnit::bar},
        Case{"coolant_deg_c", LogUnit::degC},
        Case{"oil_press_kg_cm2", LogUnit::bar},
        Case{"Fuel Rate L/h", LogUnit::L_h},
        Case{"FuelRate/gal/h", LogUnit::gal_h}, Case{"fuel_l_h", LogUnit::L_h},
        Case{"kW", LogUnit::kW}, Case{"Load %", LogUnit::none}}) {
    INFO(c.header);
    const HeaderName name = parse_header(c.header);
    if (c.unit == LogUnit::none) continue;
    REQUIRE(name.unit);
    CHECK(name.unit->unit == c.unit);
  }
  // A letter that names a leg, and a number, are no units.
  CHECK_FALSE(parse_header("Phase A").unit);
  CHECK_FALSE(parse_header("Temp 1").unit);
  CHECK_FALSE(parse_header("Voltage C").unit);
}

TEST_CASE("zones in headers are read") {
  CHECK(parse_header("Date Time, GMT-05:00").zone_min == -300);
  CHECK(parse_header("Time (UTC)").zone_min == 0);
  CHECK(parse_header("Time [UTC+2]").zone_min == 120);
  CHECK_FALSE(parse_header("Time").zone_min);
}

TEST_CASE("words of something else and unknown words are told apart") {
  CHECK(parse_header("Mains Volts").foreign == Words{"mains"});
  CHECK(parse_header("Quux Volts").unknown == Words{"quux"});
  CHECK(parse_header("Temp 2").numbered);
  CHECK(parse_header("\xC3\x96ltemperatur").concepts ==
        std::set<std::string>{"oil", "temperature"});
}

}  // namespace
}  // namespace telltale::host
