#include "season/habits.hpp"

#include <algorithm>
#include <cmath>
#include <string_view>

#include "checks/catalogue.hpp"
#include "season/dates.hpp"
#include "support/civil_time.hpp"
#include "telltale/condition/median.hpp"

namespace telltale::host::season {
namespace {

constexpr double kShortRun_s = 15.0 * 60.0;
constexpr double kLeastSpan_d = 14.0;  // for hours a month

double days_between(TimeMs from, TimeMs to) {
  return static_cast<double>((to - from).ms) / static_cast<double>(kMsPerDay);
}
int runs_with(const UnitHistory& history, std::string_view slug) {
  const CheckCard* check = check_named(slug);
  if (check == nullptr) return 0;
  std::uint32_t last = ~std::uint32_t{0};
  int count = 0;
  for (const PastFinding& f : history.findings) {
    if (f.check != check->info->id || f.run == last) continue;
    last = f.run;
    ++count;
  }
  return count;
}

Habits habits_of(const UnitHistory& history) {
  Habits out;
  out.runs = static_cast<int>(history.runs.size());
  std::vector<double> lengths;
  double at_speed = 0.0;
  double light = 0.0;
  for (const PastRun& run : history.runs) {
    out.hours += run.seconds / 3600.0;
    if (run.seconds > 0.0) lengths.push_back(run.seconds / 3600.0);
    if (!run.begins_in_log && !run.ends_in_log && run.seconds > 0.0) {
      ++out.seen_runs;
      if (run.seconds < kShortRun_s) ++out.short_runs;
    }
    if (run.attempts > 0) {
      ++out.starts_seen;
      if (run.attempts > 1) ++out.starts_with_trouble;
    }
    if (std::isfinite(run.light_load_s)) {
      at_speed += run.at_speed_s;
      light += run.light_load_s;
    }
  }
  if (!lengths.empty()) {
    out.median_run_h = median_in_place(std::span<double>(lengths));
  }
  if (at_speed > 0.0) out.light_share = 100.0 * light / at_speed;
  const auto& runs = history.runs;
  if (runs.size() >= 2 && is_set(runs.front().start) &&
      is_set(runs.back().start)) {
    const double days = days_between(runs.front().start, runs.back().start);
    // The last run's own hours belong to the time after it.
    const double hours = runs.back().hours - runs.front().hours;
    if (days >= kLeastSpan_d)
      out.hours_per_month = hours / days * kDaysPerMonth;
  }
  out.stops_under_load = runs_with(history, "stop-under-load");
  out.abrupt_stops = runs_with(history, "abrupt-stop");
  return out;
}

Severity severity_at(double used) {
  return used >= 1.0            ? Severity::attention
         : used >= kServiceSoon ? Severity::note
                                : Severity::healthy;
}

ServiceStanding standing_of(const UnitDigest::Service& item,
                            const UnitSeason& unit, TimeMs now) {
  ServiceStanding out;
  out.item = item.name;
  double used = 0.0;
  if (item.every_h > 0.0 && std::isfinite(item.done_h) && unit.metered) {
    out.due_at_h = item.done_h + item.every_h;
    out.left_h = out.due_at_h - unit.hours;
    used = std::max(used, (unit.hours - item.done_h) / item.every_h);
    const double per_day = unit.habits.hours_per_month / kDaysPerMonth;
    if (out.left_h > 0.0 && per_day > 0.0 && is_set(unit.last)) {
      out.expected = days_after(unit.last, out.left_h / per_day);
    }
  }
  if (item.every_months > 0.0 && is_set(item.done_on)) {
    const double days = item.every_months * kDaysPerMonth;
    out.due_on = days_after(item.done_on, days);
    if (is_set(now)) {
      out.left_days = days_between(now, out.due_on);
      used = std::max(used, days_between(item.done_on, now) / days);
    }
  }
  out.severity = severity_at(used);
  return out;
}

}  // namespace

UnitSeason describe_use(const UnitHistory& history, TimeMs now) {
  UnitSeason out;
  const UnitDigest& about = history.unit.about;
  out.name = about.name;
  out.model = about.model;
  out.rating = about.rating;
  out.pressure = about.pressure;
  out.temperature = about.temperature;
  out.metered = history.metered;
  out.zone_known = history.zone_known;
  out.runs = static_cast<int>(history.runs.size());
  out.undated = static_cast<int>(history.undated);
  out.meter_breaks = static_cast<int>(history.meter_breaks.size());
  if (!history.meter_breaks.empty()) {
    out.meter_break = history.runs[history.meter_breaks.back()].start;
  }
  out.habits = habits_of(history);
  if (!history.runs.empty()) {
    const PastRun& last = history.runs.back();
    out.first = history.runs.front().start;
    out.last = is_set(last.end) ? last.end : last.start;
    out.hours = last.hours + last.seconds / 3600.0;
    // A meter that goes on says it better than the clock.
    const double by_meter = last.hours_end - last.hours_start;
    if (by_meter >= 0.0) out.hours = last.hours + by_meter;
  }
  for (const UnitDigest::Service& item : about.service) {
    out.service.push_back(standing_of(item, out, now));
  }
  return out;
}

}  // namespace telltale::host::season
