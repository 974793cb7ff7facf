#include "season/booking.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>
#include <map>

#include "checks/catalogue.hpp"

namespace telltale::host::season {
namespace {

// A limit that may be reached within so many months of the present use, or so
// many hours, is worth attention; later than that a note will do.
constexpr double kSoonMonths = 6.0;
constexpr double kSoon_h = 250.0;
// A trend that has moved a figure by so many times what is worth a look.
constexpr double kLargeTrend = 1.5;
// Found in so many of so many last runs: it does not go away by itself.
constexpr std::size_t kLastRuns = 5;
constexpr int kRepeats = 3;
// Habits, common practice: shares of runs, and how many runs tell them.
constexpr int kLeastRuns = 8;
constexpr double kShortShare = 0.5;
constexpr double kTroubleShare = 0.2;
constexpr double kLightShare = 50.0;
constexpr double kVeryLightShare = 80.0;

class Bookings {
 public:
  using Kind = SeasonFinding::Kind;

  Bookings(const UnitHistory& history, UnitSeason& unit)
      : history_(history), unit_(unit) {}

  void find() {
    for (std::size_t i = 0; i < unit_.figures.size(); ++i) {
      const std::size_t from = unit_.findings.size();
      figure(i);
      join(from);
    }
    services();
    habits();
    repeated();
    std::stable_sort(unit_.findings.begin(), unit_.findings.end(), before);
  }

  static bool before(const SeasonFinding& a, const SeasonFinding& b) {
    if (a.severity != b.severity) return a.severity > b.severity;
    // A set's condition comes before habits and before what is due anyway.
    const auto routine = [](const SeasonFinding& f) {
      return f.kind == Kind::habit || f.kind == Kind::service;
    };
    if (routine(a) != routine(b)) return routine(b);
    const auto soon = [](const SeasonFinding& f) {
      return std::isfinite(f.within_h) ? f.within_h : HUGE_VAL;
    };
    if (soon(a) != soon(b)) return soon(a) < soon(b);
    return a.weight > b.weight;
  }

 private:
  SeasonFinding& add(Kind kind, Severity severity, std::string_view about,
                     std::string_view check) {
    SeasonFinding& out = unit_.findings.emplace_back();
    out.kind = kind;
    out.severity = severity;
    out.about = about;
    if (const CheckCard* card = check_named(check)) {
      for (const std::string_view text : card->advice->causes) {
        if (!text.empty()) out.causes.emplace_back(text);
      }
      for (const std::string_view text : card->advice->next) {
        if (!text.empty()) out.next.emplace_back(text);
      }
    }
    return out;
  }
  [[nodiscard]] double soon_h() const {
    const double use = unit_.habits.hours_per_month;
    return std::isfinite(use) ? std::max(kSoon_h, kSoonMonths * use) : kSoon_h;
  }

  void figure(std::size_t index) {
    const FigureFollow& f = unit_.figures[index];
    const FigureInfo& info = info_of(f.kind);
    const auto tell = [&](Kind kind, Severity severity) -> SeasonFinding& {
      SeasonFinding& out = add(kind, severity, info.slug, info.check);
      out.figure = index;
      return out;
    };
    // The share of light load has its say among the habits.
    if (f.kind != FigureKind::light_load_share &&
        f.forecast.state == Forecast::State::reached && f.runs >= kRepeats) {
      SeasonFinding& out = tell(Kind::limit, Severity::attention);
      out.within_h = 0.0;
      out.weight = std::abs(f.latest.value - f.forecast.limit) / f.worth;
    }
    if (f.has_trend && f.certain && f.worthwhile && f.for_worse) trend(f, tell);
    for (std::size_t i = 0; i < f.changes.size(); ++i) change(f, i, tell);
    if (f.peers.stands_out) {
      SeasonFinding& out = tell(Kind::peers, Severity::attention);
      out.weight = std::abs(f.latest.value - f.peers.peers) / f.worth;
    }
  }
  /// One booking a figure: the gravest leads, the others follow as evidence.
  void join(std::size_t from) {
    const auto first =
        unit_.findings.begin() + static_cast<std::ptrdiff_t>(from);
    if (unit_.findings.end() - first < 2) return;
    std::stable_sort(first, unit_.findings.end(), before);
    first->also.assign(std::make_move_iterator(first + 1),
                       std::make_move_iterator(unit_.findings.end()));
    unit_.findings.erase(first + 1, unit_.findings.end());
  }
  template <class Tell>
  void trend(const FigureFollow& f, Tell&& tell) {
    const FigurePoint& first = f.points[f.trend_from];
    const double moved =
        std::abs(f.slope_h) * (f.points.back().hours - first.hours);
    const bool soon = f.forecast.state == Forecast::State::ahead &&
                      f.forecast.low <= soon_h();
    const bool large = moved >= kLargeTrend * f.worth;
    SeasonFinding& out =
        tell(Kind::trend, soon || large ? Severity::attention : Severity::note);
    out.since = first.at;
    out.weight = moved / f.worth;
    if (f.forecast.state == Forecast::State::ahead) {
      out.within_h = f.forecast.low;
    }
  }
  template <class Tell>
  void change(const FigureFollow& f, std::size_t index, Tell&& tell) {
    const LevelChange& change = f.changes[index];
    const double size = change.after - change.before;
    if (!(std::abs(size) >= f.worth)) return;
    const BadWay bad = info_of(f.kind).bad;
    const bool worse =
        bad == BadWay::both || (bad == BadWay::up ? size > 0.0 : size < 0.0);
    SeasonFinding& out =
        tell(Kind::change, worse && !is_back(f, change) ? Severity::attention
                                                        : Severity::note);
    out.change = index;
    out.since = change.at;
    out.weight = std::abs(size) / f.worth;
  }

