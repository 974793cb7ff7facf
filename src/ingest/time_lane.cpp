// Sorting, clock steps and spreading within one unit.
#include "ingest/time_lane.hpp"

#include <algorithm>
#include <array>
#include <utility>

#include "ingest/clock_step.hpp"

namespace telltale::host {
namespace {

// Rows kept behind the head to judge a leap by.
constexpr std::size_t kHistory = 16;
constexpr std::size_t kLookAhead = 16;
// Room for the minute that rows of a second wait, and thrice that.
constexpr std::size_t kRoom = 256;

}  // namespace

void TimeOrder::Lane::Queue::push(const Row& row, std::uint32_t lines,
                                  std::uint32_t segment) {
  if (end_ - begin_ == slots_.size()) make_room();
  Held& held = slot(end_++);
  held.row = row;
  held.lines = lines;
  held.segment = segment;
}

void TimeOrder::Lane::Queue::insert(std::size_t i, const Held& held) {
  push(held.row, held.lines, held.segment);
  const std::size_t place = head_ + i;
  for (std::size_t at = end_ - 1; at > place; --at) slot(at) = slot(at - 1);
  slot(place) = held;
}

// Gives up history, but for a little; where that is not enough, the room
// doubles.
void TimeOrder::Lane::Queue::make_room() {
  if (out() > kHistory) {
    begin_ = head_ - kHistory;
    return;
  }
  std::vector<Held> more(slots_.empty() ? kRoom : 2 * slots_.size());
  for (std::size_t i = begin_; i < end_; ++i) {
    more[i & (more.size() - 1)] = slot(i);
  }
  slots_ = std::move(more);
}

void TimeOrder::Lane::note_distance(TimeMs stamp) {
  if (is_set(arrived_) && stamp != arrived_) {
    const std::int64_t distance = (stamp - arrived_).ms;
    distances_[next_distance_++ % kDistances] =
        distance < 0 ? -distance : distance;
  }
  arrived_ = stamp;
}

// The log's usual step, unless the last rows all came in quite another one.
std::int64_t TimeOrder::Lane::usual_step() const {
  const std::int64_t usual = std::max<std::int64_t>(options_->stamp_step.ms, 1);
  std::array<std::int64_t, kDistances> sorted = distances_;
  std::sort(sorted.begin(), sorted.end());
  const auto first =
      std::find_if(sorted.begin(), sorted.end(), [](auto d) { return d > 0; });
  if (sorted.end() - first < 8) return usual;
  // The second smallest: one odd pair of rows does not count.
  const std::int64_t local = *(first + 1);
  const bool alike = local * 3 >= usual * 2 && local <= usual * 3;
  return alike ? usual : local;
}

void TimeOrder::Lane::push(const Row& row, std::string_view text,
                           std::uint32_t lines) {
  note_distance(row.logged);
  if (late_.empty() && (!is_set(newest_) || row.logged >= newest_)) {
    append(row, lines);
    return;
  }
  late_.push_back({{row, lines, 0}, std::string(text)});
  resolve(false);
}

void TimeOrder::Lane::append(const Row& row, std::uint32_t lines) {
  ++rows_;
  repeats_ += is_set(newest_) && row.logged == newest_;
  newest_ = row.logged;
  held_.push(row, lines, segment_);
}

// Late rows are settled once it shows whether time runs on from them or
// returns to where it was.
void TimeOrder::Lane::resolve(bool finished) {
  const std::size_t count = late_.size();
  const Row& last = late_.back().held.row;
  const std::int64_t late_by = (newest_ - late_.front().held.row.logged).ms;
  const bool resumed = last.logged >= newest_ && count > 1;
  if (resumed) {
    const std::int64_t jump =
        (last.logged - late_[count - 2].held.row.logged).ms;
    // Where many rows share a stamp, one late by a stamp is no clock step.
    const bool coarse = repeats_ * 4 > rows_ && late_by <= usual_step();
    const bool leaps = jump * 2 > usual_step() * 3;
    if (coarse || (leaps && !mostly_seen())) {
      const Held back = late_.back().held;
      late_.pop_back();
      accept_late();
      append(back.row, back.lines);
    } else {
      step_back();
    }
    return;
  }
  if (finished) {
    // Three rows or more that run on in steps as usual: the clock was set.
    bool runs_on = count >= 3;
    for (std::size_t i = 1; i < count; ++i) {
      const std::int64_t step =
          (late_[i].held.row.logged - late_[i - 1].held.row.logged).ms;
      runs_on &= step > 0 && step * 2 <= usual_step() * 3;
    }
    runs_on ? step_back() : accept_late();
    return;
  }
  const bool beyond_rows =
      count > std::max<std::size_t>(options_->hold_rows, 2);
  const bool beyond_time = late_by > options_->hold.ms;
  if ((beyond_rows && beyond_time) || count >= kMaxHeld / 8) step_back();
}

// Whether late rows carry stamps that rows before them had: those of a clock
// that goes over the same time again.
bool TimeOrder::Lane::mostly_seen() const {
  // The last of them has resumed the old time and does not count.
  const std::size_t count = late_.size() - 1;
  std::size_t seen = 0;
  for (std::size_t i = 0; i < count; ++i) {
    const TimeMs stamp = late_[i].held.row.logged;
    seen += holds(stamp);
  }
  return count >= 3 && seen * 2 > count;
}

bool TimeOrder::Lane::holds(TimeMs stamp) const {
  const auto end = static_cast<std::ptrdiff_t>(held_.waiting());
  for (auto i = -static_cast<std::ptrdiff_t>(held_.out()); i < end; ++i) {
    if (held_[i].segment == segment_ && held_[i].row.logged == stamp) {
      return true;
    }
  }
  return false;
}

void TimeOrder::Lane::accept_late() {
  std::vector<Late> late;
  late.swap(late_);
  for (Late& row : late) insert_late(row);
}

void TimeOrder::Lane::insert_late(Late& late_row) {
  const Held& late = late_row.held;
  std::size_t place = held_.waiting();
  const auto before = [&]() -> const Held& {
    return held_[static_cast<std::ptrdiff_t>(place) - 1];
  };
  while (place > 0 && before().segment == segment_ &&
         before().row.logged > late.row.logged) {
    --place;
  }
  const bool behind_what_is_out = place == 0 && is_set(last_logged_) &&
                                  last_segment_ == segment_ &&
                                  last_logged_ > late.row.logged;
  // A group of equal stamps that is half out can't be joined by an elder.
  const bool within_group = place == 0 && group_left_ > 0;
  if (behind_what_is_out || within_group) {
    dropped_->push_back({LineFate::too_late, late.row.line, late.lines,
                         std::move(late_row.text)});
    return;
  }
  Held row = late;
  row.segment = segment_;
  held_.insert(place, row);
}

void TimeOrder::Lane::step_back() {
  std::vector<Late> late;
  late.swap(late_);
  ++segment_;
  newest_ = kNoTime;
  append(late.front().held.row, late.front().held.lines);
  for (std::size_t i = 1; i < late.size(); ++i) {
    push(late[i].held.row, late[i].text, late[i].held.lines);
  }
}

void TimeOrder::Lane::settle() {
  while (!late_.empty()) resolve(true);
}

// What the analysis clock moves on by where the log's clock was set.
std::int64_t TimeOrder::Lane::usual_advance() const {
  const std::int64_t interval =
      std::max<std::int64_t>(options_->interval.ms, 1);
  if (repeats_ * 4 > rows_ || distinct_step_ms_ == 0) return interval;
  // Sampling may have changed since the log's beginning.
  return std::min(distinct_step_ms_, options_->leap.ms);
}

// How many rows share the front's stamp, and over what span they spread.
void TimeOrder::Lane::begin_group() {
  const Held& first = held_[0];
  const auto waiting = static_cast<std::ptrdiff_t>(held_.waiting());
  std::ptrdiff_t end = 1;
  while (end < waiting && held_[end].segment == first.segment &&
         held_[end].row.logged == first.row.logged) {
    ++end;
  }
  group_size_ = group_left_ = static_cast<std::size_t>(end);
  group_index_ = 0;
  if (group_size_ == 1) return;
  const bool has_next = end < waiting && held_[end].segment == first.segment;
  std::int64_t span = has_next ? (held_[end].row.logged - first.row.logged).ms
                               : distinct_step_ms_;
  // Before a gap, and at the end, rows keep the distance they had.
  if (distinct_step_ms_ > 0 && span > 3 * distinct_step_ms_) {
    span = distinct_step_ms_;
  }
  if (span == 0) {
    span = options_->interval.ms * static_cast<std::int64_t>(group_size_);
  }
  group_span_ms_ = span;
}

bool TimeOrder::Lane::leapt_forward(const Row& next) const {
  if (!is_set(last_logged_) || last_segment_ != held_[0].segment) {
    return false;
  }
  const std::int64_t leap = (next.logged - last_logged_).ms;
  return leap > options_->leap.ms && leap > 20 * options_->interval.ms &&
         was_set_forward();
}

bool TimeOrder::Lane::was_set_forward() const {
  // Rows are not contiguous in held_ by themselves: copy the few that count.
  std::array<Row, kHistory> before;
  std::array<Row, kLookAhead> after;
  const std::size_t history = std::min(held_.out(), kHistory);
  for (std::size_t i = 0; i < history; ++i) {
    before[history - 1 - i] = held_[-1 - static_cast<std::ptrdiff_t>(i)].row;
  }
  const std::size_t ahead = std::min(held_.waiting(), kLookAhead);
  for (std::size_t i = 0; i < ahead; ++i) {
    after[i] = held_[static_cast<std::ptrdiff_t>(i)].row;
  }
  if (history == 0) return false;
  return is_clock_set_forward(std::span(before).first(history),
                              std::span(after).first(ahead));
}

// Whether a row has waited long enough for late ones to be put before it.
bool TimeOrder::Lane::may_leave(const Held& front,
                                std::size_t most_held) const {
  const std::size_t waiting = held_.waiting();
  return options_->hold_rows == 0 || front.segment != segment_ ||
         waiting >= most_held ||
         (waiting > options_->hold_rows &&
          newest_ - front.row.logged > options_->hold);
}

bool TimeOrder::Lane::pop(Row& row, bool finished, std::size_t most_held) {
  if (empty()) return false;
  const Held& front = held_[0];
  if (!finished && !may_leave(front, most_held)) return false;
  row = front.row;
  if (group_left_ == 0) {
    begin_group();
    if (is_set(last_at_) && front.segment != last_segment_) {
      row.clock = ClockEvent::set_back;
      offset_ms_ = last_at_.ms + usual_advance() - row.logged.ms;
    } else if (leapt_forward(front.row)) {
      row.clock = ClockEvent::set_forward;
      offset_ms_ = last_at_.ms + usual_advance() - row.logged.ms;
    } else if (is_set(last_logged_) && row.logged > last_logged_) {
      distinct_step_ms_ = (row.logged - last_logged_).ms;
    }
  }
  row.at = TimeMs{row.logged.ms + offset_ms_};
  if (group_size_ > 1) {
    row.at.ms += group_span_ms_ * static_cast<std::int64_t>(group_index_) /
                 static_cast<std::int64_t>(group_size_);
  }
  if (options_->hold_rows == 0 && is_set(last_logged_) &&
      front.segment == last_segment_ && row.logged == last_logged_) {
    // How many will share the stamp is not known: one interval each, as long
    // as there is room before the next.
    const std::int64_t latest =
        row.logged.ms + offset_ms_ + options_->stamp_step.ms - 1;
    row.at = TimeMs{std::min(last_at_.ms + options_->interval.ms, latest)};
  }
  if (is_set(last_at_) && row.at < last_at_) row.at = last_at_;
  ++group_index_;
  --group_left_;
  last_at_ = row.at;
  last_logged_ = row.logged;
  last_segment_ = front.segment;
  held_.pop();
  return true;
}

}  // namespace telltale::host
