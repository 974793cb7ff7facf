// Guard<R>: a latch on one channel that reports by itself.
#pragma once

#include <algorithm>
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
  static constexpr DurationMs kForget = minutes(2);

  /// Whether a value is worth a step. Most are not: what is not beyond the
  /// rule's edge leaves an idle guard idle.
  [[nodiscard]] bool minds(R value, R edge, Side side) const {
    return !latch_.idle() ||
           (side == Side::above ? value > edge : value < edge);
  }
  /// One judged value. `details` are those of this moment, and reach the sink
  /// when the finding opens or worsens: at its close they would tell of
  /// something else.
  void step(const Moment<R>& m, R value, const LatchRule<R>& rule, About about,
            const FindingSink<R>& sink, const Details<R>& details = {}) {
    const DurationMs forget = std::max(kForget, DurationMs{m.interval.ms * 5});
    const LatchChange change = latch_.step(m.at, value, rule, forget);
    if (change != LatchChange::none) {
      report(change, m.at, about, sink, details);
    }
  }
  /// The run is over: closes what stands.
  void finish(TimeMs now, About about, const FindingSink<R>& sink) {
    if (latch_.standing()) report(LatchChange::closed, now, about, sink, {});
    latch_.reset();
  }
  void reset() { latch_.reset(); }
  [[nodiscard]] const Latch<R>& latch() const { return latch_; }

 private:
  void report(LatchChange change, TimeMs now, About about,
              const FindingSink<R>& sink, const Details<R>& details) {
    Finding<R> finding{.check = about.check,
                       .channel = about.channel,
                       .event = FindingEvent::closed,
                       .unit = about.unit};
    latch_.describe(finding, now);
    if (change == LatchChange::closed) {
      latch_.reset();
    } else {
      finding.event = change == LatchChange::opened ? FindingEvent::opened
                                                    : FindingEvent::worsened;
      finding.detail = details.of;
    }
    sink(finding);
  }

  Latch<R> latch_;
};

}  // namespace telltale
