// Ledger<R>: what stands open, of all checks, and the one place from which
// findings are told.
#pragma once

#include <algorithm>
#include <array>
#include <bit>
#include <concepts>
#include <cstddef>
#include <cstdint>
#include <type_traits>

#include "telltale/base/box.hpp"
#include "telltale/base/stamp.hpp"
#include "telltale/condition/moment.hpp"
#include "telltale/detect/finding.hpp"
#include "telltale/detect/latch.hpp"

namespace telltale {

/// Which value is worse than the one told before.
enum class Worse : std::uint8_t { higher, lower, this_one, none };

/// Shown to every check beside the moment. A check keeps no finding of its own
/// but asks by its id, in one of three ways:
///   watch()   a value and the limits it must pass for a while: the ledger
///             opens, worsens and closes
///   hold()    a severity that the check has worked out itself: stands until
///             close()
///   tell()    said once, and done
/// Whatever stands when the run ends is closed then.
template <std::floating_point R>
class Ledger {
 public:
  /// A longer time without a judged value restarts a pending delay.
  static constexpr SpanOf<R> kForget = minutes(2);
  /// Values of one check that may be watched side by side.
  static constexpr std::uint8_t kPlaces = 4;
  static constexpr std::uint8_t kMostId = 0xFF / kPlaces;

  /// Whether a value is worth a watch. Most are not: what is not beyond the
  /// edge of its rule changes nothing where nothing is pending.
  [[nodiscard]] bool minds(std::uint8_t check, R value, R edge,
                           Side side) const {
    return (side == Side::above ? value > edge : value < edge) ||
           (watched_[check / 32U] >> check % 32U & 1U) != 0;
  }
  /// One judged value. `details` are those of this moment, and are told when
  /// the finding opens or worsens: at its close they would tell of something
  /// else. While it stands it keeps the channel with which it began. `place`
  /// tells the values of one check apart. REQUIRES: place < kPlaces
  [[gnu::noinline, gnu::cold]] void watch(const Moment<R>& m, About about,
                                          R value, const LatchRule<R>& rule,
                                          const Details<R>& details = {},
                                          std::uint8_t place = 0) {
    const auto key = static_cast<std::uint8_t>(about.check * kPlaces + place);
    Watch* const watch = watch_under(key, rule.beyond_any(value));
    if (watch == nullptr) return;
    const SpanOf<R> forget =
        std::max(kForget, SpanOf<R>{std::int64_t{m.interval.ms} * 5});
    if (!watch->latch.standing()) {
      watch->channel = about.channel;
      watch->unit = about.unit;
    }
    const LatchChange change = watch->latch.step(m.at, value, rule, forget);
    if (change == LatchChange::closed) {
      report(*watch, FindingEvent::closed, m.at, {});
    } else if (change != LatchChange::none) {
      report(*watch,
             change == LatchChange::opened ? FindingEvent::opened
                                           : FindingEvent::worsened,
             m.at, details);
    }
    if (change == LatchChange::closed || watch->latch.idle()) drop(*watch);
  }
  /// The same of a value that is told beside the load, by a rule that is only
  /// worked out now: a check is mostly done after minds().
  [[gnu::noinline, gnu::cold]] void watch(
      const Moment<R>& m, About about, R value,
      LatchRule<R> (*rule)(const Profile&)) {
    watch(m, about, value, rule(*m.profile), {{m.load_pct}});
  }

  /// A judgement that finds something. It is told if its severity is new or
  /// higher; the worst figures are remembered for the close.
  void hold(About about, Span<R> span, R value, R limit,
            const Details<R>& details = {}, Worse worse = Worse::higher) {
    hold_in(about, span.since, span.until, value, limit, details, worse);
  }
  /// What the check holds is over. Does nothing where it holds nothing.
  void close(std::uint8_t check, TimeOf<R> now) {
    Held* const held = find(check);
    if (held == nullptr) return;
    tell_closed(*held, now);
    *held = held_[--held_size_];
  }
  /// The same where the condition was last true so long ago.
  void close_after(std::uint8_t check, TimeOf<R> now, SpanOf<R> quiet) {
    const Held* const held = find(check);
    if (held != nullptr && held->until.age(now) > quiet) close(check, now);
  }
  [[nodiscard]] bool holds(std::uint8_t check) const {
    return find(check) != nullptr;
  }
  /// What is held, and its severity; none and not_judged where nothing is.
  [[nodiscard]] About held(std::uint8_t check) const {
    const Held* const held = find(check);
    return held != nullptr ? held->about : About{check};
  }
  /// The worst value held; NaN where none is.
  [[nodiscard]] R worst(std::uint8_t check) const {
    const Held* const held = find(check);
    return held != nullptr ? held->value : Finding<R>::kNone;
  }

  /// A finding as it is.
  void tell(About about, Span<R> span, R value, R limit,
            const Details<R>& details = {},
            FindingEvent event = FindingEvent::opened) {
    tell_in(about, span.since, span.until, value, limit, details, event);
  }

  /// How many checks found no room for a watch or a finding since the last
  /// close_all().
  [[nodiscard]] std::uint16_t untold() const {
    int checks = 0;
    for (const std::uint32_t word : untold_) checks += std::popcount(word);
    return static_cast<std::uint16_t>(checks);
  }

