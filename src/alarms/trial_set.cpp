// Trials side by side.
#include "alarms/trial_set.hpp"

#include <algorithm>

#include "alarms/event.hpp"

namespace telltale::host {

TrialSet::TrialSet(const CureSetting* settings, std::size_t count) {
  trials_.reserve(count);
  for (std::size_t i = 0; i < count; ++i) trials_.emplace_back(settings[i]);
}

void TrialSet::note_raise(Trial& trial) {
  if (trial.told) return;
  trial.told = true;
  ++trial.tolds;
  const double late =
      seconds_between(occurrence_from_, trial.delay.raised_at());
  trial.delayed += late > 0.0;
  trial.delay_sum_s += late;
  trial.worst_delay_s = std::max(trial.worst_delay_s, late);
}

void TrialSet::end_occurrence() {
  for (Trial& trial : trials_) {
    if (trial.told) continue;
    ++trial.missed;
    trial.longest_missed_s = std::max(trial.longest_missed_s, longest_on_s_);
  }
}

void TrialSet::on(TimeMs at) {
  if (!is_set(last_) || at - last_ > kSameOccurrence) {
    if (occurrences_ > 0) {
      for (Trial& trial : trials_) {
        if (trial.delay.settle(at)) note_raise(trial);
      }
      end_occurrence();
    }
    ++occurrences_;
    occurrence_from_ = at;
    longest_on_s_ = 0.0;
    for (Trial& trial : trials_) {
      // An alarm that an off-delay still holds says it all along.
      trial.told = trial.delay.stands();
      trial.tolds += trial.told;
    }
  }
  for (Trial& trial : trials_) {
    if (trial.delay.condition_on(at)) note_raise(trial);
  }
  on_since_ = last_ = at;
}

void TrialSet::off(TimeMs at) {
  for (Trial& trial : trials_) {
    if (trial.delay.condition_off(at)) note_raise(trial);
  }
  if (is_set(on_since_)) {
    longest_on_s_ = std::max(longest_on_s_, seconds_between(on_since_, at));
  }
  on_since_ = kNoTime;
  last_ = at;
}

void TrialSet::finish(TimeMs at) {
  if (occurrences_ == 0) return;
  for (Trial& trial : trials_) {
    if (trial.delay.finish(at)) note_raise(trial);
  }
  // An alarm whose delay still runs where the journal ends was not missed.
  const bool undecided = is_set(on_since_);
  if (!undecided) end_occurrence();
}

std::vector<CureOutcome> TrialSet::outcomes() const {
  std::vector<CureOutcome> all;
  for (const Trial& trial : trials_) {
    CureOutcome out;
    out.setting = trial.setting;
    out.raises = trial.delay.raises();
    out.chatters = trial.delay.chatters();
    out.index = trial.delay.index();
    out.told = trial.tolds;
    out.delayed = trial.delayed;
    out.missed = trial.missed;
    out.longest_missed_s = trial.longest_missed_s;
    out.mean_delay_s = trial.tolds == 0 ? 0.0 : trial.delay_sum_s / trial.tolds;
    out.worst_delay_s = trial.worst_delay_s;
    out.standing_s = trial.delay.standing_s();
    all.push_back(std::move(out));
  }
  return all;
}

}  // namespace telltale::host