  void services() {
    for (const ServiceStanding& item : unit_.service) {
      if (!is_finding(item.severity)) continue;
      SeasonFinding& out =
          add(Kind::service, item.severity, item.item, "service-due");
      std::vector<std::string> says;
      if (std::isfinite(item.left_h)) {
        says.push_back(item.left_h < 0.0
                           ? fmt::format("{:.0f} h overdue", -item.left_h)
                           : fmt::format("due in {:.0f} h", item.left_h));
      }
      if (std::isfinite(item.left_days)) {
        says.push_back(item.left_days < 0.0
                           ? fmt::format("{:.0f} days overdue", -item.left_days)
                           : fmt::format("due in {:.0f} days", item.left_days));
      }
      out.text = fmt::format("Service \"{}\": {}", item.item,
                             fmt::join(says, ", by date "));
      if (says.size() == 1 && !std::isfinite(item.left_h)) {
        out.text += " by date";
      }
      out.within_h = std::max(0.0, item.left_h);
    }
  }

  void habits() {
    const Habits& h = unit_.habits;
    if (h.seen_runs >= kLeastRuns && h.short_runs > kShortShare * h.seen_runs) {
      SeasonFinding& out = add(Kind::habit, Severity::note, "short-runs", "");
      out.text = fmt::format(
          "{} of {} runs were shorter than 15 min: the engine hardly gets warm",
          h.short_runs, h.seen_runs);
      out.next = {
          "let it run until warm, or join short runs to fewer long ones"};
    }
    if (h.starts_seen >= kLeastRuns &&
        h.starts_with_trouble >= kTroubleShare * h.starts_seen) {
      SeasonFinding& out = add(Kind::habit, Severity::attention,
                               "repeated-cranking", "repeated-cranking");
      out.text = fmt::format("{} of {} starts needed more than one crank",
                             h.starts_with_trouble, h.starts_seen);
    }
    if (h.light_share > kLightShare && h.hours >= kRepeats) {
      SeasonFinding& out =
          add(Kind::habit,
              h.light_share > kVeryLightShare ? Severity::attention
                                              : Severity::note,
              "light-load", "light-load");
      out.text =
          fmt::format("{:.0f} % of the time at speed was below 30 % of rating",
                      h.light_share);
    }
    often("stop-under-load", h.stops_under_load,
          "stopped with the load still on");
    often("abrupt-stop", h.abrupt_stops, "ended in a stop by itself");
  }
  void often(std::string_view check, int runs, std::string_view what) {
    if (runs < kRepeats || runs < 0.1 * unit_.runs) return;
    SeasonFinding& out = add(Kind::habit, Severity::attention, check, check);
    out.text = fmt::format("{} of {} runs {}", runs, unit_.runs, what);
  }

  /// What the last runs were told, each by itself, that no figure says already.
  void repeated() {
    if (history_.runs.size() < kLastRuns) return;
    const std::size_t from = history_.runs.size() - kLastRuns;
    std::map<std::uint16_t, std::pair<std::vector<std::uint32_t>, Severity>>
        told;
    for (const PastFinding& f : history_.findings) {
      if (f.run < from || f.severity < Severity::attention) continue;
      auto& [runs, severity] = told[f.check];
      if (runs.empty() || runs.back() != f.run) runs.push_back(f.run);
      severity = worst(severity, f.severity);
    }
    for (const auto& [id, what] : told) {
      const auto& [runs, severity] = what;
      const CheckCard* card = check_of(id);
      if (card == nullptr || static_cast<int>(runs.size()) < kRepeats) continue;
      const std::string_view slug = card->info->slug;
      if (slug == "service-due" || said_already(slug)) continue;
      SeasonFinding& out = add(Kind::repeated, severity, slug, slug);
      out.text = fmt::format("{} in {} of the last {} runs", card->info->title,
                             runs.size(), kLastRuns);
      out.since = history_.runs[runs.front()].start;
    }
  }
  [[nodiscard]] bool said_already(std::string_view slug) const {
    return std::any_of(unit_.findings.begin(), unit_.findings.end(),
                       [&](const SeasonFinding& f) {
                         if (f.about == slug) return true;
                         return f.figure &&
                                info_of(unit_.figures[*f.figure].kind).check ==
                                    slug;
                       });
  }

  const UnitHistory& history_;
  UnitSeason& unit_;
};

}  // namespace

void find_bookings(const UnitHistory& history, UnitSeason& unit) {
  Bookings(history, unit).find();
}

std::vector<Booking> in_order(const std::vector<UnitSeason>& units) {
  std::vector<Booking> out;
  for (std::size_t u = 0; u < units.size(); ++u) {
    for (std::size_t f = 0; f < units[u].findings.size(); ++f) {
      out.push_back({u, f});
    }
  }
  std::stable_sort(out.begin(), out.end(),
                   [&](const Booking& a, const Booking& b) {
                     return Bookings::before(units[a.unit].findings[a.finding],
                                             units[b.unit].findings[b.finding]);
                   });
  return out;
}

void keep_only(const std::string& unit, SeasonReport& report) {
  std::erase_if(report.units,
                [&](const UnitSeason& u) { return u.name != unit; });
  report.bookings = in_order(report.units);
  report.runs = 0;
  report.hours = 0.0;
  report.first = report.last = kNoTime;
  for (const UnitSeason& u : report.units) {
    report.runs += u.runs;
    report.hours += u.habits.hours;
    report.first = u.first;
    report.last = u.last;
  }
}

}  // namespace telltale::host::season
