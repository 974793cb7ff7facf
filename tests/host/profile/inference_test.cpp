// What a log tells of the set where the profile does not (contract section 5):
// each rule on rows of its own, and what was inferred is said.
#include "profile/inference.hpp"

#include <algorithm>
#include <cmath>
#include <map>
#include <string>
#include <vector>

#include "catch.hpp"

namespace telltale::host {
namespace {

using Values = std::map<Channel, double>;

struct Inferred {
  Profile profile;
  std::vector<std::string> told;

  [[nodiscard]] bool says(const std::string& word) const {
    return std::any_of(told.begin(), told.end(), [&](const std::string& s) {
      return s.find(word) != std::string::npos;
    });
  }
};

/// Rows one second apart.
class Rows {
 public:
  Rows& add(int seconds, const Values& values) {
    for (int i = 0; i < seconds; ++i) {
      Row row;
      row.at = row.logged = TimeMs{1000LL * at_++};
      for (const auto& [channel, value] : values) {
        row.present |= bit(channel);
        row.value[index_of(channel)] = value;
      }
      inference_.add(row);
    }
    return *this;
  }
  [[nodiscard]] Inferred infer(const ProfileFile& file = {}) const {
    Inferred out;
    out.profile = inference_.complete(file, out.told);
    return out;
  }