  /// The run is over: closes what stands, forgets what is pending.
  void close_all(TimeOf<R> now) {
    for (std::size_t i = 0; i < watches_; ++i) {
      Watch& watch = watch_[i];
      if (watch.latch.standing()) report(watch, FindingEvent::closed, now, {});
    }
    for (std::size_t i = 0; i < held_size_; ++i) tell_closed(held_[i], now);
    watches_ = held_size_ = 0;
    watched_ = untold_ = {};
  }
  /// Where findings go until further notice, and the run they are of.
  void direct(const FindingSink<R>* sink, TimeMs now) {
    sink_ = sink;
    now_ = now;
  }
  void number(std::uint16_t run) { run_ = run; }

 private:
  struct Watch {
    [[no_unique_address]] Latch<R> latch;
    // These lie in the latch's padding.
    std::uint8_t key = 0;
    Channel channel{};  // a watch that is taken has one
    Unit unit = Unit::one;
  };
  struct NotKept {};
  struct Held {
    Stamp since;
    Stamp until;
    R value = R(0);
    R limit = R(0);
    About about{.channel = {}};  // what is held says its own
    /// A box's event records hold none, so it keeps none.
    [[no_unique_address]] std::conditional_t<kOnBox<R>, NotKept, Details<R>>
        details{};
  };

  // Of hold() and tell(), in plain words: a struct of two of them would go
  // through memory on its way.
  [[gnu::noinline, gnu::cold]] void hold_in(About about, TimeOf<R> since,
                                            TimeOf<R> until, R value, R limit,
                                            const Details<R>& details,
                                            Worse worse) {
    Held* held = find(about.check);
    if (held == nullptr) {
      if (held_size_ == held_.size()) {
        mark(untold_, about.check);
        return;
      }
      held = &held_[held_size_++];
      held->about = {about.check};
    }
    const bool rises = about.severity > held->about.severity;
    if (rises || worse == Worse::this_one ||
        (worse == Worse::higher && value > held->value) ||
        (worse == Worse::lower && value < held->value)) {
      held->value = value;
      held->limit = limit;
      held->about.unit = about.unit;
      if constexpr (!kOnBox<R>) held->details = details;
    }
    held->until = Stamp(until);
    if (!rises) return;
    const bool stood = is_finding(held->about.severity);
    held->about.severity = about.severity;
    held->about.channel = about.channel;
    held->since = Stamp(since);
    tell(about, {since, until}, value, limit, details,
         stood ? FindingEvent::worsened : FindingEvent::opened);
  }
  [[gnu::noinline, gnu::cold]] void tell_in(About about, TimeOf<R> since,
                                            TimeOf<R> until, R value, R limit,
                                            const Details<R>& details,
                                            FindingEvent event) {
    (*sink_)({.check = about.check,
              .channel = about.channel,
              .severity = about.severity,
              .event = event,
              .unit = about.unit,
              .run = run_,
              .value = value,
              .limit = limit,
              .since = full(since, now_),
              .until = full(until, now_),
              .detail = details.of});
  }

  static constexpr ChannelMask in_word(std::uint8_t check) {
    return ChannelMask{1} << check % 32U;
  }
  /// The watch of that key, a new one where `wanted`; nullptr for none.
  Watch* watch_under(std::uint8_t key, bool wanted) {
    for (std::size_t i = 0; i < watches_; ++i) {
      if (watch_[i].key == key) return &watch_[i];
    }
    if (!wanted) return nullptr;
    if (watches_ == watch_.size()) {
      mark(untold_, key / kPlaces);
      return nullptr;
    }
    Watch& fresh = watch_[watches_++];
    fresh = Watch{};
    fresh.key = key;
    mark(watched_, key / kPlaces);
    return &fresh;
  }
  void drop(Watch& watch) {
    const std::uint8_t check = watch.key / kPlaces;
    watch = watch_[--watches_];
    watched_[check / 32U] &= ~in_word(check);
    for (std::size_t i = 0; i < watches_; ++i) {
      mark(watched_, watch_[i].key / kPlaces);
    }
  }
  /// Checks by their ids, one bit each.
  using Checks = std::array<std::uint32_t, 2>;
  static void mark(Checks& checks, std::uint8_t check) {
    checks[check / 32U] |= in_word(check);
  }
  void report(const Watch& watch, FindingEvent event, TimeOf<R> now,
              const Details<R>& details) {
    const Latch<R>& latch = watch.latch;
    const auto check = static_cast<std::uint8_t>(watch.key / kPlaces);
    tell({check, watch.channel, watch.unit, latch.state()}, latch.span(now),
         latch.worst(), latch.limit(), details, event);
  }
  Held* find(std::uint8_t check) {
    return const_cast<Held*>(static_cast<const Ledger&>(*this).find(check));
  }
  [[gnu::noinline]] const Held* find(std::uint8_t check) const {
    for (std::size_t i = 0; i < held_size_; ++i) {
      if (held_[i].about.check == check) return &held_[i];
    }
    return nullptr;
  }
  void tell_closed(const Held& held, TimeOf<R> now) {
    Details<R> details;
    if constexpr (!kOnBox<R>) details = held.details;
    tell(held.about, {held.since.full(now), held.until.full(now)}, held.value,
         held.limit, details, FindingEvent::closed);
  }

  const FindingSink<R>* sink_ = nullptr;
  std::uint16_t run_ = 0;
  std::uint8_t watches_ = 0;
  std::uint8_t held_size_ = 0;
  TimeMs now_ = kNoTime;
  std::array<Watch, room<R>(64, 12)> watch_{};
  std::array<Held, room<R>(64, 10)> held_{};
  Checks watched_{};  // that have a watch
  Checks untold_{};   // that found no room
};

}  // namespace telltale
