// The two delays as a state machine between events.
#include "alarms/delay_trial.hpp"

namespace telltale::host {

bool DelayTrial::rise(TimeMs at) {
  stands_ = true;
  due_ = kNoTime;
  runs_.raise(at);
  screen_.raise(at);
  return true;
}

void DelayTrial::fall(TimeMs at) {
  stands_ = false;
  due_ = kNoTime;
  standing_s_ += static_cast<double>((at - runs_.last()).ms) / 1000.0;
}

bool DelayTrial::settle(TimeMs at) {
  if (!is_set(due_) || due_ > at) return false;
  if (!stands_) return rise(due_);
  fall(due_);
  return false;
}

bool DelayTrial::condition_on(TimeMs at) {
  const bool before = settle(at);
  if (stands_) {
    due_ = kNoTime;
  } else if (on_.ms == 0) {
    return rise(at);
  } else if (!is_set(due_)) {
    due_ = at + on_;
  }
  return before;
}

bool DelayTrial::condition_off(TimeMs at) {
  const bool before = settle(at);
  if (!stands_) {
    due_ = kNoTime;
  } else if (off_.ms == 0) {
    fall(at);
  } else if (!is_set(due_)) {
    due_ = at + off_;
  }
  return before;
}

bool DelayTrial::finish(TimeMs at) {
  const bool before = settle(at);
  if (stands_) fall(at);
  return before;
}

}  // namespace telltale::host
