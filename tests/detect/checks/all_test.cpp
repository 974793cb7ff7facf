// What holds for every check alike: the registry, healthy runs, blindness,
// single bad readings, gaps.
#include <array>
#include <limits>
#include <memory>
#include <string>
#include <vector>

#include "catch.hpp"
#include "judge.hpp"
#include "telltale/detect/checks/all.hpp"
#include "telltale/monitor.hpp"

namespace telltale::test {
namespace {

/// Contract section 6, row by row.
constexpr std::array kContract = {"frequency-high",
                                  "frequency-low",
                                  "frequency-drift",
                                  "frequency-hunting",
                                  "frequency-droop",
                                  "speed-frequency-mismatch",
                                  "load-step-response",
                                  "voltage-high",
                                  "voltage-low",
                                  "voltage-unbalance",
                                  "over-excitation",
                                  "overload",
                                  "light-load",
                                  "leg-imbalance",
                                  "early-load",
                                  "stop-under-load",
                                  "short-cool-down",
                                  "abrupt-stop",
                                  "fuel-starvation",
                                  "oil-pressure-low",
                                  "oil-pressure-fade",
                                  "oil-pressure-slow",
                                  "oil-pressure-unsteady",
                                  "coolant-high",
                                  "coolant-climb",
                                  "coolant-cold",
                                  "exhaust-high",
                                  "exhaust-jump",
                                  "exhaust-climb",
                                  "winding-high",
                                  "charging-low",
                                  "charging-high",
                                  "charging-fade",
                                  "crank-dip",
                                  "battery-rest-low",
                                  "long-crank",
                                  "repeated-cranking",
                                  "service-due",
                                  "hours-mismatch",
                                  "data-gap",
                                  "clock-step",
                                  "sensor-frozen",
                                  "sensor-range",
                                  "sensor-spike",
                                  "sensor-dropout",
                                  "alarm-chatter",
                                  "alarm-flood",
                                  "alarm-standing"};

Channel channel_at(std::size_t i) { return static_cast<Channel>(i); }

TEST_CASE("the registry holds the contract's checks, ids counting up") {
  REQUIRE(all_slugs().size() == kContract.size());
  for (std::size_t i = 0; i < kContract.size(); ++i) {
    CHECK(all_slugs()[i] == kContract[i]);
    CHECK(id_of(kContract[i]) == i + 1);
  }
}

TEST_CASE("a healthy run is healthy at every interval") {
  for (const double interval : {0.1, 0.5, 1.0, 2.0, 5.0, 10.0, 30.0, 60.0}) {
    INFO("interval " << interval);
    const double minutes = interval < 1.0 ? 20.0 : 100.0;
    CHECK(judge(usual_run(minutes).every(interval)).findings() == "");
  }
}

TEST_CASE("a healthy run is healthy for every kind of set") {
  const Plate plates[] = {{},
                          kEuropean,
                          {50.0, 2, 6.0, 230.0, 1, 12.0},
                          {60.0, 4, 20.0, 208.0, 3, 24.0},
                          {50.0, 4, 12.0, 230.0, 1, 24.0}};
  for (const Plate& plate : plates) {
    INFO(plate.hz << " Hz, " << plate.poles << " poles, " << plate.volts);
    CHECK(judge(usual_run(70.0, plate)).findings() == "");
  }
}

TEST_CASE("a healthy run is healthy through noise and coarse columns") {
  MadeRun noisy = usual_run(70.0);
  noisy.noise(Channel::engine_speed, 8.0, 1)
      .noise(Channel::frequency, 0.1, 2)
      .noise(Channel::voltage_l1, 0.8, 3)
      .noise(Channel::oil_pressure, 4.0, 4)
      .noise(Channel::coolant_temperature, 0.4, 5)
      .noise(Channel::exhaust_temperature, 0.8, 6)
      .noise(Channel::battery_voltage, 0.06, 7)
      .noise(Channel::power, 0.05, 8);
  CHECK(judge(noisy).findings() == "");

  MadeRun coarse = usual_run(70.0);
  coarse.resolution(Channel::frequency, 0.1)
      .resolution(Channel::voltage_l1, 1.0)
      .resolution(Channel::voltage_l2, 1.0)
      .resolution(Channel::oil_pressure, 6.894757)
      .resolution(Channel::exhaust_temperature, 1.0)
      .resolution(Channel::battery_voltage, 0.1)
      .resolution(Channel::power, 0.1);
  CHECK(judge(coarse).findings() == "");
}

// NAMUR thinking and contract section 6: 'resolution does not explain it'. A
// thermostat holds the coolant within one degree while the oil, which lags by
// minutes, still warms by 15 K and more: nothing froze.
TEST_CASE("a thermostat that holds whole degrees has not frozen") {
  MadeRun run = usual_run(60.0);
  run.fault(Channel::coolant_temperature,
            [](const Scene&, double x) { return x < 82.0 ? x : 82.0; })
      .resolution(Channel::coolant_temperature, 1.0);
  CHECK(judge(run).findings() == "");
}

TEST_CASE("without a channel the checks that need it say so, others go on") {
  const Outcome whole = judge(usual_run(30.0));
  for (std::size_t i = 0; i < kChannelCount; ++i) {
    const ChannelMask one = bit(channel_at(i));
    INFO(info_of(channel_at(i)).slug);
    const Outcome out = judge(usual_run(30.0).without(channel_at(i)));
    CHECK(out.findings() == "");
    for (const std::string& slug : all_slugs()) {
      INFO(slug);
      const CheckInfo& info = info_of_check(slug);
      if ((info.needs & one) != 0) {
        CHECK(out.judged(slug) == 0);
        CHECK(out.blind(slug) == Blind::no_channel);
      } else if (info.needs_one == one) {
        CHECK(out.blind(slug) == Blind::no_channel);
      } else if ((one & (bit(Channel::power) | bit(Channel::engine_speed) |
                         bit(Channel::oil_temperature))) == 0) {
        // Load, speed and oil temperature are what others lean on.
        CHECK((out.judged(slug) > 0) == (whole.judged(slug) > 0));
      }
    }
  }
}

TEST_CASE("a column that never reads anything is told apart from none") {
  for (std::size_t i = 0; i < kChannelCount; ++i) {
    INFO(info_of(channel_at(i)).slug);
    MadeRun run = usual_run(30.0);
    run.with(channel_at(i)).missing(channel_at(i), 0.0, 1e9);
    const Outcome out = judge(run);
    CHECK(out.findings() == "");
    for (const std::string& slug : all_slugs()) {
      if ((info_of_check(slug).needs & bit(channel_at(i))) == 0) continue;
      INFO(slug);
      CHECK(out.blind(slug) == Blind::no_reading);
    }
  }
}

TEST_CASE("a log at rest brings no run and no finding, whatever it reads") {
  MadeRun run;
  run.rest(7200.0)
      .fault(Channel::oil_pressure, [](const Scene&, double) { return 0.0; })
      .fault(Channel::battery_voltage,
             [](const Scene&, double) { return 11.0; })
      .fault(Channel::coolant_temperature,
             [](const Scene& s, double) { return 104.0 - s.t / 900.0; })
      .fault(Channel::exhaust_temperature,
             [](const Scene& s, double) { return 97.0 - s.t / 300.0; })
      .fault(Channel::winding_temperature,
             [](const Scene& s, double) { return 160.0 - s.t / 900.0; })
      .fault(Channel::fuel_level, [](const Scene&, double) { return 0.0; });
  const Outcome out = judge(run);
  CHECK(out.runs.empty());
  CHECK(out.findings() == "");
}

TEST_CASE("a single bad reading is at most a spike") {
  constexpr double kMissing = std::numeric_limits<double>::quiet_NaN();
  // While loaded, while warming up, cranking, at rest, stopping.
  const double moments[] = {60.0, 121.0, 125.0, 300.0, 800.0, 1240.0};
  for (std::size_t i = 0; i < kChannelCount; ++i) {
    const ChannelInfo& info = info_of(channel_at(i));
    const double low = info.low;
    const double high = info.high;
    const double values[] = {kMissing, low,         0.0,        high,
                             high * 2, low - 500.0, high * 0.3, high * 0.6};
    for (const double at : moments) {
      for (const double value : values) {
        // Electrical readings beside a change of speed: see the next test.
        const bool electrical = info.unit == Unit::A || info.unit == Unit::kW;
        if (electrical && at == 125.0) continue;
        INFO(info.slug << " reads " << value << " at " << at);
        MadeRun run = usual_run(10.0);
        run.with(info.channel).single(info.channel, at, value);
        const std::string found =
            judge_by(run.scans(), run.plate().profile(), Feeding::scans)
                .findings();
        CHECK((found.empty() || found == "sensor-spike note"));
      }
    }
  }
}

// Section 6: 'a single bad sample never makes a finding'. One power or current
// reading of thousands of percent beside a real change of load is no overload
// of 30 s; the mean over 30 s must not take it in whole.
TEST_CASE("one absurd power or current reading is no overload") {
  MadeRun power = usual_run(10.0);
  power.single(Channel::power, kLoaded, 1000.0);
  CHECK(judge(power).findings() == "sensor-spike note");
  MadeRun current = usual_run(10.0);
  current.single(Channel::current_l1, 125.0, 3000.0);
  CHECK(judge(current).findings() == "sensor-spike note");
}

TEST_CASE("a gap in the middle is a gap and nothing else") {
  for (const double length : {10.0, 11.0, 60.0, 590.0}) {
    INFO(length);
    const Outcome out = judge(usual_run(60.0).gap(1000.0, 1000.0 + length));
    CHECK(out.findings() == (length > 10.0 ? "data-gap note" : ""));
    CHECK(out.runs.size() == 1);
  }
}

TEST_CASE("every check explains itself") {
  const auto placeholder_is_known = [](const std::string& word,
                                       const CheckInfo& info) {
    if (word == "value" || word == "limit" || word == "channel" ||
        word == "for") {
      return true;
    }
    const bool detail =
        word.size() == 2 && word[0] == 'd' && word[1] >= '0' && word[1] <= '3';
    return detail &&
           !info.details[static_cast<std::size_t>(word[1] - '0')].name.empty();
  };
  const auto check_one = [&](const CheckInfo& info, const Advice& advice,
                             const Explanation& page) {
    INFO(info.slug);
    CHECK(!info.title.empty());
    CHECK(!info.source.empty());
    CHECK(!advice.causes[0].empty());
    CHECK(!advice.next[0].empty());
    for (const std::string_view text :
         {page.sees, page.decides, page.blind, page.fooled}) {
      CHECK(text.size() > 5);
    }
    const std::string summary(advice.summary);
    CHECK(summary.size() > 10);
    for (std::size_t at = summary.find('{'); at != std::string::npos;
         at = summary.find('{', at + 1)) {
      const std::size_t end = summary.find('}', at);
      REQUIRE(end != std::string::npos);
      const std::string word = summary.substr(at + 1, end - at - 1);
      INFO(word);
      CHECK(placeholder_is_known(word, info));
    }
  };
  const auto each = [&]<template <class> class... Cs>(CheckList<Cs...>) {
    (check_one(Cs<double>::info, Cs<double>::advice, Cs<double>::explanation),
     ...);
  };
  each(AllChecks{});
}

TEST_CASE("limits that contradict each other are refused, all checks alike") {
  const auto monitor = std::make_unique<Monitor<double, AllChecks>>();
  const auto check_one = [&](auto check) {
    using C = decltype(check);
    INFO(C::info.slug);
    Profile profile = Plate{}.profile();
    CHECK(monitor->configure(profile).error == SetupError::none);
    const Limits usual = C::limits(profile);
    const bool two = usual.attention.exists() &&
                     (usual.urgent.exists() || usual.note.exists());
    if (!two) return;
    // The graver limit becomes milder than the milder one.
    LimitOverride change{.check = C::info.id};
    const float step = usual.side == Side::above ? -1.0F : 1.0F;
    if (usual.urgent.exists()) {
      change.urgent = usual.attention.limit + step;
    } else {
      change.attention = usual.note.limit + step;
    }
    REQUIRE(profile.limits.push_back(change));
    const Setup refused = monitor->configure(profile);
    CHECK(refused.error == SetupError::wrong_order);
    CHECK(refused.check == C::info.id);
  };
  const auto each = [&]<template <class> class... Cs>(CheckList<Cs...>) {
    (check_one(Cs<double>{}), ...);
  };
  each(AllChecks{});
}

}  // namespace
}  // namespace telltale::test
