// A list of events as a test writes it, through the whole analysis.
#pragma once

#include <initializer_list>
#include <string>
#include <vector>

#include "alarms/alarm_analysis.hpp"

namespace telltale::test {

struct ListedEvent {
  double at_s;
  std::string alarm;
  host::EventKind kind = host::EventKind::raised;
};
inline constexpr host::EventKind kOff = host::EventKind::cleared;

/// Times are seconds from a whole hour; alarms are named "name" or
/// "unit/name". The list covers `from_s` to `to_s` where these are wider.
inline host::AlarmReport analyse(const std::vector<ListedEvent>& events,
                                 double from_s = 0, double to_s = 0,
                                 bool clears_told = true) {
  constexpr std::int64_t kHour = 1'780'000'000'000 / 3'600'000 * 3'600'000;
  const auto place = [](double s, std::uint64_t line) {
    const TimeMs at{kHour + static_cast<std::int64_t>(s * 1000)};
    return host::EventPlace{at, at, line};
  };
  host::AlarmTable names;
  host::AlarmAnalysis analysis(names, {.clears_told = clears_told});
  analysis.reach(place(from_s, 0));
  std::uint64_t line = 1;
  double last = from_s;
  for (const ListedEvent& listed : events) {
    const std::size_t slash = listed.alarm.find('/');
    const std::string unit =
        slash == std::string::npos ? "" : listed.alarm.substr(0, slash);
    const std::string name = slash == std::string::npos
                                 ? listed.alarm
                                 : listed.alarm.substr(slash + 1);
    bool fresh = false;
    host::AlarmEvent event;
    event.at = event.logged = place(listed.at_s, 0).at;
    event.line = ++line;
    event.kind = listed.kind;
    event.alarm = names.number_of(unit, name, fresh);
    if (fresh && name.find("shutdown") != std::string::npos) {
      names[event.alarm].role = host::AlarmRole::shutdown;
    }
    analysis.add(event);
    last = listed.at_s;
  }
  if (to_s > last) analysis.reach(place(to_s, 0));
  host::AlarmReport report;
  analysis.finish(report);
  return report;
}

/// The figures of one alarm. REQUIRES: the report has it
inline const host::AlarmFigures& figures(const host::AlarmReport& report,
                                         const std::string& name) {
  for (const host::AlarmFigures& f : report.alarms) {
    if (report.name(f.alarm).name == name) return f;
  }
  std::abort();
}

}  // namespace telltale::test
