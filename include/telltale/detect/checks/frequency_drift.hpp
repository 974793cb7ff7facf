// frequency-drift: at comparable load, frequency moves away from where this
// run began.
#pragma once

#include <algorithm>
#include <array>
#include <bit>
#include <cmath>
#include <span>

#include "telltale/condition/thinned_series.hpp"
#include "telltale/condition/trend.hpp"
#include "telltale/detect/check.hpp"

namespace telltale {

template <std::floating_point R>
class FrequencyDrift {
 public:
  static constexpr CheckInfo info{
      .id = 3,
      .slug = "frequency-drift",
      .title = "Frequency drifts at comparable load",
      .needs = bit(Channel::frequency),
      .source =
          "common practice, a fifth of the permanent band of IACS UR E5; "
          "Mann-Kendall p < 0.01 corrected for serial correlation",
      .details = {{{"at the start", Unit::Hz},
                   {"at the end", Unit::Hz},
                   {"droop taken out", Unit::pct},
                   {"z", Unit::one}}}};
  static constexpr When when{.block = true};
  static constexpr Advice advice{
      .summary =
          "Frequency drifted by {value} of nominal at comparable load "
          "(limit {limit})",
      .causes = {"governor linkage or spring creeping as it warms",
                 "governor actuator or electronics drifting",
                 "fuel filter slowly clogging", "speed adjustment not locked"},
      .next = {"repeat at a steady load and note frequency every 10 min",
               "check that the speed adjustment is locked",
               "check the governor linkage warm and cold",
               "check fuel filter and supply"},
      .cautions = caution::kRotating};
  static constexpr Explanation explanation{
      .sees =
          "10 s means of frequency and load of the settled run, thinned to "
          "at most 48 points.",
      .decides =
          "The run's own droop (frequency against load, by least "
          "squares together with a trend in time) is taken out first; "
          "what remains must move by the limit from the first to the "
          "last sixth of at least 20 min, and the movement must be "
          "significant (Mann-Kendall, p < 0.01, variance inflated for "
          "serial correlation).",
      .blind =
          "In the first 20 min, and where nothing tells the load: a "
          "governor with droop moves with load, which is no drift.",
      .fooled =
          "A load that creeps in one direction all through the run, by "
          "less than droop can be told from drift."};

  /// In percent of nominal frequency, either way.
  static constexpr Limits kUsual{
      .attention = level(1, 20 * 60), .side = Side::above, .unit = Unit::pct};
  static constexpr Limits limits(const Profile& profile) {
    return with_overrides(kUsual, profile, info.id);
  }
  void configure(const Profile& profile) {
    hz_ = static_cast<R>(profile.rating.frequency_hz);
  }

  bool step(const Moment<R>& m, Ledger<R>& ledger) {
    if (!(hz_ == hz_)) return blinded(Blind::no_nominal);
    const R hz = (*m.block)[Channel::frequency];
    const R load = m.block->load_pct;
    if (!(load == load)) return blinded(Blind::no_load_reading);
    if (!m.block->steady || !(hz == hz)) return blinded(Blind::never_steady);
    const bool completed = series_.add(m.block->length, {hz, load});
    const SpanOf<R> delay = limits(*m.profile).attention.delay();
    if (series_.span() < delay || series_.size() < kLeastPoints) {
      return blinded(Blind::too_short);
    }
    if (completed) judge(m, ledger);
    return true;
  }
  void reset() {
    series_.clear();
    blind_ = Blind::never_steady;
  }
  [[nodiscard]] Blind blind() const { return blind_; }

 private:
  static constexpr std::size_t kPoints = 48;
  static constexpr std::size_t kLeastPoints = 12;

  bool blinded(Blind why) {
    blind_ = why;
    return false;
  }

