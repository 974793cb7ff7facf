#include "season/follow.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>

#include "season/change_scan.hpp"
#include "season/dates.hpp"
#include "season/figure_facts.hpp"
#include "season/trend.hpp"
#include "telltale/condition/median.hpp"

namespace telltale::host::season {
namespace {

constexpr double kMonth_h = kDaysPerMonth * 24.0;
constexpr std::size_t kLevelRuns = 8;  // about a change, on either side
/// A forecast reaches no further than so many times what was observed.
constexpr double kFarthest = 4.0;

double median_of(std::vector<double> x) {
  return median_in_place(std::span<double>(x));
}

class Following {
 public:
  Following(const UnitHistory& history, FigureKind kind,
            const ReferenceTable& references, double false_alarm)
      : history_(history),
        kind_(kind),
        references_(references),
        false_alarm_(false_alarm),
        profile_(profile_of(history.unit.about)) {
    out_.kind = kind;
  }

  FigureFollow run() {
    adjusted_ = adjust(history_, kind_, references_, profile_);
    if (adjusted_.value.size() >= kLeastForChange) {
      // Effects are estimated better once the changes are known, and the
      // changes once the effects are.
      changes_ = look();
      for (int i = 0; i < 2; ++i) {
        adjusted_ = adjust(history_, kind_, references_, profile_, changes_);
        const std::vector<Change> again = look();
        if (same(again, changes_)) break;
        changes_ = again;
      }
      adjusted_ = adjust(history_, kind_, references_, profile_, changes_);
    }
    describe();
    tell_changes();
    fit();
    if (out_.has_trend) {
      out_.forecast = forecast_of(out_, profile_, now_h(), observed_h());
    } else {
      out_.forecast = at_limit();
    }
    return std::move(out_);
  }

 private:
  [[nodiscard]] double worth() const {
    return worth_of(kind_, adjusted_.basis, profile_,
                    median_of(adjusted_.value));
  }
  [[nodiscard]] double now_h() const { return adjusted_.hours.back(); }
  [[nodiscard]] double observed_h() const {
    return now_h() - adjusted_.hours[out_.trend_from];
  }

  /// Changes that are worth telling; a smaller one ends the search.
  [[nodiscard]] std::vector<Change> look() const {
    ChangeRules rules;
    rules.false_alarm = false_alarm_;
    std::vector<Change> found =
        scan_changes(adjusted_.hours, adjusted_.value, rules);
    const double least = 0.5 * worth();
    const double end = adjusted_.hours.back();
    std::erase_if(found, [&](const Change& c) {
      const double size =
          c.kind == Change::Kind::step
              ? std::abs(c.size)
              : std::abs(c.size) * (end - adjusted_.hours[c.index]);
      return !(size >= least);
    });
    return found;
  }
  static bool same(const std::vector<Change>& a, const std::vector<Change>& b) {
    return std::equal(a.begin(), a.end(), b.begin(), b.end(),
                      [](const Change& x, const Change& y) {
                        return x.kind == y.kind && x.index == y.index;
                      });
  }

  void describe() {
    out_.basis = adjusted_.basis;
    out_.corrected = adjusted_.corrected;
    out_.other_basis = adjusted_.other_basis;
    out_.runs = static_cast<int>(adjusted_.value.size());
    for (const Influence& influence :
         influences_on(kind_, adjusted_.basis, profile_, 1.0)) {
      const Condition0& ref = adjusted_.reference;
      switch (influence.cause) {
        case Cause::own:
          own_reference();
          break;
        case Cause::water:
          (std::isfinite(ref.water) ? out_.reference.water_degc
                                    : out_.reference.air_degc) =
              std::isfinite(ref.water) ? ref.water : ref.air;
          break;
        case Cause::air:
          out_.reference.air_degc = ref.air;
          break;
        case Cause::start:
          out_.reference.start_degc = ref.start;
          break;
        case Cause::load:
          out_.reference.load_pct = ref.load;
          break;
      }
    }
    if (!adjusted_.value.empty()) out_.worth = worth();
    for (std::size_t i = 0; i < adjusted_.value.size(); ++i) {
      const PastRun& run = history_.runs[adjusted_.run[i]];
      out_.points.push_back({adjusted_.run[i], run.start, adjusted_.hours[i],
                             adjusted_.raw[i], adjusted_.value[i]});
    }
    if (!out_.points.empty()) out_.last_run = out_.points.back().value;
  }
  void own_reference() {
    const double own = adjusted_.reference.own;
    if (info_of(kind_).condition == Condition::load) {
      out_.reference.load_pct = own;
    } else if (adjusted_.basis == Basis::coolant) {
      out_.reference.coolant_degc = own;
    } else {
      out_.reference.oil_degc = own;
    }
  }

