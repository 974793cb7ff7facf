// Monitor<R, List>: Frames in, Findings out. Ties all blocks together.
#pragma once

#include <array>
#include <concepts>
#include <cstddef>
#include <cstdint>
#include <type_traits>

#include "telltale/acquire/frame.hpp"
#include "telltale/acquire/frame_builder.hpp"
#include "telltale/condition/conditioner.hpp"
#include "telltale/condition/spike_filter.hpp"
#include "telltale/detect/check_list.hpp"
#include "telltale/detect/ledger.hpp"
#include "telltale/profile.hpp"

namespace telltale {

/// How one check fared in a run.
struct Coverage {
  std::uint16_t check = 0;
  bool judged = false;        // at least one scan or block
  Blind blind = Blind::none;  // why nothing was judged
};

/// What became of a set-up.
struct Setup {
  SetupError error = SetupError::none;
  std::uint16_t check = 0;  // the check at fault
};

template <std::floating_point R, class List>
class Monitor;

/// Judges one set, scan by scan. No heap, no history that grows: sizeof() is
/// the memory budget, and the time a step takes has a fixed bound.
///
/// A scan is judged when the next one comes (its single-reading spikes are
/// only known then), so findings lag one interval; flush() judges the last.
template <std::floating_point R, template <class> class... Cs>
class Monitor<R, CheckList<Cs...>> {
 public:
  static constexpr std::size_t kChecks = sizeof...(Cs);

  /// What a step brought besides findings.
  struct Event {
    bool judged = false;  // moment() tells of a scan
    bool run_began = false;
    bool run_ended = false;  // ended_run() and coverage() tell of it
    bool split = false;      // ... because a gap split it
  };

  /// Sets up every check; the first error is returned and leaves the monitor
  /// unusable. REQUIRES: `profile` outlives the monitor.
  [[nodiscard]] Setup configure(const Profile& profile) {
    conditioner_.configure(profile);
    Setup setup;
    for (std::size_t i = 0; i < kChecks; ++i) {
      const SetupError error = validate(kFacts[i].limits(profile));
      if (setup.error == SetupError::none && error != SetupError::none) {
        setup = {error, kFacts[i].id};
      }
    }
    for_each([&](auto& check, std::size_t) {
      if constexpr (requires { check.configure(profile); }) {
        check.configure(profile);
      }
    });
    return setup;
  }

  /// The next scan. Scans do not step back in time.
  Event step(const Frame<R>& next, const FindingSink<R>& sink,
             ClockStep clock = ClockStep::none, DurationMs clock_jump = {}) {
    conditioner_.let_go(spikes_.frame());
    const bool ready = spikes_.step(next, conditioner_.last());
    Event event;
    if (ready) event = judge(sink);
    clock_ = clock;
    clock_jump_ = clock_jump;
    return event;
  }
  /// Judges the scan still held, while its run is open: for whoever wants to
  /// look at it before flush() ends the run.
  Event judge_last(const FindingSink<R>& sink) {
    conditioner_.let_go(spikes_.frame());
    return spikes_.flush() ? judge(sink) : Event{};
  }
  /// No more scans: judges the one still held and ends an open run.
  Event flush(const FindingSink<R>& sink) {
    Event event = judge_last(sink);
    ledger_.direct(&sink, spikes_.frame().at);
    if (conditioner_.finish().run_ended) {
      end_run();
      event.run_ended = true;
    }
    ledger_.direct(nullptr, kNoTime);
    return event;
  }

