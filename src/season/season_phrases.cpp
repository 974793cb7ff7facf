#include "season/season_phrases.hpp"

#include <fmt/format.h>

#include <cmath>

#include "season/dates.hpp"

namespace telltale::host::season {
namespace {

constexpr double kFarthestDate_d = 3660.0;  // further than anyone plans

std::string capital(std::string_view title) {
  std::string out(title);
  if (!out.empty() && out[0] >= 'a' && out[0] <= 'z') {
    out[0] = static_cast<char>(out[0] - 'a' + 'A');
  }
  return out;
}

/// In running hours a limit is hard to plan by: when that is, as the set is
/// used.
std::string when_at_the_limit(const FigureFollow& f, const UnitSeason& unit) {
  const double per_month = unit.habits.hours_per_month;
  if (f.forecast.state != Forecast::State::ahead || !(per_month > 0.0) ||
      !is_set(unit.last)) {
    return {};
  }
  const auto month_after = [&](double hours) {
    const double days = hours / per_month * kDaysPerMonth;
    return days < kFarthestDate_d
               ? date_text(days_after(unit.last, days)).substr(0, 7)
               : std::string();
  };
  const std::string from = month_after(f.forecast.low);
  if (from.empty()) return {};
  const std::string to = month_after(f.forecast.high);
  return fmt::format(
      "at {:.0f} h a month {} {}", per_month, from == to ? "in" : "from",
      from == to || to.empty() ? from : fmt::format("{} to {}", from, to));
}

std::string trend_text(const FigureFollow& f, const FigureText& text) {
  const bool falls = f.slope_h < 0.0;
  const double low = falls ? -f.slope_high : f.slope_low;
  const double high = falls ? -f.slope_low : f.slope_high;
  const std::string least = text.size(f.kind, 100.0 * low);
  const FigureInfo& info = info_of(f.kind);
  std::string out = fmt::format(
      "{} {}{} by {} to {} per 100 h", capital(info.title),
      falls ? "fall" : "rise", info.plural ? "" : "s",
      least.substr(0, least.find(' ')), text.size(f.kind, 100.0 * high));
  if (f.forecast.state == Forecast::State::ahead) {
    out += fmt::format(
        "; the limit of {} is {} h off", text.level(f.kind, f.forecast.limit),
        std::isfinite(f.forecast.high)
            ? fmt::format("{:.0f} to {:.0f}", f.forecast.low, f.forecast.high)
            : fmt::format("{:.0f} or more", f.forecast.low));
  }
  return out;
}

std::string figure_text(const SeasonFinding& finding, const FigureFollow& f,
                        const FigureText& text) {
  const std::string title = capital(info_of(f.kind).title);
  switch (finding.kind) {
    case SeasonFinding::Kind::limit:
      return fmt::format("{} at {}, beyond the limit of {}", title,
                         text.level(f.kind, f.latest.value),
                         text.level(f.kind, f.forecast.limit));
    case SeasonFinding::Kind::change: {
      const LevelChange& c = f.changes[*finding.change];
      const bool back = *finding.change + 1 < f.changes.size() && is_back(f, c);
      return fmt::format("{} {} from {} to {} on {}{}", title,
                         c.after < c.before ? "dropped" : "jumped",
                         text.number(f.kind, c.before),
                         text.level(f.kind, c.after), date_text(c.at),
                         back ? " and came back" : "");
    }
    case SeasonFinding::Kind::peers:
      return fmt::format("{} at {}; the middle of {} sets of this kind is {}",
                         title, text.level(f.kind, f.latest.value), f.peers.of,
                         text.level(f.kind, f.peers.peers));
    default:
      return trend_text(f, text);
  }
}

}  // namespace

std::string summary_of(const SeasonFinding& finding, const UnitSeason& unit,
                       const FigureText& text) {
  if (!finding.figure) return finding.text;
  return figure_text(finding, unit.figures[*finding.figure], text);
}

std::vector<std::string> evidence_of(const SeasonFinding& finding,
                                     const UnitSeason& unit,
                                     const FigureText& text) {
  std::vector<std::string> out;
  if (!finding.figure) {
    if (is_set(finding.since)) {
      out.push_back(fmt::format("since {}", date_text(finding.since)));
    }
    return out;
  }
  const FigureFollow& f = unit.figures[*finding.figure];
  const std::string condition = text.condition(f);
  switch (finding.kind) {
    case SeasonFinding::Kind::trend:
      out.push_back(fmt::format("{} runs since {}",
                                f.points.size() - f.trend_from,
                                date_text(f.points[f.trend_from].at)));
      out.push_back(p_text(f.p));
      if (const std::string when = when_at_the_limit(f, unit); !when.empty()) {
        out.push_back(when);
      }
      break;
    case SeasonFinding::Kind::change: {
      const LevelChange& c = f.changes[*finding.change];
      out.push_back(
          fmt::format("first seen in run {} of {}", c.run + 1, unit.runs));
      out.push_back(p_text(c.p));
      break;
    }
    case SeasonFinding::Kind::peers:
      out.push_back(
          fmt::format("{:.1f} times the scatter among them off", f.peers.z));
      out.push_back(p_text(f.peers.p));
      break;
    default:
      out.push_back(fmt::format("{} runs", f.runs));
      break;
  }
  if (!condition.empty()) out.push_back(condition);
  if (!f.corrected) out.push_back("what it depends on was not logged in full");
  for (const SeasonFinding& other : finding.also) {
    out.push_back("also: " + summary_of(other, unit, text));
  }
  return out;
}

std::string forecast_text(const Forecast& forecast) {
  switch (forecast.state) {
    case Forecast::State::reached:
      return "at its limit";
    case Forecast::State::far:
      return fmt::format("over {:.0f} h", forecast.low);
    case Forecast::State::ahead:
      return std::isfinite(forecast.high)
                 ? fmt::format("{:.0f} to {:.0f} h", forecast.low,
                               forecast.high)
                 : fmt::format("{:.0f} h or more", forecast.low);
    case Forecast::State::none:
      break;
  }
  return "-";
}

std::string_view name_of(SeasonFinding::Kind kind) {
  constexpr std::string_view kNames[] = {"limit", "trend",    "change", "peers",
                                         "habit", "repeated", "service"};
  return kNames[static_cast<std::size_t>(kind)];
}

std::string_view name_of(Forecast::State state) {
  constexpr std::string_view kNames[] = {"none", "ahead", "far", "reached"};
  return kNames[static_cast<std::size_t>(state)];
}

std::string shown_name(const UnitSeason& unit) {
  return unit.name.empty() ? "(no name)" : unit.name;
}

std::string p_text(double p) {
  return p < 0.001 ? "p < 0.001" : fmt::format("p = {:.3f}", p);
}

}  // namespace telltale::host::season