  void tell_changes() {
    for (const Change& change : changes_) {
      out_.trend_from = std::max(out_.trend_from, change.index);
      if (change.kind == Change::Kind::bend) {
        out_.bend = static_cast<std::uint32_t>(change.index);
        continue;
      }
      const FigurePoint& point = out_.points[change.index];
      LevelChange told;
      told.run = point.run;
      told.at = point.at;
      told.hours = point.hours;
      told.p = change.p;
      told.before = level_about(change.index, false);
      told.after = level_about(change.index, true);
      out_.changes.push_back(told);
    }
    if (out_.bend && *out_.bend != out_.trend_from) out_.bend.reset();
  }
  /// Median of the runs next to a change, none beyond the next one.
  [[nodiscard]] double level_about(std::size_t index, bool after) const {
    std::size_t from = after ? index : index - std::min(index, kLevelRuns);
    std::size_t to =
        after ? std::min(index + kLevelRuns, adjusted_.value.size()) : index;
    for (const Change& other : changes_) {
      if (other.kind != Change::Kind::step) continue;
      if (other.index < index) from = std::max(from, other.index);
      if (other.index > index) to = std::min(to, other.index);
    }
    return median_of(
        {adjusted_.value.begin() + static_cast<std::ptrdiff_t>(from),
         adjusted_.value.begin() + static_cast<std::ptrdiff_t>(to)});
  }