  /// The scan judged last; its pointers are good until the next step.
  [[nodiscard]] const Moment<R>& moment() const {
    return conditioner_.moment();
  }
  [[nodiscard]] const Conditioner<R>& conditioner() const {
    return conditioner_;
  }
  /// Runs begun so far; findings carry the number of theirs.
  [[nodiscard]] std::uint16_t runs() const { return runs_; }
  /// How often a check had something to tell and there was no room for it: more
  /// stood at the same time than the ledger holds. Each check counts once from
  /// the end of one run to the end of the next. 0: everything was told.
  [[nodiscard]] std::uint32_t untold() const {
    return std::uint32_t{untold_} + ledger_.untold();
  }
  /// The run that ended last.
  [[nodiscard]] RunFacts ended_run() const {
    return full(conditioner_.phases().ended(), conditioner_.last_at());
  }
  /// How every check fared in the run that ended last.
  [[nodiscard]] std::array<Coverage, kChecks> coverage() const {
    std::array<Coverage, kChecks> out{};
    std::size_t i = 0;
    ((out[i] = {Cs<R>::info.id, in(had_judged_, i), blind_[i]}, ++i), ...);
    return out;
  }
  /// After a copy of another monitor's bytes: points at its own parts again.
  /// REQUIRES: that monitor was configured by an equal profile; `profile`
  /// outlives this one.
  void reseat(const Profile& profile) {
    conditioner_.reseat(profile, spikes_.frame());
  }
  /// The profile's load_scale_kw has changed, where that is learnt on the way.
  void rescale_load(const Profile& profile) {
    conditioner_.rescale_load(profile);
  }
  /// One of the checks, for what only it knows.
  template <template <class> class C>
  [[nodiscard]] const C<R>& check() const {
    return static_cast<const C<R>&>(checks_);
  }

 private:
  /// A set of checks by their place in the list.
  using CheckSet = std::array<std::uint32_t, (kChecks + 31) / 32>;
  static constexpr bool in(const CheckSet& set, std::size_t i) {
    return (set[i / 32] >> i % 32 & 1U) != 0;
  }
  /// The place of a check in the list.
  template <class C>
  static constexpr std::size_t kPlace = [] {
    std::size_t place = 0;
    for (const std::uint16_t id : {Cs<R>::info.id..., C::info.id}) {
      if (id == C::info.id) break;
      ++place;
    }
    return place;
  }();
  /// All checks as one object that may be copied byte by byte.
  struct Checks : Cs<R>... {};

  /// The check knows of several reasons why it might be blind, and which of
  /// them it is.
  template <class C>
  static constexpr bool kSaysWhyBlind = requires(const C& check) {
    check.blind();
  }
  &&!requires { C::blind(); };
  /// Why a check is blind where it does not say so itself.
  template <class C>
  static constexpr Blind usual_blindness() {
    if constexpr (kSaysWhyBlind<C>) {
      return Blind::too_short;
    } else if constexpr (requires { C::blind(); }) {
      return C::blind();
    } else {
      return Blind::none;
    }
  }
  /// What is asked of every check alike. Masks of channels leave a byte free.
  struct Facts {
    Limits (*limits)(const Profile&);
    ChannelMask needs : 24;
    std::uint16_t id : 8;
    ChannelMask needs_one : 24;
    Blind blind : 8;
  };
  static_assert(kChannelCount <= 24);
  static constexpr std::array<Facts, kChecks> kFacts{
      Facts{&Cs<R>::limits, Cs<R>::info.needs, Cs<R>::info.id,
            Cs<R>::info.needs_one, usual_blindness<Cs<R>>()}...};

  Event judge(const FindingSink<R>& sink) {
    Event event;
    Frame<R>& frame = spikes_.frame();
    ledger_.direct(&sink, frame.at);
    if (conditioner_.splits_run(frame)) {
      event.split = true;
      if (conditioner_.finish().run_ended) {
        end_run();
        event.run_ended = true;
      }
    }
    const auto phases = conditioner_.step(frame, clock_, clock_jump_);
    event.judged = true;
    event.run_began = phases.run_began;
    // A run that ends with this scan ends before the scan is judged: at rest,
    // no check of the run has anything to say about it.
    if (phases.run_ended) {
      end_run();
      event.run_ended = true;
    }
    if (phases.run_began) ledger_.number(++runs_);
    seen_ |= frame.with(Quality::good);
    present_ |= frame.present();
    show(conditioner_.moment());
    ledger_.direct(nullptr, kNoTime);
    return event;
  }

