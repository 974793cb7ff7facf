// Reading of stamps, row by row.
#include "ingest/row_clock.hpp"

#include <utility>

#include "support/civil_time.hpp"

namespace telltale::host {

RowClock::RowClock(const DecodePlan& plan)
    : split_(plan.split_time),
      day_carry_(plan.time.kind == StampKind::clock),
      zone_shift_ms_(plan.utc_offset_min.value_or(0) * kMsPerMinute),
      days_ms_(plan.first_day_ms) {
  if (auto reader = StampReader::of(plan.time, plan.decimal)) {
    time_ = std::move(*reader);
  }
  if (auto reader = StampReader::of(plan.time_of_day, plan.decimal)) {
    of_day_ = std::move(*reader);
  }
}

bool RowClock::read(Cell time, Cell of_day, TimeMs& stamp) {
  std::int64_t ms = 0;
  bool has_zone = false;
  if (!time_.read(time, ms, has_zone)) return false;
  if (split_) {
    std::int64_t clock_ms = 0;
    bool clock_zone = false;
    if (!of_day_.read(of_day, clock_ms, clock_zone)) return false;
    ms += clock_ms;
    has_zone = has_zone || clock_zone;
  } else if (day_carry_) {
    // A clock that goes back by half a day or more has passed midnight.
    if (last_ms_ >= 0 && ms + kMsPerDay / 2 < last_ms_) days_ms_ += kMsPerDay;
    last_ms_ = ms;
    ms += days_ms_;
  }
  if (!has_zone) ms -= zone_shift_ms_;
  stamp = TimeMs{ms};
  return true;
}

}  // namespace telltale::host
