// Judgement: the standards' measures of a report, and what to do first.
#pragma once

#include <string_view>

#include "alarms/alarm_report.hpp"
#include "report/value_text.hpp"

namespace telltale::host {

/// Why there is no cure for a shutdown.
inline constexpr std::string_view kShutdownStays =
    "a shutdown: its limit, delay and deadband are left as they are; find what "
    "makes it come and go";

/// What every cure of a warning must be read with.
inline constexpr std::string_view kCureCaution =
    "Look at the channel behind the alarm first: it may be right. Delays and "
    "deadbands are for warnings alone; never weaken a shutdown, and keep an "
    "on-delay shorter than the time left to act.";

/// Fills `measures` and `findings` from the rest of the report.
void judge(AlarmReport& report);

/// The unit that a cure's channel is shown in; none where no channel is known.
LogUnit unit_in(const ValueText& text, const Cure& cure);

/// The first sentence on an alarm's cure: what to set, or why nothing.
/// `wanted`: the unit its channel is shown in, see shown_unit.
std::string cure_in_words(const Cure& cure, LogUnit wanted = LogUnit::none);

/// What a cure's table rests on.
std::string basis_in_words(const Cure& cure, LogUnit wanted = LogUnit::none);

/// How a journal tells of alarms, as a sentence.
std::string_view shape_in_words(JournalShape shape);

}  // namespace telltale::host
