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
#include "telltale/profile.hpp"

namespace telltale {

/// How one check fared in a run.
struct Coverage {
  std::uint16_t check = 0;
  std::uint16_t judged = 0;   // scans (or blocks) judged; 65,535 and more
  Blind blind = Blind::none;  // why nothing was, where judged is 0
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
    for_each([&](auto& check, std::size_t) {
      const SetupError error = check.configure(profile);
      if (setup.error == SetupError::none && error != SetupError::none) {
        setup = {error, check.info.id};
      }
      check.reset();
    });
    return setup;
  }

  /// The next scan. Scans do not step back in time.
  Event step(const Frame<R>& next, const FindingSink<R>& outer,
             ClockStep clock = ClockStep::none, DurationMs clock_jump = {}) {
    const Numbered numbered{this, &outer};
    const FindingSink<R> sink = numbered.sink();
    const bool ready = spikes_.step(next, frame_);
    Event event;
    if (ready) event = judge(sink);
    clock_ = clock;
    clock_jump_ = clock_jump;
    return event;
  }
  /// Judges the scan still held, while its run is open: for whoever wants to
  /// look at it before flush() ends the run.
  Event judge_last(const FindingSink<R>& outer) {
    const Numbered numbered{this, &outer};
    Event event;
    if (spikes_.flush(frame_)) event = judge(numbered.sink());
    return event;
  }
  /// No more scans: judges the one still held and ends an open run.
  Event flush(const FindingSink<R>& outer) {
    const Numbered numbered{this, &outer};
    const FindingSink<R> sink = numbered.sink();
    Event event = judge_last(outer);
    const auto last = conditioner_.finish();
    if (last.run_ended) {
      end_run(sink);
      event.run_ended = true;
    }
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
  /// The run that ended last.
  [[nodiscard]] const RunFacts& ended_run() const {
    return conditioner_.phases().ended();
  }
  /// How every check fared in the run that ended last.
  [[nodiscard]] std::array<Coverage, kChecks> coverage() const {
    std::array<Coverage, kChecks> out{};
    std::size_t i = 0;
    ((out[i] = {Cs<R>::info.id, fared_[i].judged, fared_[i].blind}, ++i), ...);
    return out;
  }
  /// After a copy of another monitor's bytes: points at its own parts again.
  /// REQUIRES: that monitor was configured by an equal profile; `profile`
  /// outlives this one.
  void reseat(const Profile& profile) { conditioner_.reseat(profile, frame_); }
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
  struct Fared {  // Coverage without what the list itself tells
    std::uint16_t judged = 0;
    Blind blind = Blind::none;
  };
  /// All checks as one object that may be copied byte by byte.
  struct Checks : Cs<R>... {};

  /// Stamps findings with the number of their run on the way out.
  struct Numbered {
    const Monitor* monitor;
    const FindingSink<R>* outer;

    [[nodiscard]] FindingSink<R> sink() const {
      return FindingSink<R>(
          [](void* context, const Finding<R>& finding) {
            const auto& self = *static_cast<const Numbered*>(context);
            Finding<R> stamped = finding;
            stamped.run = self.monitor->run_;
            (*self.outer)(stamped);
          },
          const_cast<Numbered*>(this));
    }
  };

  Event judge(const FindingSink<R>& sink) {
    Event event;
    if (conditioner_.splits_run(frame_)) {
      event.split = true;
      if (conditioner_.finish().run_ended) {
        end_run(sink);
        event.run_ended = true;
      }
    }
    const auto phases = conditioner_.step(frame_, clock_, clock_jump_);
    event.judged = true;
    event.run_began = phases.run_began;
    // A run that ends with this scan ends before the scan is judged: at rest,
    // no check of the run has anything to say about it.
    if (phases.run_ended) {
      end_run(sink);
      event.run_ended = true;
    }
    if (phases.run_began) run_ = ++runs_;
    seen_ |= good_channels();
    present_ |= present_channels();
    const Moment<R>& m = conditioner_.moment();
    for_each([&](auto& check, std::size_t i) {
      using C = std::remove_cvref_t<decltype(check)>;
      if ((C::when.phases & bit(m.phase)) == 0) return;
      if constexpr (C::when.steady) {
        if (!m.steady) return;
      }
      if constexpr (C::when.block) {
        if (m.block == nullptr) return;
      }
      if (check.step(m, sink)) count(i);
    });
    return event;
  }

  void end_run(const FindingSink<R>& sink) {
    const Moment<R>& m = conditioner_.moment();
    for_each([&](auto& check, std::size_t i) {
      if constexpr (requires { check.end_run(m, sink); }) {
        using Answer = decltype(check.end_run(m, sink));
        if constexpr (std::same_as<Answer, bool>) {
          if (check.end_run(m, sink)) count(i);
        } else {
          check.end_run(m, sink);
        }
      }
      fared_[i] = {judged_[i], why_blind(check, i)};
      judged_[i] = 0;
      check.reset();
    });
    seen_ = 0;
    run_ = 0;
  }
  void count(std::size_t i) {
    if (judged_[i] < 0xFFFF) ++judged_[i];
  }
  template <class C>
  [[nodiscard]] Blind why_blind(const C& check, std::size_t i) const {
    if (judged_[i] > 0) return Blind::none;
    if ((C::info.needs & ~present_) != 0 ||
        (C::info.needs_one != 0 && (C::info.needs_one & present_) == 0)) {
      return Blind::no_channel;
    }
    if ((C::info.needs & ~seen_) != 0 ||
        (C::info.needs_one != 0 && (C::info.needs_one & seen_) == 0)) {
      return Blind::no_reading;
    }
    if constexpr (requires { check.blind(); }) {
      const Blind why = check.blind();
      return why == Blind::none ? Blind::too_short : why;
    } else {
      return Blind::none;
    }
  }

  [[nodiscard]] ChannelMask good_channels() const {
    ChannelMask mask = 0;
    for (std::size_t i = 0; i < kChannelCount; ++i) {
      if (frame_.readings[i].good()) mask |= ChannelMask{1} << i;
    }
    return mask;
  }
  [[nodiscard]] ChannelMask present_channels() const {
    ChannelMask mask = 0;
    for (std::size_t i = 0; i < kChannelCount; ++i) {
      if (frame_.readings[i].quality != Quality::absent) {
        mask |= ChannelMask{1} << i;
      }
    }
    return mask;
  }

  template <class F>
  void for_each(F&& f) {
    std::size_t i = 0;
    (f(static_cast<Cs<R>&>(checks_), i++), ...);
  }

  SpikeFilter<R> spikes_;
  Conditioner<R> conditioner_;
  Checks checks_;
  Frame<R> frame_;
  std::array<std::uint16_t, kChecks> judged_{};
  std::array<Fared, kChecks> fared_{};
  ChannelMask seen_ = 0;     // good readings in this run
  ChannelMask present_ = 0;  // channels the set has
  DurationMs clock_jump_{};
  std::uint16_t runs_ = 0;  // runs begun so far
  std::uint16_t run_ = 0;   // the one in hand; 0: none
  ClockStep clock_ = ClockStep::none;
};

}  // namespace telltale