  void fit() {
    const std::size_t from = out_.trend_from;
    const std::span<const double> y =
        std::span<const double>(adjusted_.value).subspan(from);
    const std::span<const double> t =
        std::span<const double>(adjusted_.hours).subspan(from);
    if (y.empty()) {
      out_.why_not = "not enough data: no run tells all that it depends on";
      return;
    }
    Trend trend;
    if (y.size() >= kLeastForTrend) trend = fit_trend(t, y);
    if (!trend.ok) {
      out_.why_not =
          y.size() < kLeastForTrend
              ? fmt::format("not enough data: {} run{}{}, {} needed", y.size(),
                            y.size() == 1 ? "" : "s",
                            from > 0 ? " since the change" : "", kLeastForTrend)
              : "not enough data: the hour meter stands still";
      plain_level(y, from);
      return;
    }
    const Adjusted::Doubt doubt = adjusted_.doubt(from);
    const double factor = trend_variance_factor(y.size(), trend.correlation);
    widen(trend, doubt.slope * factor, doubt.level * factor);
    out_.has_trend = true;
    out_.slope_h = trend.slope;
    out_.slope_low = trend.low;
    out_.slope_high = trend.high;
    out_.p = trend.p;
    out_.correlation = trend.correlation;
    out_.line = trend.line;
    out_.quantile = trend.quantile;
    const double level = trend.line.at(now_h());
    const double half = trend.quantile * trend.line.se_at(now_h());
    out_.latest = {level, level - half, level + half};
    out_.worthwhile = std::abs(trend.slope) * observed_h() >= out_.worth;
    out_.for_worse = is_worse(trend.slope);
    by_month(y, from, doubt.slope * factor);
  }
  [[nodiscard]] bool is_worse(double slope) const {
    switch (info_of(kind_).bad) {
      case BadWay::up:
        return slope > 0.0;
      case BadWay::down:
        return slope < 0.0;
      case BadWay::both:
        break;
    }
    return true;
  }
  void plain_level(std::span<const double> y, std::size_t from) {
    std::vector<double> values(y.begin(), y.end());
    const double level = median_of(values);
    out_.latest.value = level;
    if (values.size() < 3) return;
    for (double& v : values) v = std::abs(v - level);
    const double sigma = 1.4826 * median_of(values);
    // Student's 97.5 % point for 2 to 6 degrees of freedom, near enough.
    constexpr double kQuantile = 3.0;
    const double half = std::hypot(
        kQuantile * 1.2533 * sigma / std::sqrt(static_cast<double>(y.size())),
        1.96 * std::sqrt(adjusted_.doubt(from).level));
    out_.latest.low = level - half;
    out_.latest.high = level + half;
  }
  /// The same slope over the calendar: ageing goes by days as well as hours.
  void by_month(std::span<const double> y, std::size_t from,
                double doubt_per_h2) {
    std::vector<double> months;
    for (std::size_t i = from; i < out_.points.size(); ++i) {
      if (!is_set(out_.points[i].at)) return;
      months.push_back(static_cast<double>(out_.points[i].at.ms) / 3.6e6 /
                       kMonth_h);
    }
    Trend trend = fit_trend(months, y);
    if (!trend.ok) return;
    const double hours_per_month =
        observed_h() / std::max(months.back() - months.front(), 1e-9);
    widen(trend, doubt_per_h2 * hours_per_month * hours_per_month, 0.0);
    out_.slope_month = trend.slope;
    out_.slope_month_low = trend.low;
    out_.slope_month_high = trend.high;
  }
  /// Without a trend: only whether the level is beyond a limit already.
  [[nodiscard]] Forecast at_limit() const {
    Forecast forecast;
    const FigureLimits limits = limits_of(kind_, out_.basis, profile_);
    forecast.limit =
        info_of(kind_).bad == BadWay::down ? limits.low : limits.high;
    if (out_.latest.value < limits.low) {
      forecast.state = Forecast::State::reached;
      forecast.limit = limits.low;
    }
    if (out_.latest.value > limits.high) {
      forecast.state = Forecast::State::reached;
      forecast.limit = limits.high;
    }
    return forecast;
  }

  const UnitHistory& history_;
  FigureKind kind_;
  const ReferenceTable& references_;
  double false_alarm_;
  Profile profile_;
  Adjusted adjusted_;
  std::vector<Change> changes_;
  FigureFollow out_;
};

}  // namespace

Forecast forecast_of(const FigureFollow& figure, const Profile& profile,
                     double now_h, double observed_h) {
  Forecast out;
  const FigureLimits limits = limits_of(figure.kind, figure.basis, profile);
  const bool falls = figure.slope_h < 0.0;
  out.limit = falls ? limits.low : limits.high;
  const double level = figure.line.at(now_h);
  for (const double limit : {limits.low, limits.high}) {
    const bool beyond = limit == limits.low ? level < limit : level > limit;
    if (!beyond) continue;
    out.limit = limit;
    out.state = Forecast::State::reached;
    out.hours = out.low = out.high = 0.0;
    return out;
  }
  // A slope that may be none leads nowhere.
  const bool sure = figure.slope_low > 0.0 || figure.slope_high < 0.0;
  if (!std::isfinite(out.limit)) {
    out.limit =
        info_of(figure.kind).bad == BadWay::down ? limits.low : limits.high;
    return out;
  }
  if (!sure || figure.p >= 0.05) return out;
  const TimeToLimit<double> time =
      time_to_limit(figure.line, out.limit, now_h, figure.quantile);
  const double farthest = kFarthest * observed_h;
  out.low = time.low;
  out.high = time.high;
  if (!(time.best <= farthest)) {
    out.state = Forecast::State::far;
    out.low = std::min(time.low, farthest);
    return out;
  }
  out.state = Forecast::State::ahead;
  out.hours = time.best;
  return out;
}

FigureFollow follow_figure(const UnitHistory& history, FigureKind kind,
                           const ReferenceTable& references,
                           double false_alarm) {
  return Following(history, kind, references, false_alarm).run();
}

}  // namespace telltale::host::season