  /// Least squares of hz = a + b load + c time; b, in Hz per percent, clipped
  /// to what governors do (0 to 15 % of nominal over the load range).
  [[nodiscard]] R droop_slope() const {
    const std::size_t n = series_.size();
    const R count = static_cast<R>(n);
    R mean_hz = R(0);
    R mean_load = R(0);
    for (std::size_t i = 0; i < n; ++i) {
      const auto [hz, load] = series_[i];
      mean_hz += (hz - hz_) / count;
      mean_load += load / count;
    }
    R ll = R(0), lt = R(0), tt = R(0), lf = R(0), tf = R(0);
    for (std::size_t i = 0; i < n; ++i) {
      const R t = static_cast<R>(i) - (count - R(1)) * R(0.5);
      const auto [hz, load] = series_[i];
      const R l = load - mean_load;
      const R f = hz - hz_ - mean_hz;
      ll += l * l;
      lt += l * t;
      tt += t * t;
      lf += l * f;
      tf += t * f;
    }
    const R determinant = ll * tt - lt * lt;
    // Load that hardly moves, or moves only with time, tells no droop.
    if (!(ll > count * R(1)) || determinant < R(0.05) * ll * tt) return R(0);
    const R b = (lf * tt - tf * lt) / determinant;
    return std::clamp(b, R(-0.0015) * hz_, R(0));
  }

  [[gnu::noinline]] void judge(const Moment<R>& m, Ledger<R>& ledger) {
    const std::size_t n = series_.size();
    const R droop = droop_slope();
    std::array<R, kPoints> rest;
    std::array<R, kPoints> scratch;
    for (std::size_t i = 0; i < n; ++i) {
      const auto [hz, load] = series_[i];
      rest[i] = hz - droop * load;
    }
    const std::size_t part = std::max<std::size_t>(n / 6, 2);
    R first = R(0), last = R(0), load_first = R(0), load_last = R(0);
    for (std::size_t i = 0; i < part; ++i) {
      const R share = R(1) / static_cast<R>(part);
      first += rest[i] * share;
      last += rest[n - part + i] * share;
      load_first += series_[i][1] * share;
      load_last += series_[n - part + i][1] * share;
    }
    // Beyond comparable load the run's own droop must be known.
    if (droop == R(0) && std::abs(load_last - load_first) > R(10)) return;
    const R moved = (last - first) / hz_ * R(100);
    const auto limit = static_cast<R>(limits(*m.profile).attention.limit);
    if (!(std::abs(moved) > limit)) return;
    const std::span<const R> view(rest.data(), n);
    const R z = corrected_z(view, std::span<R>(scratch), 3);
    if (!(std::abs(z) > static_cast<R>(kZ99))) return;
    ledger.hold({info.id, Channel::frequency, Unit::pct, Severity::attention},
                {m.at - onset_age(view, first, moved, limit), m.block->to},
                std::abs(moved), limit,
                {{first + droop * load_last, last + droop * load_last,
                  -droop / hz_ * R(10000), z}});
  }
  /// How long ago the drift passed half the limit for good.
  [[nodiscard]] SpanOf<R> onset_age(std::span<const R> rest, R first, R moved,
                                    R limit) const {
    const R half = limit * R(0.005) * hz_;
    std::size_t i = rest.size();
    while (i > 0 &&
           (moved > R(0) ? rest[i - 1] - first : first - rest[i - 1]) > half) {
      --i;
    }
    return {series_.cell().ms * static_cast<std::int64_t>(rest.size() - i)};
  }

  /// Hz as they are, for the rank test hears every rounding in a quiet series;
  /// percent of load in two bytes.
  struct InSixBytes {
    using Cell = std::array<std::uint16_t, 3>;
    static constexpr Fixed16::Scale kLoad{-100.0F, 0.01F};
    static Cell pack(const std::array<R, 2>& point) {
      const auto hz =
          std::bit_cast<std::uint32_t>(static_cast<float>(point[0]));
      return {static_cast<std::uint16_t>(hz),
              static_cast<std::uint16_t>(hz >> 16),
              Fixed16(point[1], kLoad).code()};
    }
    static std::array<R, 2> unpack(const Cell& cell) {
      const std::uint32_t hz = cell[0] | std::uint32_t{cell[1]} << 16U;
      return {std::bit_cast<float>(hz),
              Fixed16::of(cell[2]).template value<R>(kLoad)};
    }
  };
  using Kept = std::conditional_t<kOnBox<R>, InSixBytes, AsIs<R, 2>>;
  ThinnedSeries<R, 2, kPoints, seconds(60), Kept> series_;
  R hz_{};
  Blind blind_ = Blind::never_steady;
};

}  // namespace telltale
