// A reader, and blocks between it and whoever asks for rows.
#include "ingest/read_ahead.hpp"

#include <utility>

namespace telltale::host {

ReadAhead::ReadAhead(LogReader reader, Threads threads)
    : reader_(std::move(reader)) {
  if (threads == Threads::more) {
    thread_ = thread_if_any([this] { read_all(); });
  }
}

ReadAhead::~ReadAhead() {
  if (!thread_.joinable()) return;
  given_up_ = true;
  ring_.wake_giver();
  thread_.join();
}

void ReadAhead::read(Block& block) {
  block.rows.resize(kRows);
  block.used = 0;
  while (block.used < kRows && reader_.next(block.rows[block.used])) {
    ++block.used;
    expect<Use::writing>(block.rows.data(), block.used + kAhead);
  }
  block.progress = reader_.progress();
  const auto tell = [](const Names& names, std::size_t& told,
                       std::optional<Names>& to) {
    if (names.size() == told) return;
    told = names.size();
    to = names;
  };
  tell(reader_.unit_names(), units_told_, block.unit_names);
  tell(reader_.alarm_names(), alarms_told_, block.alarm_names);
}

void ReadAhead::read_all() {
  for (bool more = true; more;) {
    Block& block = ring_.to_fill();
    if (given_up_) return;
    read(block);
    more = block.used == kRows;
    ring_.give();
  }
}

bool ReadAhead::next_block() {
  if (begun_ && in_hand_->used < kRows) return false;
  if (!thread_.joinable()) {
    read(own_);
  } else {
    if (begun_) ring_.free();
    in_hand_ = &ring_.to_take();
  }
  begun_ = true;
  at_ = 0;
  const auto learn = [](std::optional<Names>& from, Names& to) {
    if (from) to = std::move(*from);
    from.reset();
  };
  learn(in_hand_->unit_names, unit_names_);
  learn(in_hand_->alarm_names, alarm_names_);
  return in_hand_->used > 0;
}

}  // namespace telltale::host
