// Which setting to propose.
#include "alarms/cure.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <tuple>

#include "report/value_text.hpp"

namespace telltale::host {
namespace {

// What an occurrence may last and still be no loss: a fleeting alarm.
constexpr double kFleetingS = 10.0;

std::string why_barred(const CureOutcome& outcome, double time_to_act_s) {
  const double on_delay = outcome.setting.on_delay_s;
  // A comparison with NaN is false: no shutdown ever followed.
  if (on_delay > 0.0 && on_delay * 2.0 > time_to_act_s) {
    return fmt::format(
        "a shutdown once followed {} after this alarm; the delay would take "
        "more than half of that",
        duration_text(time_to_act_s));
  }
  if (outcome.told == 0) return "would never raise it";
  if (outcome.missed > 0 && outcome.longest_missed_s > kFleetingS) {
    return fmt::format("would hide {} of {} occurrences, one of {}",
                       outcome.missed, outcome.missed + outcome.told,
                       duration_text(outcome.longest_missed_s));
  }
  return "";
}

// Later and less is worse than longer: an alarm that comes as early as before
// and stays a little longer costs nobody the time to act.
auto price(const CureOutcome& outcome) {
  return std::make_tuple(outcome.missed, outcome.delayed > 0,
                         outcome.mean_delay_s, outcome.standing_s);
}

}  // namespace

void choose_proposal(Cure& cure) {
  cure.proposal.reset();
  for (CureOutcome& outcome : cure.outcomes) {
    outcome.barred = why_barred(outcome, cure.time_to_act_s);
  }
  // At best an alarm is raised once for each occurrence; without that, it is
  // enough that the chatter is gone.
  for (const double raises_each : {1.5, 1e9}) {
    for (std::size_t i = 0; i < cure.outcomes.size(); ++i) {
      const CureOutcome& outcome = cure.outcomes[i];
      if (outcome.chatters || !outcome.barred.empty() ||
          outcome.raises > raises_each * cure.occurrences) {
        continue;
      }
      if (!cure.proposal ||
          price(outcome) < price(cure.outcomes[*cure.proposal])) {
        cure.proposal = i;
      }
    }
    if (cure.proposal) return;
  }
}

LogUnit shown_unit(const AlarmLimit& limit, LogUnit wanted) {
  const Unit canonical = info_of(limit.channel).unit;
  return conversion(wanted, canonical) ? wanted : as_log_unit(canonical);
}

double shown_deadband(const CureSetting& setting, const AlarmLimit& limit,
                      LogUnit unit) {
  // A difference: an offset has no part in it.
  return setting.deadband /
         conversion(unit, info_of(limit.channel).unit)->scale;
}

std::string words_for(const CureSetting& setting,
                      const std::optional<AlarmLimit>& limit, LogUnit wanted) {
  std::string out;
  const auto say = [&out](std::string part) {
    if (!out.empty()) out += " and ";
    out += std::move(part);
  };
  if (setting.on_delay_s > 0) {
    say(fmt::format("on-delay {}", duration_text(setting.on_delay_s)));
  }
  if (setting.off_delay_s > 0) {
    say(fmt::format("off-delay {}", duration_text(setting.off_delay_s)));
  }
  if (setting.deadband > 0 && limit) {
    const LogUnit unit = shown_unit(*limit, wanted);
    say(fmt::format("deadband {:.3g} {}", shown_deadband(setting, *limit, unit),
                    symbol_of(unit)));
  }
  return out;
}

}  // namespace telltale::host
