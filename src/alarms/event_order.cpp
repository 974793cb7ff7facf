// Sorting within what a journal needs.
#include "alarms/event_order.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <utility>

#include "report/value_text.hpp"

namespace telltale::host {

void OrderSurvey::see(const JournalRow& row) {
  if (++rows_ == 1) {
    first_row_ = earliest_ = {row.logged, row.logged, row.line};
  } else if (row.logged < earliest_.at) {
    earliest_ = {row.logged, row.logged, row.line};
  }
  if (is_set(last_) && row.logged < last_) {
    ++back_;
    if (last_ - row.logged > kStep) {
      ++steps_;
      other_unit_ = other_unit_ || unit_ != row.unit;
      before_step_ = newest_;
      step_offset_ = step_offset_ + (last_ - row.logged);
    }
  } else if (is_set(before_step_) && row.logged >= before_step_) {
    // Time is back where it was: one row came late, the clock was not set.
    --steps_;
    step_offset_ = {};
    before_step_ = kNoTime;
  }
  if (is_set(newest_) && newest_ > row.logged) {
    const DurationMs late = newest_ - row.logged;
    late_ = std::max(late_, late);
    if (!is_set(last_) || last_ - row.logged <= kStep) {
      late_no_step_ =
          std::max(late_no_step_,
                   last_ > row.logged ? last_ - row.logged : DurationMs{});
    }
  }
  newest_ = is_set(newest_) ? std::max(newest_, row.logged) : row.logged;
  last_ = row.logged;
  unit_.assign(row.unit);
}

bool OrderSurvey::clock_steps() const {
  return steps_ > 0 && !other_unit_ &&
         steps_ <= std::max<std::uint64_t>(1, rows_ / 1000) &&
         back_ < rows_ / 3 && late_ > kStep;
}

DurationMs OrderSurvey::hold() const {
  return clock_steps() ? std::max(late_no_step_, DurationMs{}) : late_;
}

std::string OrderSurvey::note() const {
  if (clock_steps()) {
    return fmt::format(
        "the clock was set back {} time{}: spans of time leave that out",
        steps_, steps_ == 1 ? "" : "s");
  }
  if (sorted_in_memory()) {
    return fmt::format(
        "{} rows are earlier than the one before them, by up to {}: all rows "
        "were sorted by time",
        back_, duration_text(static_cast<double>(late_.ms) / 1000.0));
  }
  if (late_.ms > 0) {
    return fmt::format("{} rows came up to {} late: put in order of time",
                       back_,
                       duration_text(static_cast<double>(late_.ms) / 1000.0));
  }
  return "";
}

EventOrder::EventOrder(const OrderSurvey& survey, Sink sink)
    : sink_(std::move(sink)),
      hold_(survey.hold()),
      steps_(survey.clock_steps()),
      hold_all_(survey.sorted_in_memory()) {}

void EventOrder::push(const JournalRow& row) {
  if (steps_ && is_set(newest_) &&
      newest_ - (row.logged + offset_) > OrderSurvey::kStep) {
    offset_ = newest_ - row.logged;
  }
  const TimeMs at = row.logged + offset_;
  for (const JournalRow::Happening& happening : row.events) {
    AlarmEvent event;
    // Never before what is out already.
    event.at = std::max(happening.logged + offset_, released_);
    event.logged = happening.logged;
    event.line = row.line;
    event.alarm = happening.alarm;
    event.kind = happening.kind;
    event.paired = happening.paired;
    held_.push({event, number_++});
  }
  if (!is_set(newest_) || at > newest_) {
    newest_ = at;
    last_ = {at, row.logged, row.line};
  }
  if (!hold_all_) release(newest_ - hold_);
}

void EventOrder::release(TimeMs until) {
  // What is as late as the hold may still be preceded: strictly before.
  while (!held_.empty() && held_.top().event.at < until) {
    released_ = held_.top().event.at;
    sink_(held_.top().event);
    held_.pop();
  }
}

void EventOrder::finish() {
  while (!held_.empty()) {
    if (held_.top().event.at > last_.at) last_ = place_of(held_.top().event);
    sink_(held_.top().event);
    held_.pop();
  }
}

}  // namespace telltale::host
