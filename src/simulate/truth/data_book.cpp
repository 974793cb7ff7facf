// Counts over rows and alarms as they stand in the log.
#include "simulate/truth/data_book.hpp"

#include <algorithm>
#include <cmath>

#include "simulate/simulate.hpp"
#include "simulate/stamp.hpp"

namespace telltale::host::sim {
namespace {

constexpr double kFrozenS = 600.0;
// Steps of resolution that tell a frozen reading from a coarse one, and for how
// long the truth must be that far away.
constexpr double kTellingSteps = 3.0;
constexpr double kLastingS = 300.0;

const Fault* sensor_fault(const Scenario& scenario, FaultKind kind,
                          Channel channel) {
  for (const Fault& fault : scenario.faults) {
    if (fault.kind == kind && fault.target() == channel) return &fault;
  }
  return nullptr;
}

// Whole months from a day "YYYY-MM-DD" to a time; negative if unreadable.
int months_since(const std::string& day, TimeMs now) {
  if (day.size() != 10) return -1;
  const int year = std::stoi(day.substr(0, 4));
  const int month = std::stoi(day.substr(5, 2));
  const int mday = std::stoi(day.substr(8, 2));
  std::string text;
  StampWriter(TimeStyle::iso, 0, now, 0, ' ').append(text, now);
  const int months = (std::stoi(text.substr(0, 4)) - year) * 12 +
                     std::stoi(text.substr(5, 2)) - month;
  return std::stoi(text.substr(8, 2)) < mday ? months - 1 : months;
}

}  // namespace

DataBook::DataBook(const Scenario& scenario) : scenario_(&scenario) {}

void DataBook::begin_run(const Snapshot&) {
  gap_s_ = 0.0;
  meter_first_ = -1.0;
}

void DataBook::see(const Snapshot& now) {
  hours_ = value_of(now, Channel::engine_hours);
  if (now.phase != TruePhase::stopped) {
    if (meter_first_ < 0.0) meter_first_ = hours_;
    meter_last_ = hours_;
  }
  follow_frozen(now);
}

void DataBook::follow_frozen(const Snapshot& now) {
  const bool at_speed = now.phase == TruePhase::no_load ||
                        now.phase == TruePhase::on_load ||
                        now.phase == TruePhase::cool_down;
  if (!at_speed) return;
  for (const SensorSpec& spec : scenario_->sensors) {
    const Fault* fault =
        sensor_fault(*scenario_, FaultKind::sensor_frozen, spec.channel);
    if (fault == nullptr || now.t < fault->at_s || now.t >= fault->until_s) {
      continue;
    }
    Departure& departure = departures_[index_of(spec.channel)];
    const double value = value_of(now, spec.channel);
    if (std::isnan(departure.froze_at)) departure.froze_at = value;
    const bool away =
        std::abs(value - departure.froze_at) >= kTellingSteps * step_of(spec);
    departure.away_s = away ? departure.away_s + now.dt : 0.0;
    departure.longest_s = std::max(departure.longest_s, departure.away_s);
  }
}

void DataBook::row(const Sample& sample, const Snapshot& now) {
  const bool running = now.phase != TruePhase::stopped;
  if (last_row_ >= 0.0 && (running || last_row_running_)) {
    const double gap = sample.t - last_row_;
    if (gap > gap_s_) {
      gap_s_ = gap;
      gap_from_ = last_row_;
    }
  }
  last_row_ = sample.t;
  last_row_running_ = running;
  if (scenario_->alarm_column) alarms(sample);
}

void DataBook::alarms(const Sample& sample) {
  const double t = sample.t;
  const AlarmMask raised = sample.alarms & ~standing_;
  const AlarmMask cleared = standing_ & ~sample.alarms;
  standing_ = sample.alarms;
  for (std::size_t bit = 0; bit < alarm_states_.size(); ++bit) {
    AlarmState& state = alarm_states_[bit];
    if ((cleared >> bit & 1U) != 0) state.since = -1.0;
    if (state.since >= 0.0 && t - state.since > 86400.0) {
      Verdict verdict;
      verdict.check = "alarm-standing";
      verdict.degree = Degree::attention;
      verdict.from = state.since;
      verdict.due = state.since + 86400.0;
      verdict.to = t;
      verdict.value = (t - state.since) / 3600.0;
      verdict.limit = 24.0;
      verdict.unit = "h";
      const double from = verdict.from;
      std::erase_if(alarm_verdicts_, [from](const Verdict& v) {
        return v.check == "alarm-standing" && v.from == from;
      });
      alarm_verdicts_.push_back(verdict);
    }
    if ((raised >> bit & 1U) == 0) continue;
    state.since = t;
    state.raises.push_back(t);
    raises_.push_back(t);
    while (t - state.raises.front() > 60.0) state.raises.pop_front();
    if (state.raises.size() < 3) continue;
    Verdict verdict;
    verdict.check = "alarm-chatter";
    verdict.degree = Degree::attention;
    verdict.from = state.raises.front();
    verdict.due = verdict.to = t;
    verdict.value = static_cast<double>(state.raises.size());
    verdict.limit = 3.0;
    verdict.unit = "raises in 60 s";
    if (!alarm_verdicts_.empty() &&
        alarm_verdicts_.back().check == "alarm-chatter" &&
        verdict.from - alarm_verdicts_.back().to < 600.0) {
      alarm_verdicts_.back().to = t;
    } else {
      alarm_verdicts_.push_back(verdict);
    }
  }
  while (!raises_.empty() && t - raises_.front() > 600.0) raises_.pop_front();
  if (raises_.size() < 5) flooding_ = false;
  if (raises_.size() > 10 && !flooding_) {
    flooding_ = true;
    Verdict verdict;
    verdict.check = "alarm-flood";
    verdict.degree = Degree::attention;
    verdict.from = raises_.front();
    verdict.due = verdict.to = t;
    verdict.value = static_cast<double>(raises_.size());
    verdict.limit = 10.0;
    verdict.unit = "raises in 10 min";
    alarm_verdicts_.push_back(verdict);
  }
}

void DataBook::end_run(const Snapshot& now, double running_s,
                       std::vector<Verdict>& out) {
  if (gap_s_ > 10.0 * scenario_->interval_s && gap_s_ > 10.0) {
    Verdict verdict;
    verdict.check = "data-gap";
    verdict.degree = Degree::note;
    verdict.from = gap_from_;
    verdict.due = verdict.to = gap_from_ + gap_s_;
    verdict.value = gap_s_;
    verdict.limit = std::max(10.0 * scenario_->interval_s, 10.0);
    verdict.unit = "s";
    out.push_back(verdict);
  }
  const double ran_h = running_s / 3600.0;
  const double off = (meter_last_ - meter_first_) - ran_h;
  if (meter_first_ >= 0.0 && ran_h > 0.0 && std::abs(off) > 0.05 * ran_h &&
      std::abs(off) > 0.2) {
    Verdict verdict;
    verdict.check = "hours-mismatch";
    verdict.degree = Degree::note;
    verdict.channel = Channel::engine_hours;
    verdict.from = now.t - running_s;
    verdict.due = verdict.to = now.t;
    verdict.value = 100.0 * off / ran_h;
    verdict.limit = 5.0;
    verdict.unit = "% of running time";
    out.push_back(verdict);
  }
}

void DataBook::service(double last, std::vector<Verdict>& out) const {
  const TimeMs stamp{scenario_->clock.ms +
                     static_cast<std::int64_t>(last * 1000.0)};
  for (const ServiceItem& item : scenario_->set.service) {
    const double hours = hours_ - item.done_h;
    const int months = months_since(item.done_on, stamp);
    const double used = std::max(
        item.every_h > 0.0 ? hours / item.every_h : 0.0,
        item.every_months > 0 ? static_cast<double>(months) / item.every_months
                              : 0.0);
    if (used < 0.9) continue;
    Verdict verdict;
    verdict.check = "service-due";
    verdict.degree = used >= 1.0 ? Degree::attention : Degree::note;
    verdict.channel = Channel::engine_hours;
    verdict.from = verdict.due = verdict.to = last;
    verdict.value = hours;
    verdict.limit = item.every_h;
    verdict.unit = "h";
    out.push_back(verdict);
  }
}

void DataBook::clock(double first, double last,
                     std::vector<Verdict>& out) const {
  for (const Fault& fault : scenario_->faults) {
    if (fault.kind != FaultKind::clock_step || fault.at_s <= first ||
        fault.at_s > last) {
      continue;
    }
    // Forward by ten minutes or less is a gap like any other; back by a
    // minute or less is local disorder.
    const double size = fault.full_size();
    if (size > -60.0 && size <= 600.0) continue;
    Verdict verdict;
    verdict.check = "clock-step";
    verdict.degree = Degree::note;
    verdict.from = verdict.due = verdict.to = fault.at_s;
    verdict.value = size;
    verdict.unit = "s";
    out.push_back(verdict);
  }
}

void DataBook::sensors(const SensorBank& bank, double first, double last,
                       std::vector<Verdict>& out) const {
  for (std::size_t i = 0; i < scenario_->sensors.size(); ++i) {
    const SensorSpec& spec = scenario_->sensors[i];
    const SensorTally& tally = bank.tallies()[i];
    Verdict verdict;
    verdict.channel = spec.channel;
    const auto span = [&](const Fault& fault) {
      verdict.from = std::max(fault.at_s, first);
      verdict.to = std::min(fault.until_s, last);
    };
    using enum FaultKind;
    if (const Fault* f =
            sensor_fault(*scenario_, sensor_frozen, spec.channel)) {
      span(*f);
      const bool away =
          departures_[index_of(spec.channel)].longest_s >= kLastingS;
      if (verdict.to - verdict.from > kFrozenS && (away || never_rests(spec))) {
        verdict.check = "sensor-frozen";
        verdict.degree = Degree::attention;
        verdict.due = verdict.from + kFrozenS;
        verdict.value = verdict.to - verdict.from;
        verdict.limit = kFrozenS;
        verdict.unit = "s";
        out.push_back(verdict);
      }
    }
    if (const Fault* f = sensor_fault(*scenario_, sensor_range, spec.channel)) {
      span(*f);
      if (verdict.to > verdict.from) {
        verdict.check = "sensor-range";
        verdict.degree = Degree::attention;
        verdict.due = verdict.from;
        verdict.value = static_cast<double>(info_of(spec.channel).high) * 1.2;
        verdict.limit = info_of(spec.channel).high;
        verdict.unit = name_of(info_of(spec.channel).unit);
        out.push_back(verdict);
      }
    }
    if (const Fault* f = sensor_fault(*scenario_, sensor_spike, spec.channel);
        f != nullptr && tally.spikes > 0) {
      span(*f);
      const double share = 100.0 * static_cast<double>(tally.spikes) /
                           std::max(static_cast<double>(tally.all), 1.0);
      verdict.check = "sensor-spike";
      verdict.degree = share >= 1.0 ? Degree::attention : Degree::note;
      verdict.due = verdict.from;
      verdict.value = share;
      verdict.limit = share >= 1.0 ? 1.0 : 0.0;
      verdict.unit = "% of readings";
      out.push_back(verdict);
    }
    if (const Fault* f = sensor_fault(*scenario_, sensor_dropout, spec.channel);
        f != nullptr && tally.rows > 0) {
      span(*f);
      const double share = 100.0 * static_cast<double>(tally.missing) /
                           static_cast<double>(tally.rows);
      if (share <= 1.0) continue;
      verdict.check = "sensor-dropout";
      verdict.degree = share > 10.0 ? Degree::attention : Degree::note;
      verdict.due = verdict.from;
      verdict.value = share;
      verdict.limit = share > 10.0 ? 10.0 : 1.0;
      verdict.unit = "% of rows while running";
      out.push_back(verdict);
    }
  }
}

void DataBook::finish(const SensorBank& bank, double first, double last,
                      std::vector<Verdict>& out) {
  service(last, out);
  clock(first, last, out);
  sensors(bank, first, last, out);
  out.insert(out.end(), alarm_verdicts_.begin(), alarm_verdicts_.end());
}

}  // namespace telltale::host::sim
