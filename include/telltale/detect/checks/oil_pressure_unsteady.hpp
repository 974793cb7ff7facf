// oil-pressure-unsteady: oil pressure flutters at steady speed.
#pragma once

#include <algorithm>
#include <array>
#include <cmath>
#include <limits>

#include "telltale/base/out_of_line.hpp"
#include "telltale/detect/check.hpp"

namespace telltale {

template <std::floating_point R>
class OilPressureUnsteady {
 public:
  static constexpr CheckInfo info{.id = 23,
                                  .slug = "oil-pressure-unsteady",
                                  .title = "Oil pressure flutters",
                                  .needs = bit(Channel::oil_pressure),
                                  .source = "common practice",
                                  .details = {{{"mean over 60 s", Unit::kPa},
                                               {"sd over 60 s", Unit::kPa}}}};
  static constexpr When when{.phases = kAnyPhase};
  static constexpr Advice advice{
      .summary =
          "Oil pressure fluttered by {value} of its mean at steady "
          "speed (limit {limit}), for {for}",
      .causes = {"oil level low: the pick-up draws air, more so in a seaway",
                 "oil foaming: overfilled, or water in it",
                 "relief valve sticking", "loose pick-up or suction leak",
                 "sender or its wiring loose"},
      .next = {"check the oil level, on an even keel",
               "look at the oil for foam or a milky colour",
               "compare with a mechanical gauge",
               "check sender plug and earth"},
      .cautions = caution::kHotOil};
  static constexpr Explanation explanation{
      .sees = "Oil pressure over 60 s of steady speed.",
      .decides =
          "Standard deviation about the straight line through the "
          "60 s, in percent of the mean, above the limit in windows "
          "that cover 60 s more. Toggling between two neighbouring "
          "steps of a coarse column does not count.",
      .blind = "At intervals over 10 s.",
      .fooled = "Electrical noise on the sender line."};

  /// In percent of the mean.
  static constexpr Limits kUsual{
      .attention = level(5, 60), .side = Side::above, .unit = Unit::pct};
  static constexpr Limits limits(const Profile& profile) {
    return with_overrides(kUsual, profile, info.id);
  }

  bool step(const Moment<R>& m, Ledger<R>& ledger) {
    if (m.interval > kLongest) {
      blind_ = Blind::interval_too_long;
      return false;
    }
    const bool steady_speed =
        m.at_speed() && !m.falling && !is_set(m.sag_since) &&
        (m.run->begins_in_log || m.since_running() > kSettle);
    if (!steady_speed) {
      filled_ = 0;
      open() = Cell{};
      return false;
    }
    const auto& pressure = m[Channel::oil_pressure];
    if (!pressure.good()) return false;
    if (open().n == R(0)) open_at_ = m.at;
    if (m.at - open_at_ >= kCell) close_cell(m, ledger);
    add(m.at, pressure.value);
    return filled_ == kCells;
  }
  void reset() {
    filled_ = over_ = 0;
    open() = Cell{};
    blind_ = Blind::never_steady;
  }
  [[nodiscard]] Blind blind() const { return blind_; }

 private:
  static constexpr std::size_t kCells = 4;
  static constexpr SpanOf<R> kCell = seconds(15);
  static constexpr SpanOf<R> kSettle = seconds(30);
  static constexpr SpanOf<R> kLongest = seconds(10);

  /// Sums about the cell's first reading; t in seconds from the cell's start.
  struct Cell {
    R first = R(0);
    R n = R(0), t = R(0), y = R(0), tt = R(0), ty = R(0), yy = R(0);
  };

  /// Oldest first; the last is being filled.
  [[nodiscard]] const Cell& cell(std::size_t i) const {
    return cells_[(oldest_ + i) % kCells];
  }
  TELLTALE_OUT_OF_LINE Cell& open() {
    return cells_[(oldest_ + kCells - 1) % kCells];
  }

