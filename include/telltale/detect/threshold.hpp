// Threshold<Self, R, channel>: the working half of a check that only holds one
// channel against its limits.
#pragma once

#include <concepts>

#include "telltale/detect/check.hpp"
#include "telltale/detect/guard.hpp"

namespace telltale {

/// `Self` is the check itself: it says info, when, limits (above which is bad)
/// and `kDeadband`, how far back inside a reading must be to clear, in the
/// channel's unit.
template <class Self, std::floating_point R, Channel kChannel>
class Threshold {
 public:
  SetupError configure(const Profile& profile) {
    edge_ = rule(profile).edge();
    return validate(Self::limits(profile));
  }
  bool step(const Moment<R>& m, const FindingSink<R>& sink) {
    const Reading<R>& reading = m[kChannel];
    if (!reading.good()) return false;
    if (guard_.minds(reading.value, edge_, Side::above)) {
      guard_.step(m, reading.value, rule(*m.profile), about(), sink,
                  {{m.load_pct}});
    }
    return true;
  }
  void end_run(const Moment<R>& m, const FindingSink<R>& sink) {
    guard_.finish(m.at, about(), sink);
  }
  void reset() { guard_.reset(); }
  [[nodiscard]] static Blind blind() { return Blind::never_steady; }

 private:
  static constexpr About about() {
    return {Self::info.id, kChannel, info_of(kChannel).unit};
  }
  static LatchRule<R> rule(const Profile& profile) {
    return LatchRule<R>::of(Self::limits(profile),
                            static_cast<R>(Self::kDeadband));
  }

  Guard<R> guard_;
  R edge_ = Finding<R>::kNone;
};

}  // namespace telltale
