// How long the alarm analysis takes beyond reading, and what it keeps.
//
//   alarm_bench [EVENTS] [ALARMS] [ROUNDS]
//
// A million events of 400 alarms where nothing else is said, made up in
// memory: few alarms come often and most seldom, as in real journals. The
// median of the rounds is printed, and how far the peak of memory rose
// while ten times as many events went through.
#include <fmt/format.h>
#include <sys/resource.h>

#include <algorithm>
#include <chrono>
#include <cmath>
#include <cstdlib>
#include <random>
#include <vector>

#include "alarms/alarm_analysis.hpp"

namespace {

using Clock = std::chrono::steady_clock;
using namespace telltale;
using namespace telltale::host;

std::vector<AlarmEvent> made_up(std::size_t events, std::uint32_t alarms,
                                AlarmTable& names) {
  std::mt19937_64 chance(1);
  std::exponential_distribution<double> wait(1.0 / 8000.0);
  std::uniform_real_distribution<double> even;
  std::vector<AlarmEvent> out;
  std::vector<bool> stands(alarms);
  bool fresh = false;
  for (std::uint32_t a = 0; a < alarms; ++a) {
    (void)names.number_of(fmt::format("unit {}", a % 7),
                          fmt::format("alarm {}", a), fresh);
  }
  TimeMs now{1'780'000'000'000};
  for (std::size_t i = 0; i < events; ++i) {
    now = TimeMs{now.ms + static_cast<std::int64_t>(wait(chance))};
    // The first of them gets a tenth of all, the last next to none.
    const auto alarm =
        static_cast<std::uint32_t>(std::pow(alarms, even(chance))) - 1U;
    AlarmEvent event;
    event.at = event.logged = now;
    event.line = i + 1;
    event.alarm = alarm;
    event.kind = stands[alarm] ? EventKind::cleared : EventKind::raised;
    stands[alarm] = !stands[alarm];
    out.push_back(event);
  }
  return out;
}

double analyse(const std::vector<AlarmEvent>& events, const AlarmTable& names,
               int times = 1) {
  const Clock::time_point from = Clock::now();
  AlarmAnalysis analysis(names, {});
  const std::int64_t span = events.back().at.ms - events.front().at.ms + 1000;
  for (int round = 0; round < times; ++round) {
    for (AlarmEvent event : events) {
      event.at.ms += round * span;
      analysis.add(event);
    }
  }
  AlarmReport report;
  analysis.finish(report);
  return std::chrono::duration<double>(Clock::now() - from).count();
}

long peak_kb() {
  rusage usage{};
  getrusage(RUSAGE_SELF, &usage);
  return usage.ru_maxrss;
}

}  // namespace

int main(int count, char** words) {
  const auto word = [&](int i, int otherwise) {
    return count > i ? std::max(1, std::atoi(words[i])) : otherwise;
  };
  const auto events = static_cast<std::size_t>(word(1, 1'000'000));
  const auto alarms = static_cast<std::uint32_t>(word(2, 400));
  AlarmTable names;
  const std::vector<AlarmEvent> journal = made_up(events, alarms, names);
  std::vector<double> seconds;
  for (int i = 0; i < word(3, 5); ++i) {
    seconds.push_back(analyse(journal, names));
  }
  std::sort(seconds.begin(), seconds.end());
  fmt::print("{} events of {} alarms: {:.2f} s\n", events, alarms,
             seconds[seconds.size() / 2]);
  const long before = peak_kb();
  (void)analyse(journal, names, 10);
  fmt::print("ten times as many: {} kB more at the peak\n", peak_kb() - before);
  return 0;
}
