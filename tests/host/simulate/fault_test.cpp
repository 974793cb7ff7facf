#include "simulate/fault.hpp"

#include <cmath>
#include <set>
#include <string>

#include "catch.hpp"

namespace telltale::host::sim {
namespace {

TEST_CASE("every fault is found by the name of its check, once") {
  std::set<std::string_view> names;
  for (const FaultInfo& info : fault_table()) {
    CHECK(fault_named(info.check) == info.kind);
    CHECK(&info_of(info.kind) == &info);
    names.insert(info.check);
  }
  CHECK(names.size() == fault_table().size());
  CHECK_FALSE(fault_named("no-such-check"));
}

TEST_CASE("durations are seconds or carry a unit") {
  CHECK(parse_duration("90") == 90.0);
  CHECK(parse_duration("90s") == 90.0);
  CHECK(parse_duration("45m") == 2700.0);
  CHECK(parse_duration("1.5h") == 5400.0);
  CHECK(parse_duration("2d") == 172800.0);
  for (const char* bad : {"", "m", "4x", "4 m", "1e999", "nan", "--3"}) {
    INFO(bad);
    CHECK_FALSE(parse_duration(bad));
  }
}

TEST_CASE("a fault is read with channel, time, size and ramp") {
  const auto plain = parse_fault("charging-low@45m");
  REQUIRE(plain);
  CHECK(plain->kind == FaultKind::charging_low);
  CHECK(plain->at_s == 2700.0);
  CHECK(plain->full_size() == info_of(FaultKind::charging_low).size);
  const auto full = parse_fault("sensor-spike/exhaust_temperature@10m:2.5:30s");
  REQUIRE(full);
  CHECK(full->target() == Channel::exhaust_temperature);
  CHECK(full->full_size() == 2.5);
  CHECK(full->ramp() == 30.0);
}

TEST_CASE("what cannot be read is refused with a reason") {
  for (const char* bad :
       {"", "charging-low", "charging@5m", "charging-low@", "charging-low@-5",
        "charging-low@5m:", "charging-low@5m:x", "charging-low@5m:1:-3",
        "sensor-spike/oil@5m"}) {
    INFO(bad);
    const auto fault = parse_fault(bad);
    if (std::string(bad) == "charging-low@5m:") {
      CHECK(fault);  // an empty size is no size
      continue;
    }
    REQUIRE_FALSE(fault);
    CHECK_FALSE(fault.error().what.empty());
  }
}

TEST_CASE("a fault grows over its ramp and ends when told") {
  Fault fault;
  fault.kind = FaultKind::coolant_climb;
  fault.at_s = 100.0;
  fault.ramp_s = 50.0;
  fault.until_s = 300.0;
  CHECK(fault.share(99.9) == 0.0);
  CHECK(fault.share(125.0) == Approx(0.5));
  CHECK(fault.share(150.0) == 1.0);
  CHECK(fault.share(299.0) == 1.0);
  CHECK(fault.share(300.0) == 0.0);
  fault.ramp_s = 0.0;
  CHECK(fault.share(100.0) == 1.0);
}

}  // namespace
}  // namespace telltale::host::sim
