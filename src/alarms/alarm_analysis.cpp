// One pass over a list of events.
#include "alarms/alarm_analysis.hpp"

#include <algorithm>
#include <map>
#include <memory>
#include <utility>

#include "alarms/judgement.hpp"

namespace telltale::host {

AlarmAnalysis::AlarmAnalysis(const AlarmTable& names, const Options& options)
    : names_(names), options_(options) {}

void AlarmAnalysis::start(const EventPlace& place) {
  if (is_set(from_.at)) return;
  from_ = place;
  standing_.begin(place.at);
  counts_.reach(place.at);
}

void AlarmAnalysis::reach(const EventPlace& place) {
  start(place);
  to_ = place;
}

AlarmTally& AlarmAnalysis::tally_of(std::uint32_t alarm) {
  if (alarm >= tallies_.size()) tallies_.resize(alarm + 1U);
  auto& tally = tallies_[alarm];
  if (!tally) {
    tally = std::make_unique<AlarmTally>(from_.at, options_.clears_told);
  }
  return *tally;
}

std::uint32_t AlarmAnalysis::unit_of(std::uint32_t alarm) {
  constexpr std::uint32_t kUnknown = 0xFFFFFFFF;
  if (alarm >= unit_of_alarm_.size()) {
    unit_of_alarm_.resize(alarm + 1U, kUnknown);
  }
  std::uint32_t& unit = unit_of_alarm_[alarm];
  if (unit == kUnknown) {
    unit = units_
               .emplace(names_[alarm].unit,
                        static_cast<std::uint32_t>(units_.size()))
               .first->second;
  }
  return unit;
}

// Keeps the count of standing alarms in step with an alarm's own books.
void AlarmAnalysis::follow_standing(std::uint32_t alarm, TimeMs at) {
  const bool stands = tallies_[alarm]->stands();
  if (stands == standing_.stands(alarm)) return;
  stands ? standing_.add(alarm, at) : standing_.remove(alarm, at);
}

void AlarmAnalysis::count_raise(const AlarmEvent& event) {
  ++raises_;
  counts_.add(event.at);
  floods_.raise(place_of(event), event.alarm);
  const bool again =
      tallies_[event.alarm]->last_run_length() <= BurstBook::kGap;
  bursts_.raise(unit_of(event.alarm), place_of(event), event.alarm, again,
                names_[event.alarm].role == AlarmRole::shutdown);
}

void AlarmAnalysis::add(const AlarmEvent& event) {
  reach(place_of(event));
  ++events_;
  if (names_[event.alarm].role == AlarmRole::message) {
    ++messages_;
    return;
  }
  AlarmTally& tally = tally_of(event.alarm);
  switch (event.kind) {
    case EventKind::raised:
      if (tally.raise(event) != AlarmChange::none) count_raise(event);
      break;
    case EventKind::cleared:
      tally.clear(event);
      break;
    case EventKind::acknowledged:
      tally.acknowledge(event.at);
      break;
    case EventKind::stood:
      tally.stood(event);
      break;
  }
  follow_standing(event.alarm, event.at);
}

AlarmFigures AlarmAnalysis::figures_of(std::uint32_t alarm,
                                       AlarmTally& tally) const {
  AlarmFigures f;
  const double span_s = seconds_between(from_.at, to_.at);
  f.alarm = alarm;
  f.raises = tally.runs.raises();
  f.repeats = tally.repeats;
  f.clears = tally.clears;
  f.stray_clears = tally.stray_clears;
  f.acknowledgements = tally.acknowledgements;
  if (tally.acknowledged_raises > 0) {
    f.mean_acknowledge_s = tally.acknowledge_sum_s / tally.acknowledged_raises;
  }
  f.share = raises_ == 0
                ? 0.0
                : static_cast<double>(f.raises) / static_cast<double>(raises_);
  if (span_s > 0) {
    f.per_day = f.raises * 86400.0 / span_s;
    f.per_10min = f.raises * 600.0 / span_s;
  }
  f.spans_known = !tally.pulses;
  if (f.spans_known) {
    f.standing_s = tally.standing_s;
    if (span_s > 0) f.standing_share = tally.standing_s / span_s;
    f.longest_s = tally.longest_s;
    f.longest_from = tally.longest_from;
    f.median_s = tally.durations.median();
  }
  f.stood_before = tally.stood_before;
  f.stands_at_end = tally.stands_at_end;
  f.stale = tally.stale;
  f.fleeting = tally.fleeting;
  f.screen_hits = tally.screen.hits();
  f.screen_bursts = tally.screen.bursts();
  f.chatter_raises = tally.chatter_raises;
  f.chatter_index = tally.runs.index();
  f.chatter_index_60 = tally.runs.index_within();
  f.chatters_by_screen = f.screen_hits > 0;
  f.chatters_by_index = tally.runs.chatters();
  f.first = tally.first;
  f.last = tally.last;
  f.chatter_from = tally.chatter_from;
  f.part = bursts_.part_of(alarm);
  if (f.chatters()) f.cure = cure_of(f, tally);
  f.lane = std::move(tally.lane);
  return f;
}

Cure AlarmAnalysis::cure_of(const AlarmFigures& figures,
                            const AlarmTally& tally) const {
  Cure cure;
  cure.raises = figures.raises;
  cure.standing_s = tally.standing_s;
  cure.time_to_act_s = figures.part.time_to_act_s;
  if (names_[figures.alarm].role == AlarmRole::shutdown) {
    cure.why = kShutdownStays;
    return cure;
  }
  if (!tally.trials) {
    cure.why = "too few raises to try settings on";
    return cure;
  }
  cure.basis = CureBasis::run_lengths;
  cure.occurrences = tally.trials->occurrences();
  for (CureOutcome& outcome : tally.trials->outcomes()) {
    const CureSetting& s = outcome.setting;
    // Without clears nobody knows how long a raise lasted.
    if (tally.pulses && s.on_delay_s > 0) continue;
    const auto too_short = [this](double delay_s) {
      return delay_s > 0 && delay_s < options_.interval_s;
    };
    if (too_short(s.on_delay_s) || too_short(s.off_delay_s)) continue;
    cure.outcomes.push_back(std::move(outcome));
  }
  choose_proposal(cure);
  return cure;
}

void AlarmAnalysis::split_by_priority(AlarmReport& report) const {
  std::map<std::string, PriorityShare> by_priority;
  for (const AlarmFigures& f : report.alarms) {
    PriorityShare& share = by_priority[names_[f.alarm].priority];
    share.raises += f.raises;
    ++share.alarms;
  }
  if (by_priority.size() == 1 && by_priority.begin()->first.empty()) return;
  for (auto& [priority, share] : by_priority) {
    share.priority = priority;
    report.priorities.push_back(share);
  }
  std::stable_sort(report.priorities.begin(), report.priorities.end(),
                   [](const PriorityShare& a, const PriorityShare& b) {
                     return a.raises > b.raises;
                   });
}

void AlarmAnalysis::finish(AlarmReport& report) {
  report.clears_told = options_.clears_told;
  report.events = events_;
  report.raises = raises_;
  report.messages = messages_;
  if (is_set(from_.at)) {
    report.from = from_;
    report.to = to_;
    report.span_s = seconds_between(from_.at, to_.at);
    // The journal's whole time counts, also the quiet at its ends.
    counts_.reach(to_.at);
    standing_.reach(to_.at);
  }
  report.standing_at_end = standing_.now();
  report.most_stale = standing_.most_stale();
  report.mean_standing = standing_.mean();
  counts_.finish();
  floods_.finish(to_.at);
  bursts_.finish();
  report.flood_count = floods_.count();
  report.flood_s = static_cast<double>(floods_.in_flood().ms) / 1000.0;
  report.flood_peak = floods_.peak();
  report.flood_peak_at = floods_.peak_at();
  report.floods = floods_.floods();
  report.burst_count = bursts_.count();
  report.bursts = bursts_.bursts();
  report.follows = bursts_.follows();
  report.company = bursts_.company();
  if (bursts_.pairs_lost()) {
    report.notes.emplace_back(
        "too many different pairs of alarms follow each other: rare ones were "
        "not counted");
  }
  for (std::size_t i = 0; i < tallies_.size(); ++i) {
    if (!tallies_[i]) continue;
    tallies_[i]->finish(to_.at);
    report.alarms.push_back(
        figures_of(static_cast<std::uint32_t>(i), *tallies_[i]));
    tallies_[i].reset();
  }
  std::stable_sort(report.alarms.begin(), report.alarms.end(),
                   [](const AlarmFigures& a, const AlarmFigures& b) {
                     return a.raises > b.raises;
                   });
  report.counts = std::move(counts_);
  report.names = names_;
  report.units.resize(units_.size());
  for (const auto& [name, number] : units_) report.units[number] = name;
  split_by_priority(report);
  judge(report);
}

}  // namespace telltale::host
