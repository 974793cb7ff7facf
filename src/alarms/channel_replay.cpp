// Replaying a limit.
#include "alarms/channel_replay.hpp"

#include <algorithm>
#include <array>
#include <cmath>

namespace telltale::host {
namespace {

// Deadbands to try, in the channel's unit. ISA-18.2-2009 starts at 1 % of the
// range for temperatures, 2 % for pressures, 5 % for levels (from memory).
std::array<double, 4> deadbands_for(const AlarmLimit& limit) {
  switch (info_of(limit.channel).unit) {
    case Unit::degC:
      return {0.5, 1.0, 2.0, 5.0};
    case Unit::pct:
      return {1.0, 2.0, 5.0, 10.0};
    default: {
      const double size = std::abs(limit.limit);
      return {size * 0.01, size * 0.02, size * 0.05, size * 0.10};
    }
  }
}

// As the log has it, for the raises that are there without any setting.
constexpr CureSetting kAsItIs{};

}  // namespace

ChannelReplay::ChannelReplay(const AlarmLimit& limit, double interval_s)
    : limit_(limit), limit_value_(limit.above ? limit.limit : -limit.limit) {
  const double clears = limit.above ? limit.clears : -limit.clears;
  std::vector<CureSetting> settings = {kAsItIs};
  for (const CureSetting& s : kDelaySettings) {
    const auto judged = [&](double delay) {
      return delay == 0.0 || delay >= interval_s;
    };
    if (judged(s.on_delay_s) && judged(s.off_delay_s)) settings.push_back(s);
  }
  bands_.push_back(
      {0.0, clears, false,
       std::make_unique<TrialSet>(settings.data(), settings.size())});
  for (const double deadband : deadbands_for(limit)) {
    if (limit_value_ - deadband >= clears) continue;  // there already
    const CureSetting setting{0.0, 0.0, deadband};
    bands_.push_back({deadband, limit_value_ - deadband, false,
                      std::make_unique<TrialSet>(&setting, 1)});
  }
}

void ChannelReplay::push(TimeMs at, double reading, bool stands) {
  if (std::isnan(reading)) return;
  const double value = limit_.above ? reading : -reading;
  // What stands where the log begins was raised before.
  if (any_ && stands && !stood_) {
    ++limit_.recorded;
    if (is_set(raised_) && at - raised_ <= kSame) {
      ++limit_.reproduced;
      raised_ = kNoTime;
    } else {
      recorded_ = at;
    }
  }
  for (Band& band : bands_) {
    const bool on = band.on ? value >= band.clears : value >= limit_value_;
    if (on == band.on) continue;
    band.on = on;
    on ? band.trials->on(at) : band.trials->off(at);
    if (!on || &band != bands_.data()) continue;
    ++raises_;
    if (is_set(recorded_) && at - recorded_ <= kSame) {
      ++limit_.reproduced;
      recorded_ = kNoTime;
    } else {
      raised_ = at;
    }
  }
  stood_ = stands;
  any_ = true;
}

void ChannelReplay::finish(TimeMs at) {
  for (Band& band : bands_) band.trials->finish(at);
}

bool ChannelReplay::faithful() const {
  return limit_.recorded > 0 && limit_.reproduced * 10 >= limit_.recorded * 8 &&
         raises_ * 10 <= limit_.recorded * 12 + 10;
}

void ChannelReplay::fill(Cure& cure) const {
  cure.basis = CureBasis::replay;
  cure.limit = limit_;
  cure.why.clear();
  cure.outcomes.clear();
  cure.occurrences = bands_.front().trials->occurrences();
  for (const Band& band : bands_) {
    for (CureOutcome& outcome : band.trials->outcomes()) {
      const CureSetting& s = outcome.setting;
      if (s.on_delay_s == 0 && s.off_delay_s == 0 && s.deadband == 0) {
        cure.raises = outcome.raises;
        cure.standing_s = outcome.standing_s;
        continue;
      }
      cure.outcomes.push_back(std::move(outcome));
    }
  }
  choose_proposal(cure);
}

}  // namespace telltale::host
