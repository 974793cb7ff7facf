// Threshold<Self, R, channel>: the working half of a check that only holds one
// channel against its limits.
#pragma once

#include <concepts>

#include "telltale/detect/check.hpp"

namespace telltale {

/// `Self` is the check itself: it says info, when, limits (above which is bad)
/// and `kDeadband`, how far back inside a reading must be to clear, in the
/// channel's unit.
template <class Self, std::floating_point R, Channel kChannel>
class Threshold {
 public:
  void configure(const Profile& profile) { edge_ = rule(profile).edge(); }

  bool step(const Moment<R>& m, Ledger<R>& ledger) {
    const Reading<R>& reading = m[kChannel];
    if (!reading.good()) return false;
    if (ledger.minds(Self::info.id, reading.value, edge_, Side::above)) {
      ledger.watch(m, {Self::info.id, kChannel, info_of(kChannel).unit},
                   reading.value, rule);
    }
    return true;
  }
  [[nodiscard]] static constexpr Blind blind() { return Blind::never_steady; }

 private:
  static LatchRule<R> rule(const Profile& profile) {
    return LatchRule<R>::of(Self::limits(profile),
                            static_cast<R>(Self::kDeadband));
  }

  R edge_{};
};

}  // namespace telltale