  /// Checks are shown a moment group by group: those that want every scan,
  /// then those that want settled running, then those that wait for a block.
  enum class Group : std::uint8_t { scans, steady, blocks };
  static constexpr Group group_of(const When& when) {
    return when.block    ? Group::blocks
           : when.steady ? Group::steady
                         : Group::scans;
  }
  /// Shows a moment to every check that wants it.
  void show(const Moment<R>& m) {
    show_group<Group::scans>(m);
    if (m.steady) show_group<Group::steady>(m);
    if (m.block != nullptr) show_group<Group::blocks>(m);
  }
  template <Group kGroup>
  void show_group([[maybe_unused]] const Moment<R>& m) {
    [[maybe_unused]] const PhaseMask phase = bit(m.phase);
    // Gathered beside the object, where it costs an instruction a check; a
    // call would have to reach it through memory.
    CheckSet judged = judged_;
    [[maybe_unused]] const auto one = [&]<class C>(C & check)
        __attribute__((always_inline)) {
      if constexpr (group_of(C::when) == kGroup) {
        constexpr When kWhen = C::when;
        if constexpr (kWhen.steady && kGroup != Group::steady) {
          if (!m.steady) return;
        }
        // What is steady is at speed.
        if constexpr (kWhen.phases != kAnyPhase &&
                      !(kWhen.steady &&
                        (kWhen.phases & kAtSpeed) == kAtSpeed)) {
          if ((kWhen.phases & phase) == 0) return;
        }
        constexpr std::size_t kAt = kPlace<C>;
        judged[kAt / 32] |= std::uint32_t{check.step(m, ledger_)} << kAt % 32;
      }
    };
    (one(static_cast<Cs<R>&>(checks_)), ...);
    judged_ = judged;
  }
  [[gnu::noinline, gnu::cold]] void end_run() {
    const Moment<R>& m = conditioner_.moment();
    blind_ = {};
    for_each([&](auto& check, std::size_t i) {
      if constexpr (requires { check.end_run(m, ledger_); }) {
        using Answer = decltype(check.end_run(m, ledger_));
        if constexpr (std::same_as<Answer, bool>) {
          if (check.end_run(m, ledger_)) put_in(judged_, i);
        } else {
          check.end_run(m, ledger_);
        }
      }
      if constexpr (kSaysWhyBlind<std::remove_reference_t<decltype(check)>>) {
        blind_[i] = check.blind();
      }
      if constexpr (requires { check.reset(); }) check.reset();
    });
    untold_ += ledger_.untold();
    ledger_.close_all(m.at);
    ledger_.number(0);
    explain_blindness();
    had_judged_ = judged_;
    judged_ = {};
    seen_ = 0;
  }
  static void put_in(CheckSet& set, std::size_t i) {
    set[i / 32] |= 1U << i % 32;
  }
  /// Puts plainer reasons than the checks' own where they apply.
  void explain_blindness() {
    const auto lack = [](const Facts& facts, ChannelMask channels) {
      return (facts.needs & ~channels) != 0 ||
             (facts.needs_one != 0 && (facts.needs_one & channels) == 0);
    };
    for (std::size_t i = 0; i < kChecks; ++i) {
      if (in(judged_, i)) {
        blind_[i] = Blind::none;
      } else if (lack(kFacts[i], present_)) {
        blind_[i] = Blind::no_channel;
      } else if (lack(kFacts[i], seen_)) {
        blind_[i] = Blind::no_reading;
      } else if (blind_[i] == Blind::none) {
        blind_[i] = kFacts[i].blind;
      }
    }
  }

  template <class F>
  void for_each(F&& f) {
    std::size_t i = 0;
    (f(static_cast<Cs<R>&>(checks_), i++), ...);
  }

  SpikeFilter<R> spikes_;
  Conditioner<R> conditioner_;
  Ledger<R> ledger_;
  Checks checks_{};
  CheckSet judged_{};                   // in the run in hand
  CheckSet had_judged_{};               // in the one that ended last,
  std::array<Blind, kChecks> blind_{};  // and why the others had not
  ChannelMask seen_ = 0;                // good readings in this run
  ChannelMask present_ = 0;             // channels the set has
  DurationMs clock_jump_{};
  std::uint16_t runs_ = 0;    // runs begun so far
  std::uint16_t untold_ = 0;  // up to the end of the last run
  ClockStep clock_ = ClockStep::none;
};

}  // namespace telltale
