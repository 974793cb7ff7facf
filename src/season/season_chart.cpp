#include "season/season_chart.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>

#include "season/dates.hpp"
#include "support/safe_text.hpp"
#include "telltale/condition/median.hpp"

namespace telltale::host::season {
namespace {

constexpr double kWidth = 220.0;
constexpr double kHeight = 90.0;
constexpr double kMargin = 4.0;
constexpr double kTop = 16.0;  // the scale's ends are written above and below
constexpr double kBottom = 74.0;
constexpr std::size_t kMostDots = 120;  // more are drawn as medians of a few

class Chart {
 public:
  Chart(const FigureFollow& figure, const UnitSeason& unit,
        const ChartScales& scales, const FigureText& text)
      : figure_(figure),
        scales_(scales),
        text_(text),
        range_(scales.values(unit, figure.kind, figure.basis)) {}

  std::string draw(const std::string& label) {
    out_ =
        fmt::format(R"(<svg viewBox="0 0 {} {}" role="img" aria-label="{}">)",
                    kWidth, kHeight, html(label));
    ends();
    limits();
    if (figure_.has_trend) band();
    dots();
    if (figure_.has_trend) line();
    for (const LevelChange& change : figure_.changes) mark(change);
    out_ += "</svg>";
    return std::move(out_);
  }

 private:
  [[nodiscard]] double x(TimeMs at) const {
    return kMargin + scales_.across(at) * (kWidth - 2 * kMargin);
  }
  [[nodiscard]] double y(double value) const {
    const double share = (value - range_.low) / (range_.high - range_.low);
    return kBottom - std::clamp(share, -0.05, 1.05) * (kBottom - kTop);
  }

  /// What the upper and the lower edge stand for.
  void ends() {
    out_ += fmt::format(
        R"(<path class="edge" d="M0 {0}H{2}M0 {1}H{2}"/>)"
        R"(<text x="0" y="{3}">{4}</text><text x="0" y="{5}">{6}</text>)",
        kTop, kBottom, kWidth, kTop - 4.0,
        text_.number(figure_.kind, range_.high), kHeight - 3.0,
        text_.number(figure_.kind, range_.low));
  }
  void limits() {
    const double limit = figure_.forecast.limit;
    if (!std::isfinite(limit) || limit < range_.low || limit > range_.high) {
      return;
    }
    out_ += fmt::format(R"(<path class="limit" d="M0 {:.1f}H{}"/>)", y(limit),
                        kWidth);
  }
  void band() {
    std::string back;
    std::string there;
    const std::size_t n = figure_.points.size() - figure_.trend_from;
    const std::size_t stride = std::max<std::size_t>(1, n / 24);
    for (std::size_t k = 0; k < n; k += stride) {
      const std::size_t i = figure_.trend_from + (k + stride >= n ? n - 1 : k);
      const FigurePoint& point = figure_.points[i];
      const double half = figure_.quantile * figure_.line.se_at(point.hours);
      const double level = figure_.line.at(point.hours);
      there += fmt::format("{}{:.1f} {:.1f}", k == 0 ? "M" : "L", x(point.at),
                           y(level + half));
      back = fmt::format("L{:.1f} {:.1f}", x(point.at), y(level - half)) + back;
    }
    out_ += fmt::format(R"(<path class="span" d="{}{}Z"/>)", there, back);
  }
  void line() {
    const FigurePoint& from = figure_.points[figure_.trend_from];
    const FigurePoint& to = figure_.points.back();
    out_ += fmt::format(
        R"(<path class="{}" d="M{:.1f} {:.1f}L{:.1f} {:.1f}"/>)",
        figure_.certain && figure_.worthwhile ? "trend sure" : "trend",
        x(from.at), y(figure_.line.at(from.hours)), x(to.at),
        y(figure_.line.at(to.hours)));
  }
  void dots() {
    const std::size_t n = figure_.points.size();
    const std::size_t group = (n + kMostDots - 1) / kMostDots;
    std::string path;
    for (std::size_t i = 0; i < n; i += group) {
      const std::size_t to = std::min(i + group, n);
      std::vector<double> values;
      for (std::size_t k = i; k < to; ++k) {
        values.push_back(figure_.points[k].value);
      }
      path += fmt::format("M{:.1f} {:.1f}h0", x(figure_.points[i].at),
                          y(median_in_place(std::span<double>(values))));
    }
    out_ += fmt::format(R"(<path class="runs" d="{}"/>)", path);
  }
  void mark(const LevelChange& change) {
    const double at = x(change.at);
    out_ += fmt::format(
        R"(<path class="change" d="M{0:.1f} {1}V{2}"><title>{3}: {4} to {5}</title></path>)",
        at, kTop, kBottom, date_text(change.at),
        text_.number(figure_.kind, change.before),
        html(text_.level(figure_.kind, change.after)));
  }

  const FigureFollow& figure_;
  const ChartScales& scales_;
  const FigureText& text_;
  ChartScales::Range range_;
  std::string out_;
};

}  // namespace

ChartScales::ChartScales(const SeasonReport& report)
    : first_(report.first), last_(report.last) {
  std::map<Key, std::vector<double>> all;
  std::map<Key, double> worth;
  for (const UnitSeason& unit : report.units) {
    for (const FigureFollow& f : unit.figures) {
      const Key key = key_of(unit, f.kind, f.basis);
      auto& values = all[key];
      for (const FigurePoint& point : f.points) values.push_back(point.value);
      double& least = worth[key];
      if (std::isfinite(f.worth)) least = std::max(least, f.worth);
    }
  }
  for (auto& [key, values] : all) {
    if (values.empty()) continue;
    // A few odd runs must not flatten all others.
    std::sort(values.begin(), values.end());
    const std::size_t aside = values.size() / 200;
    double low = values[aside];
    double high = values[values.size() - 1 - aside];
    // Nothing smaller than what is worth a look may fill a picture.
    const double least = std::max(2.0 * worth[key], 1e-6);
    const double more =
        std::max(0.05 * (high - low), 0.5 * (least - (high - low)));
    low -= more;
    high += more;
    values_[key] = {low, high};
  }
}

ChartScales::Key ChartScales::key_of(const UnitSeason& unit, FigureKind kind,
                                     Basis basis) {
  // A set of a kind of its own has a scale of its own.
  return {unit.group.empty() ? "\n" + unit.name : unit.group, kind, basis};
}

ChartScales::Range ChartScales::values(const UnitSeason& unit, FigureKind kind,
                                       Basis basis) const {
  const auto found = values_.find(key_of(unit, kind, basis));
  return found == values_.end() ? Range{} : found->second;
}

double ChartScales::across(TimeMs at) const {
  if (!is_set(at) || !is_set(first_) || !(first_ < last_)) return 0.5;
  return static_cast<double>((at - first_).ms) /
         static_cast<double>((last_ - first_).ms);
}

std::string chart_of(const FigureFollow& figure, const UnitSeason& unit,
                     const ChartScales& scales, const FigureText& text,
                     const std::string& label) {
  return Chart(figure, unit, scales, text).draw(label);
}

}  // namespace telltale::host::season