 private:
  Inference inference_;
  int at_ = 0;
};
Inferred infer(const Values& running) {
  Values rest;
  for (const auto& [channel, value] : running) rest[channel] = 0.0;
  return Rows().add(300, rest).add(1200, running).infer();
}

// Trade facts (common practice): 2 poles turn at 3600 rpm for 60 Hz and 3000
// for 50; speed = 120 f / poles.
TEST_CASE("inference: frequency and poles") {
  struct Case {
    double hz, rpm;
    float nominal;
    int poles;
  };
  for (const Case& c : {Case{60.4, 3624, 60.0F, 2}, Case{50.9, 3054, 50.0F, 2},
                        Case{59.2, 1776, 60.0F, 4}, Case{50.2, 1506, 50.0F, 4},
                        Case{61.0, 1220, 60.0F, 6},
                        // an asynchronous set slips
                        Case{60.0, 3710, 60.0F, 2}}) {
    INFO(c.hz << " Hz, " << c.rpm << " rpm");
    const Inferred out =
        infer({{Channel::frequency, c.hz}, {Channel::engine_speed, c.rpm}});
    CHECK(out.profile.rating.frequency_hz == c.nominal);
    CHECK(out.profile.rating.poles == c.poles);
    CHECK(out.says("nominal frequency"));
    CHECK(out.says("poles"));
  }
}

TEST_CASE("inference: speed alone tells both, if it stands") {
  const Inferred out = infer({{Channel::engine_speed, 1512.0}});
  CHECK(out.profile.rating.frequency_hz == 50.0F);
  CHECK(out.profile.rating.poles == 4);
  CHECK(out.says("no frequency column"));
}

// A propulsion engine goes through every speed: none of them is nominal.
TEST_CASE("inference: an engine of variable speed stays unknown") {
  Rows rows;
  for (int i = 0; i < 1500; ++i) {
    rows.add(1, {{Channel::engine_speed, 1500.0 + 700.0 * std::sin(i / 90.0)}});
  }
  const Inferred out = rows.infer();
  CHECK(!is_known(out.profile.rating.frequency_hz));
  CHECK(out.profile.rating.poles == 0);
}

TEST_CASE("inference: speed that fits no poles is said, not forced") {
  const Inferred out =
      infer({{Channel::frequency, 60.0}, {Channel::engine_speed, 2700.0}});
  CHECK(out.profile.rating.poles == 0);
  CHECK(out.says("fits no number of poles"));
}

// The contract's list, a little off as real sets are; two 120 V windings give
// 240 (trade fact).
TEST_CASE("inference: the nearest listed system") {
  struct Case {
    double leg, line;
    int legs;
    float volts;
  };
  for (const Case& c : {Case{110, 220, 2, 220.0F}, Case{115, 200, 3, 200.0F},
                        Case{120, 208, 3, 208.0F}, Case{120, 240, 2, 240.0F},
                        Case{127, 220, 3, 220.0F}, Case{220, 380, 3, 380.0F},
                        Case{230, 400, 3, 400.0F}, Case{240, 415, 3, 415.0F},
                        Case{254, 440, 3, 440.0F}, Case{277, 480, 3, 480.0F},
                        Case{400, 690, 3, 690.0F}}) {
    for (const double off : {0.99, 1.0, 1.01}) {
      INFO(c.leg << "/" << c.line << " times " << off);
      Values running{{Channel::frequency, 60.0},
                     {Channel::voltage_l1, c.leg * off},
                     {Channel::voltage_l2, c.leg * off},
                     {Channel::voltage_line, c.line * off}};
      if (c.legs == 3) running[Channel::voltage_l3] = c.leg * off;
      const Inferred out = infer(running);
      CHECK(out.profile.rating.legs == c.legs);
      CHECK(out.profile.rating.voltage_v == c.volts);
      CHECK(out.says("nominal volts taken to be"));
    }
  }
}

TEST_CASE("inference: a single leg stands for itself") {
  const Inferred out = infer({{Channel::frequency, 50.0},
                              {Channel::voltage_l1, 232.0},
                              {Channel::current_l1, 12.0}});
  CHECK(out.profile.rating.legs == 1);
  CHECK(out.profile.rating.voltage_v == 230.0F);
}

TEST_CASE("inference: volts far from every system stay unknown") {
  const Inferred out = infer({{Channel::frequency, 60.0},
                              {Channel::voltage_l1, 3300.0},
                              {Channel::current_l1, 12.0}});
  CHECK(!is_known(out.profile.rating.voltage_v));
  CHECK(out.says("fit no listed system"));
}

TEST_CASE("inference: battery, exhaust") {
  for (const auto& [volts, system] :
       {std::pair{13.9, 12.0F}, {12.1, 12.0F}, {27.9, 24.0F}, {24.2, 24.0F}}) {
    const Inferred out =
        infer({{Channel::frequency, 60.0}, {Channel::battery_voltage, volts}});
    CHECK(out.profile.rating.battery_v == system);
    CHECK(out.says("V battery system"));
  }
  // Dry when the on-load median is above 150 degC.
  for (const double degc : {45.0, 149.0, 151.0, 420.0}) {
    const Inferred out = infer(
        {{Channel::frequency, 60.0}, {Channel::exhaust_temperature, degc}});
    CHECK(out.profile.rating.exhaust ==
          (degc > 150.0 ? Exhaust::dry : Exhaust::wet));
    CHECK(out.says("exhaust sensor taken to sit"));
  }
}

TEST_CASE("inference: 100 % is the highest minute where no rating is known") {
  Rows rows;
  rows.add(300, {{Channel::frequency, 60.0}, {Channel::power, 1.0}})
      .add(5, {{Channel::frequency, 60.0}, {Channel::power, 50.0}})  // a motor
      .add(300, {{Channel::frequency, 60.0}, {Channel::power, 6.0}})
      .add(300, {{Channel::frequency, 60.0}, {Channel::power, 2.0}});
  const Inferred out = rows.infer();
  // The motor's 5 s fall into the best minute: (55 * 6 + 5 * 50) / 60.
  CHECK(out.profile.load_scale_kw == Approx((55 * 6.0 + 5 * 50.0) / 60.0));
  CHECK(out.says("power rating not known"));
  ProfileFile file;
  file.power_kw = 8.0F;
  CHECK(!is_known(rows.infer(file).profile.load_scale_kw));
}

TEST_CASE("inference: the profile's word stands") {
  ProfileFile file;
  file.frequency_hz = 60.0F;
  file.poles = std::uint8_t{4};
  file.voltage_v = 440.0F;
  file.legs = std::uint8_t{3};
  file.battery_v = 24.0F;
  file.exhaust = Exhaust::dry;
  Rows rows;
  rows.add(600, {{Channel::frequency, 50.0},
                 {Channel::engine_speed, 3000.0},
                 {Channel::voltage_l1, 230.0},
                 {Channel::battery_voltage, 13.0},
                 {Channel::exhaust_temperature, 40.0}});
  const Inferred out = rows.infer(file);
  CHECK(out.profile.rating.frequency_hz == 60.0F);
  CHECK(out.profile.rating.poles == 4);
  CHECK(out.profile.rating.voltage_v == 440.0F);
  CHECK(out.profile.rating.legs == 3);
  CHECK(out.profile.rating.battery_v == 24.0F);
  CHECK(out.profile.rating.exhaust == Exhaust::dry);
}

// Contract section 5: G2 when the profile names a power rating, else G1.
TEST_CASE("inference: class and winding class by default") {
  const Rows rows;
  CHECK(rows.infer().profile.rating.performance == PerformanceClass::G1);
  CHECK(rows.infer().profile.rating.winding == WindingClass::F);
  ProfileFile file;
  file.power_kw = 8.0F;
  CHECK(rows.infer(file).profile.rating.performance == PerformanceClass::G2);
  file.performance = PerformanceClass::G3;
  CHECK(rows.infer(file).profile.rating.performance == PerformanceClass::G3);
}

TEST_CASE("inference: a long log is judged by all of it, in bounded memory") {
  // At rest for a day, two hours running, a day at rest.
  Rows rows;
  const Values rest{{Channel::frequency, 0.0},
                    {Channel::battery_voltage, 25.4}};
  rows.add(86400, rest)
      .add(7200, {{Channel::frequency, 50.1}, {Channel::battery_voltage, 28.0}})
      .add(86400, rest);
  const Inferred out = rows.infer();
  CHECK(out.profile.rating.frequency_hz == 50.0F);
  CHECK(out.profile.rating.battery_v == 24.0F);
}

}  // namespace
}  // namespace telltale::host
