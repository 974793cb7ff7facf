// Cures: what a delay promises is what a replay with it gives.
#include "alarms/cure.hpp"

#include <random>

#include "alarms/delay_trial.hpp"
#include "alarms/judgement.hpp"
#include "catch.hpp"
#include "event_list.hpp"

namespace telltale::test {
namespace {

using host::AlarmReport;
using host::Cure;
using host::CureOutcome;

const CureOutcome& outcome(const Cure& cure, double on_s, double off_s) {
  for (const CureOutcome& o : cure.outcomes) {
    if (o.setting.on_delay_s == on_s && o.setting.off_delay_s == off_s) {
      return o;
    }
  }
  FAIL("no such setting");
  return cure.outcomes.front();
}

// On for 5 s, off for 7 s, 30 times: by arithmetic an off-delay above 7 s
// leaves one raise, and an on-delay above 5 s none.
std::vector<ListedEvent> chatter(const std::string& name) {
  std::vector<ListedEvent> events;
  for (int k = 0; k < 30; ++k) {
    events.push_back({100 + k * 12.0, name});
    events.push_back({105 + k * 12.0, name, kOff});
  }
  return events;
}

// A difference of temperatures has no offset: 2 K are 3.6 of Fahrenheit's.
TEST_CASE("settings are told in the units that people asked for") {
  host::AlarmLimit limit;
  limit.channel = Channel::coolant_temperature;
  limit.limit = 95.0;
  limit.clears = 93.0;
  Cure cure;
  cure.basis = host::CureBasis::replay;
  cure.limit = limit;
  const host::CureSetting setting{0.0, 15.0, 2.0};
  CHECK(words_for(setting, limit) == "off-delay 15 s and deadband 2 °C");
  CHECK(words_for(setting, limit, host::LogUnit::degF) ==
        "off-delay 15 s and deadband 3.6 °F");
  // A unit of something else is not for this channel.
  CHECK(words_for(setting, limit, host::LogUnit::psi) ==
        words_for(setting, limit));
  const auto says = [&](host::LogUnit unit, const char* what) {
    return host::basis_in_words(cure, unit).find(what) != std::string::npos;
  };
  CHECK(says(host::LogUnit::none, "raised above 95 °C, cleared at 93;"));
  CHECK(says(host::LogUnit::degF, "raised above 203 °F, cleared at 199.4;"));
}

TEST_CASE("delays take out what arithmetic says") {
  const AlarmReport r = analyse(chatter("bilge high"), 0, 2000);
  const Cure& cure = *figures(r, "bilge high").cure;
  CHECK(cure.basis == host::CureBasis::run_lengths);
  CHECK(cure.occurrences == 1);
  CHECK(outcome(cure, 0, 5).raises == 30);
  CHECK(outcome(cure, 0, 15).raises == 1);
  CHECK_FALSE(outcome(cure, 0, 15).chatters);
  CHECK(outcome(cure, 0, 15).delayed == 0);
  CHECK(outcome(cure, 2, 0).raises == 30);
  CHECK(outcome(cure, 2, 0).worst_delay_s == 2);
  CHECK(outcome(cure, 10, 0).raises == 0);
  CHECK(outcome(cure, 10, 0).missed == 1);
  CHECK_FALSE(outcome(cure, 10, 0).barred.empty());
  // Proposed: the least that works and delays nothing.
  REQUIRE(cure.proposal);
  CHECK(cure.outcomes[*cure.proposal].setting.off_delay_s == 15);
  CHECK(cure.outcomes[*cure.proposal].setting.on_delay_s == 0);
}

TEST_CASE("a shutdown is never given a cure, and the report says so") {
  const AlarmReport r = analyse(chatter("oil shutdown"), 0, 2000);
  const Cure& cure = *figures(r, "oil shutdown").cure;
  CHECK(cure.basis == host::CureBasis::none);
  CHECK(cure.outcomes.empty());
  CHECK_FALSE(cure.proposal);
  CHECK(cure.why.find("shutdown") != std::string::npos);
}

TEST_CASE("an on-delay that eats the time to act is barred") {
  // The warning chatters 20 s before each shutdown.
  std::vector<ListedEvent> events;
  for (int k = 0; k < 4; ++k) {
    const double t = 5000.0 * k;
    for (int i = 0; i < 4; ++i) {
      events.push_back({t + 4 * i, "warning"});
      events.push_back({t + 4 * i + 1, "warning", kOff});
    }
    events.push_back({t + 16, "warning"});
    events.push_back({t + 20, "shutdown"});
    events.push_back({t + 400, "shutdown", kOff});
    events.push_back({t + 400, "warning", kOff});
  }
  const AlarmReport r = analyse(events, 0, 20'000);
  const Cure& cure = *figures(r, "warning").cure;
  CHECK(cure.time_to_act_s == 20);
  CHECK(outcome(cure, 5, 0).barred.empty());
  CHECK_FALSE(outcome(cure, 15, 0).barred.empty());
  CHECK_FALSE(outcome(cure, 30, 0).barred.empty());
}

// The delays by their definition (OPC UA part 9): raised where the condition
// has held for all of the last `on_s` seconds, cleared where it has been gone
// for all of the last `off_s`; a delay of 0 looks at the moment itself.
// Only time since the last change counts. `condition[t]` holds from second t up
// to t + 1.
bool has_been(const std::vector<bool>& condition, std::size_t at, bool what,
              std::size_t delay, std::size_t since) {
  if (delay == 0) return condition[at] == what;
  if (at < since + delay) return false;
  for (std::size_t back = 1; back <= delay; ++back) {
    const bool then = back <= at && condition[at - back];
    if (then != what) return false;
  }
  return true;
}

std::uint32_t raises_by_definition(const std::vector<bool>& condition,
                                   std::size_t on_s, std::size_t off_s) {
  std::uint32_t raises = 0;
  bool stands = false;
  std::size_t since = 0;
  for (std::size_t t = 0; t < condition.size(); ++t) {
    for (int twice = 0; twice < 2; ++twice) {
      if (!has_been(condition, t, !stands, stands ? off_s : on_s, since)) {
        break;
      }
      since = t;
      stands = !stands;
      raises += stands;
    }
  }
  return raises;
}

TEST_CASE("trials agree with the definition, second by second") {
  std::mt19937 random(7);
  std::uint64_t all = 0;
  for (int round = 0; round < 200; ++round) {
    std::vector<bool> condition(1000);
    bool on = false;
    for (std::size_t t = 1; t + 30 < condition.size(); ++t) {
      if (random() % 9 == 0) on = !on;
      condition[t] = on;
    }
    const std::size_t on_s = random() % 15;
    const std::size_t off_s = random() % 15;
    host::DelayTrial trial(seconds(static_cast<std::int64_t>(on_s)),
                           seconds(static_cast<std::int64_t>(off_s)));
    for (std::size_t t = 1; t < condition.size(); ++t) {
      const TimeMs at{static_cast<std::int64_t>(t) * 1000};
      if (condition[t] && !condition[t - 1]) trial.condition_on(at);
      if (!condition[t] && condition[t - 1]) trial.condition_off(at);
    }
    trial.finish(TimeMs{static_cast<std::int64_t>(condition.size()) * 1000});
    CHECK(trial.raises() == raises_by_definition(condition, on_s, off_s));
    all += trial.raises();
  }
  CHECK(all > 1000);
}

// What a cure promises, replayed as a list of its own, holds.
TEST_CASE("a promised cure removes the chatter when replayed") {
  const std::vector<ListedEvent> before = chatter("bilge high");
  const AlarmReport r = analyse(before, 0, 2000);
  const Cure& cure = *figures(r, "bilge high").cure;
  const CureOutcome& promised = cure.outcomes[*cure.proposal];
  // An off-delay by hand: a clear counts only if no raise follows in time.
  std::vector<ListedEvent> after;
  for (const ListedEvent& event : before) {
    if (event.kind == kOff) {
      after.push_back(
          {event.at_s + promised.setting.off_delay_s, event.alarm, kOff});
    } else if (!after.empty() && after.back().kind == kOff &&
               event.at_s < after.back().at_s) {
      after.pop_back();
    } else {
      after.push_back(event);
    }
  }
  const AlarmReport replayed = analyse(after, 0, 2000);
  CHECK(figures(replayed, "bilge high").raises == promised.raises);
  CHECK_FALSE(figures(replayed, "bilge high").chatters());
}

}  // namespace
}  // namespace telltale::test