  void add(TimeOf<R> at, R value) {
    Cell& cell = open();
    if (cell.n == R(0)) {
      open_at_ = at;
      cell.first = value;
    }
    const R t = in_ms<R>(at - open_at_) * R(0.001);
    const R y = value - cell.first;
    cell.n += R(1);
    cell.t += t;
    cell.y += y;
    cell.tt += t * t;
    cell.ty += t * y;
    cell.yy += y * y;
  }
  [[gnu::noinline]] void close_cell(const Moment<R>& m, Ledger<R>& ledger) {
    if (filled_ < kCells) ++filled_;
    if (filled_ == kCells) judge(m, ledger);
    // The oldest has served, and is filled anew.
    oldest_ = static_cast<std::uint8_t>((oldest_ + 1U) % kCells);
    open() = Cell{};
  }
  /// Smallest sd of the cells, each about its own line: a single step shakes
  /// one or two of them, flutter all.
  [[nodiscard]] R quietest_cell() const {
    R least = std::numeric_limits<R>::infinity();
    for (const Cell& c : cells_) {
      if (c.n < R(4)) continue;
      const R stt = c.tt - c.t * c.t / c.n;
      const R sty = c.ty - c.t * c.y / c.n;
      R rest = c.yy - c.y * c.y / c.n;
      if (stt > R(0)) rest -= sty * sty / stt;
      least =
          std::min(least, std::sqrt(rest > R(0) ? rest / (c.n - R(2)) : R(0)));
    }
    return least;
  }
  [[gnu::noinline]] void judge(const Moment<R>& m, Ledger<R>& ledger) {
    // The four cells as one window: shift every cell's sums to one origin.
    const R y0 = cell(0).first;
    const R step_s = in_ms<R>(kCell) * R(0.001);
    R n = R(0), t = R(0), y = R(0), tt = R(0), ty = R(0), yy = R(0);
    for (std::size_t i = 0; i < kCells; ++i) {
      const Cell& c = cell(i);
      const R dt = step_s * static_cast<R>(i);
      const R dy = c.first - y0;
      n += c.n;
      t += c.t + c.n * dt;
      y += c.y + c.n * dy;
      tt += c.tt + R(2) * dt * c.t + c.n * dt * dt;
      ty += c.ty + dt * c.y + dy * c.t + c.n * dt * dy;
      yy += c.yy + R(2) * dy * c.y + c.n * dy * dy;
    }
    if (n < R(6)) return;
    const R stt = tt - t * t / n;
    const R sty = ty - t * y / n;
    const R syy = yy - y * y / n;
    const R rest = syy - (stt > R(0) ? sty * sty / stt : R(0));
    const R sd = std::sqrt(rest > R(0) ? rest / (n - R(2)) : R(0));
    const R mean = y0 + y / n;
    const R percent = R(100) * sd / mean;
    const R coarse = R(0.6) * m.resolution_of(Channel::oil_pressure);
    const auto limit = static_cast<R>(limits(*m.profile).attention.limit);
    const bool flutters = percent > limit && sd > coarse &&
                          quietest_cell() * R(200) > percent * mean;
    if (!flutters) {
      over_ = 0;
      ledger.close_after(info.id, m.at, seconds(60));
      return;
    }
    if (over_ < 0xFF) ++over_;
    // The flutter fills a window once its fourth cell has it, and must go on.
    if (over_ < kConfirm) return;
    ledger.hold(
        {info.id, Channel::oil_pressure, Unit::pct, Severity::attention},
        {m.at - SpanOf<R>{kCell.ms * (over_ + 1)}, m.at}, percent, limit,
        {{mean, sd}});
  }

  static constexpr std::uint8_t kConfirm = 3;

  std::array<Cell, kCells> cells_{};  // round and round, see cell()
  TimeOf<R> open_at_ = kNoTime;
  Blind blind_ = Blind::never_steady;
  std::uint8_t filled_ = 0;
  std::uint8_t over_ = 0;
  std::uint8_t oldest_ = 0;
};

}  // namespace telltale
