// SPN and FMI; meanings as SAE J1939-73 has them (three public lists).
#include "alarms/fault_codes.hpp"

#include "catch.hpp"

namespace telltale::host {
namespace {

TEST_CASE("fault codes in many spellings") {
  for (const char* text : {"SPN 110 FMI 0", "SPN110/FMI0", "spn:110, fmi:0",
                           "SPN=110 FMI=0", "Fault SPN-110 FMI-0 active"}) {
    INFO(text);
    const auto code = fault_code_of(text, false);
    REQUIRE(code);
    CHECK(code->spn == 110);
    CHECK(code->fmi == 0);
  }
  CHECK_FALSE(fault_code_of("110/0", false));
  REQUIRE(fault_code_of("110/0", true));
  CHECK(fault_code_of("110/0", true)->spn == 110);
}

TEST_CASE("what can't be a fault code is none") {
  CHECK_FALSE(fault_code_of("SPN 110", false));
  CHECK_FALSE(fault_code_of("SPN 600000 FMI 1", false));  // 19 bits
  CHECK_FALSE(fault_code_of("SPN 110 FMI 32", false));    // 5 bits
  CHECK_FALSE(fault_code_of("", true));
  CHECK_FALSE(fault_code_of("a/b", true));
}

TEST_CASE("fault codes in words") {
  CHECK(text_of({110, 0}) ==
        "engine coolant temperature: above normal range, most severe");
  CHECK(text_of({100, 18}) ==
        "engine oil pressure: below normal range, moderately severe");
  CHECK(text_of({190, 2}) ==
        "engine speed: erratic, intermittent or incorrect");
  CHECK(text_of({168, 4}) == "battery voltage: voltage low or shorted low");
  CHECK(text_of({7, 31}) == "parameter 7: condition exists");
}

}  // namespace
}  // namespace telltale::host
