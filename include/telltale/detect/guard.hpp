// Guard<R>: a latch on one channel that reports by itself.
#pragma once

#include <algorithm>
#include <array>
#include <concepts>
#include <cstdint>

#include "telltale/condition/moment.hpp"
#include "telltale/detect/finding.hpp"
#include "telltale/detect/latch.hpp"

namespace telltale {

/// The finding of one check on one channel: opens, worsens, closes.
template <std::floating_point R>
class Guard {
 public:
  using Details = std::array<R, 4>;
  static constexpr DurationMs kForget = minutes(2);

  /// One judged value. `blank` says which check, channel and unit; its
  /// details are those of this moment, and reach the sink when the finding
  /// opens or worsens: at its close they would tell of something else.
  void step(const Moment<R>& m, R value, const LatchRule<R>& rule,
            const Finding<R>& blank, const FindingSink<R>& sink) {
    const DurationMs forget = std::max(kForget, DurationMs{m.interval.ms * 5});
    const LatchChange change = latch_.step(m.at, value, rule, forget);
    if (change != LatchChange::none) report(change, m.at, blank, sink);
  }
  /// The run is over: closes what stands.
  void finish(TimeMs now, const Finding<R>& blank, const FindingSink<R>& sink) {
    if (latch_.standing()) {
      report(LatchChange::closed, now, blank, sink);
    }
    latch_.reset();
  }
  void reset() { latch_.reset(); }
  [[nodiscard]] const Latch<R>& latch() const { return latch_; }

 private:
  void report(LatchChange change, TimeMs now, const Finding<R>& blank,
              const FindingSink<R>& sink) {
    Finding<R> finding = blank;
    latch_.describe(finding, now);
    if (change == LatchChange::opened) {
      finding.event = FindingEvent::opened;
    } else {
      finding.event = change == LatchChange::worsened ? FindingEvent::worsened
                                                      : FindingEvent::closed;
    }
    if (change == LatchChange::closed) {
      finding.detail.fill(Finding<R>::kNone);
    }
    sink(finding);
    if (change == LatchChange::closed) latch_.reset();
  }

  Latch<R> latch_;
};

}  // namespace telltale
