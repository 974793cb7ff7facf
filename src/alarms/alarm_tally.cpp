// One alarm's comings and goings.
#include "alarms/alarm_tally.hpp"

#include <algorithm>

namespace telltale::host {

// Trials cost memory and time: an alarm that came twice can't chatter.
void AlarmTally::edge(TimeMs at, bool on) {
  constexpr std::uint32_t kRaisesForTrials = 3;
  if (!trials) {
    const bool full = !early_.push_back({at, on});
    if (runs.raises() < kRaisesForTrials && !full) return;
    trials = std::make_unique<TrialSet>(kDelaySettings.data(),
                                        kDelaySettings.size());
    for (const Edge& e : early_) e.on ? trials->on(e.at) : trials->off(e.at);
    if (!full) return;
  }
  on ? trials->on(at) : trials->off(at);
}

void AlarmTally::count_raise(const AlarmEvent& event) {
  last_run_ = runs.raises() > 0 ? event.at - runs.last() : last_run_;
  const bool alone = last_run_ > kAlone;
  if (maybe_fleeting_ && alone) ++fleeting;
  maybe_fleeting_ = false;
  if (runs.raises() == 0) first = place_of(event);
  before_last_ = runs.raises() < 2 ? first : before_;
  before_ = last;
  last = place_of(event);
  runs.raise(event.at);
  if (screen.raise(event.at) && screen.hits() == 1) {
    chatter_from = before_last_;  // three raises ago
  }
  chatter_raises += !alone;
  lane.raise(origin_, event.at);
  awaits_acknowledgement_ = true;
}

AlarmChange AlarmTally::raise(const AlarmEvent& event) {
  if (!clears_told_ || pulsing_) {
    pulses = pulsing_ = true;
    count_raise(event);
    edge(event.at, true);
    edge(event.at, false);
    return AlarmChange::came_again;
  }
  if (!stands_) {
    stands_ = true;
    since_ = place_of(event);
    depth_ = event.paired ? 1 : 0;
    count_raise(event);
    edge(event.at, true);
    return AlarmChange::came;
  }
  if (event.paired) {
    ++depth_;
    count_raise(event);
    return AlarmChange::came_again;
  }
  if (ever_cleared_ || stood_before) {
    ++repeats;
    return AlarmChange::none;
  }
  // Told again and never cleared: told only when it comes.
  pulses = pulsing_ = true;
  stands_ = false;
  edge(since_.at, false);
  count_raise(event);
  edge(event.at, true);
  edge(event.at, false);
  return AlarmChange::came_again;
}

void AlarmTally::stood_until(TimeMs at, bool ended) {
  const double seconds = seconds_between(since_.at, at);
  standing_s += seconds;
  if (seconds > longest_s || !is_set(longest_from.at)) {
    longest_s = seconds;
    longest_from = since_;
  }
  stale += at - since_.at > kStale;
  if (ended) durations.add(seconds);
  lane.stand(origin_, since_.at, at);
}

bool AlarmTally::clear(const AlarmEvent& event) {
  ++clears;
  if (stands_ && depth_ > 1) {
    --depth_;
    return false;
  }
  if (stands_) {
    stands_ = false;
    ever_cleared_ = true;
    depth_ = 0;
    stood_until(event.at, true);
    const bool from_raise = runs.raises() > 0;
    maybe_fleeting_ = from_raise && last_run_ > kAlone &&
                      seconds_between(since_.at, event.at) <= kFleetingS;
    if (from_raise) edge(event.at, false);
    return true;
  }
  if (pulsing_) {
    // So its clears are told after all; the last raise stood until now.
    pulsing_ = false;
    ever_cleared_ = true;
    since_ = last;
    stood_until(event.at, true);
    return false;
  }
  if (runs.raises() == 0 && !ever_cleared_) {
    ever_cleared_ = true;
    stood_before = true;
    since_ = {origin_, event.logged - (event.at - origin_), 0};
    stood_until(event.at, false);
    return false;
  }
  ++stray_clears;
  return false;
}

void AlarmTally::acknowledge(TimeMs at) {
  ++acknowledgements;
  if (!awaits_acknowledgement_) return;
  awaits_acknowledgement_ = false;
  ++acknowledged_raises;
  acknowledge_sum_s += seconds_between(runs.last(), at);
}

void AlarmTally::stood(const AlarmEvent& event) {
  if (stands_) return;
  stands_ = true;
  stood_before = true;
  since_ = place_of(event);
}

void AlarmTally::finish(TimeMs end) {
  if (stands_) {
    stands_at_end = true;
    stood_until(end, false);
  }
  if (maybe_fleeting_) ++fleeting;
  lane.fit(origin_, end);
  if (trials) trials->finish(end);
}

}  // namespace telltale::host
