// Threshold<Self, R, channel>: the working half of a check that only holds one
// channel against its limits.
#pragma once

#include <concepts>

#include "telltale/detect/check.hpp"
#include "telltale/detect/guard.hpp"

namespace telltale {

/// `Self` is the check itself: it says info, when, limits and
/// `kDeadband`, how far back inside a reading must be to clear, in the
/// channel's unit.
template <class Self, std::floating_point R, Channel kChannel>
class Threshold {
 public:
  SetupError configure(const Profile& profile) {
    const Limits limits = Self::limits(profile);
    rule_ = LatchRule<R>::of(limits, static_cast<R>(Self::kDeadband));
    return validate(limits);
  }
  bool step(const Moment<R>& m, const FindingSink<R>& sink) {
    const Reading<R>& reading = m[kChannel];
    if (!reading.good()) return false;
    guard_.step(m, reading.value, rule_, blank(m), sink);
    return true;
  }
  void end_run(const Moment<R>& m, const FindingSink<R>& sink) {
    guard_.finish(m.at, blank(m), sink);
  }
  void reset() { guard_.reset(); }
  [[nodiscard]] static Blind blind() { return Blind::never_steady; }

 private:
  static Finding<R> blank(const Moment<R>& m) {
    return {.check = Self::info.id,
            .channel = kChannel,
            .unit = info_of(kChannel).unit,
            .detail = {m.load_pct}};
  }

  Guard<R> guard_;
  LatchRule<R> rule_;
};

}  // namespace telltale
