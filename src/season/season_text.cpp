#include "season/season_text.hpp"

#include <algorithm>
#include <cmath>
#include <map>

#include "report/page.hpp"
#include "season/dates.hpp"
#include "season/season_phrases.hpp"

namespace telltale::host::season {
namespace {

constexpr std::size_t kMostBookings = 20;
constexpr std::size_t kMostNext = 2;
constexpr std::size_t kMostInFull = 5;  // sets; of more only the ailing
// An interval that spans so many times what is worth a look over the hours
// observed says nothing.
constexpr double kScattered = 40.0;

std::string counted(std::size_t n, std::string_view one,
                    std::string_view many) {
  return fmt::format("{} {}", grouped(static_cast<double>(n), 0),
                     n == 1 ? one : many);
}

class SeasonText {
 public:
  SeasonText(const SeasonReport& report, const SeasonTextStyle& style,
             fmt::memory_buffer& out)
      : report_(report), style_(style), page_(out) {}

  void write() {
    title();
    if (report_.units.empty()) {
      page_.line();
      page_.line("No run in this store yet: telltale season add puts some in.");
      return;
    }
    bookings();
    sets();
    const bool all = report_.units.size() <= kMostInFull;
    std::size_t left_out = 0;
    for (const UnitSeason& unit : report_.units) {
      if (all || !unit.findings.empty()) {
        one(unit);
      } else {
        ++left_out;
      }
    }
    if (left_out > 0) {
      page_.heading("The other sets");
      page_.paragraph("", fmt::format("{} healthy; --unit NAME shows {}, "
                                      "--html, --json or --csv FILE all",
                                      counted(left_out, "set is", "sets are"),
                                      left_out == 1 ? "it" : "one"));
    }
    legend();
  }

 private:
  [[nodiscard]] std::string word(Severity severity) const {
    const bool urgent = severity == Severity::urgent;
    const bool attention = severity == Severity::attention;
    const std::string_view text = urgent                       ? "URGENT"
                                  : attention                  ? "ATTENTION"
                                  : severity == Severity::note ? "note"
                                                               : "healthy";
    const std::string padded = pad_right(text, 9);
    if (!style_.colour) return padded;
    const std::string_view code = urgent                       ? "1;31"
                                  : attention                  ? "1;33"
                                  : severity == Severity::note ? "36"
                                                               : "32";
    return fmt::format("\x1b[{}m{}\x1b[0m", code, padded);
  }

  void title() {
    page_.line("Season report of " + cut(report_.store, 62));
    std::string line = fmt::format(
        "{}, {}, {} h of running", counted(report_.units.size(), "set", "sets"),
        counted(static_cast<std::size_t>(report_.runs), "run", "runs"),
        grouped(report_.hours, 0));
    if (is_set(report_.first)) {
      line += fmt::format(", {} to {}", date_text(report_.first),
                          date_text(report_.last));
    }
    page_.line(line);
  }

  void bookings() {
    page_.heading("What to book first");
    if (report_.bookings.empty()) {
      page_.line("Nothing: no set stands out, changes or is due for service.");
      return;
    }
    std::size_t shown = 0;
    for (const Booking& booking : report_.bookings) {
      if (shown == kMostBookings) {
        page_.line();
        page_.line(fmt::format("and {} more, at their sets below",
                               report_.bookings.size() - shown));
        return;
      }
      const UnitSeason& unit = report_.units[booking.unit];
      if (shown++ > 0) page_.line();
      finding(fmt::format("{:>2}. ", shown), unit,
              unit.findings[booking.finding]);
    }
  }
  void finding(const std::string& number, const UnitSeason& unit,
               const SeasonFinding& f) {
    const FigureText text(style_.units, unit);
    page_.line(fmt::format("{}{} {}  [{}]", number, word(f.severity),
                           cut(shown_name(unit), 30), f.about));
    const std::string indent(number.size(), ' ');
    page_.paragraph(indent, summary_of(f, unit, text) + ".");
    const std::vector<std::string> why = evidence_of(f, unit, text);
    if (!why.empty()) {
      page_.paragraph(indent + "because  ",
                      fmt::format("{}", fmt::join(why, "; ")));
    }
    for (std::size_t i = 0; i < std::min(kMostNext, f.next.size()); ++i) {
      page_.paragraph(indent + (i == 0 ? "next     " : "         "), f.next[i]);
    }
  }

  void sets() {
    page_.heading("Sets");
    page_.line(fmt::format("{}{:>7}{:>10}  {}  {}  {}", pad_right("set", 20),
                           "runs", "hours", pad_right("last run", 10),
                           pad_right("verdict", 9), "kind"));
    for (const UnitSeason& unit : report_.units) {
      page_.line(fmt::format(
          "{}{:>7}{:>10}  {}  {}  {}", pad_right(cut(shown_name(unit), 19), 20),
          grouped(static_cast<double>(unit.runs), 0), grouped(unit.hours, 1),
          pad_right(date_text(unit.last), 10), word(unit.verdict()),
          cut(unit.group, 18)));
    }
    const bool kinds =
        std::any_of(report_.units.begin(), report_.units.end(),
                    [](const UnitSeason& unit) { return !unit.group.empty(); });
    if (!kinds && report_.units.size() > 1) {
      page_.line();
      page_.paragraph("",
                      "Nothing says which sets are of a kind, so none are "
                      "compared: state model or rating in a profile, and add "
                      "the logs with it (season forget, then season add "
                      "--profile).");
    }
  }

  void one(const UnitSeason& unit) {
    page_.heading(cut(shown_name(unit), 76));
    use(unit);
    if (unit.figures.empty()) {
      page_.line("No figure could be read from its runs.");
    } else {
      figures(unit);
    }
    changes(unit);
    services(unit);
  }
  void use(const UnitSeason& unit) {
    const Habits& h = unit.habits;
    std::vector<std::string> says;
    says.push_back(fmt::format("{} h {}", grouped(unit.hours, 1),
                               unit.metered ? "on the meter" : "counted"));
    if (std::isfinite(h.hours_per_month)) {
      says.push_back(fmt::format("{:.0f} h a month", h.hours_per_month));
    }
    if (std::isfinite(h.median_run_h)) {
      says.push_back(fmt::format("mostly {} a run",
                                 duration_text(h.median_run_h * 3600.0)));
    }
    if (std::isfinite(h.light_share)) {
      says.push_back(
          fmt::format("{:.0f} % of the time below 30 % load", h.light_share));
    }
    if (unit.undated > 0) {
      says.push_back(
          fmt::format("{} runs without a date left out", unit.undated));
    }
    if (unit.meter_breaks > 0) {
      says.push_back(fmt::format(
          "hour meter does not go on {}, {}on {}: it was changed, or a clock "
          "is wrong; hours counted over that",
          unit.meter_breaks == 1
              ? "once"
              : fmt::format("at {} places", unit.meter_breaks),
          unit.meter_breaks == 1 ? "" : "the last ",
          date_text(unit.meter_break)));
    }
    page_.paragraph("", fmt::format("{}", fmt::join(says, ", ")));
    page_.line();
  }
  void figures(const UnitSeason& unit) {
    const FigureText text(style_.units, unit);
    page_.line(fmt::format("{}{:>10}  {}{}{}", pad_right("figure", 19), "now",
                           pad_right("per 100 h, 95 % interval", 29),
                           pad_right("limit in", 15), "peers"));
    for (const FigureFollow& f : unit.figures) {
      page_.line(fmt::format("{}{:>10}  {}{}{}",
                             pad_right(info_of(f.kind).title, 19),
                             pad_left(text.level(f.kind, f.latest.value), 10),
                             pad_right(trend(f, text), 29),
                             pad_right(cut(limit_in(f), 14), 15), standing(f)));
    }
    reasons(unit);
    not_seen(unit);
  }
  /// Why figures have no trend, each reason once.
  void reasons(const UnitSeason& unit) {
    std::map<std::string, std::vector<std::string_view>> of;
    for (const FigureFollow& f : unit.figures) {
      if (!f.has_trend) of[f.why_not].push_back(info_of(f.kind).title);
    }
    for (const auto& [reason, titles] : of) {
      page_.paragraph(
          "no trend ",
          titles.size() == unit.figures.size()
              ? reason
              : fmt::format("{}: {}", fmt::join(titles, ", "), reason));
    }
  }
  /// What is tracked but no run of the set told.
  void not_seen(const UnitSeason& unit) {
    std::vector<std::string_view> rated;
    std::vector<std::string_view> others;
    for (const FigureInfo& info : kFigures) {
      const bool seen = std::any_of(
          unit.figures.begin(), unit.figures.end(),
          [&](const FigureFollow& f) { return f.kind == info.kind; });
      if (seen) continue;
      const bool by_rating =
          needs_load(info.kind) && !is_known(unit.rating.power_kw);
      (by_rating ? rated : others).push_back(info.title);
    }
    if (!rated.empty()) {
      page_.paragraph("not seen ",
                      fmt::format("{}: the rated power is not known, a profile "
                                  "states it",
                                  fmt::join(rated, ", ")));
    }
    if (!others.empty()) {
      page_.paragraph("not seen ",
                      fmt::format("{}: not logged, not finely enough, or no "
                                  "run was long enough",
                                  fmt::join(others, ", ")));
    }
  }
  static std::string trend(const FigureFollow& f, const FigureText& text) {
    if (!f.has_trend) return "not enough data";
    const double hours = f.points.back().hours - f.points[f.trend_from].hours;
    if ((f.slope_high - f.slope_low) * hours > kScattered * f.worth) {
      return "too scattered to tell";
    }
    return fmt::format("{} ({} to {}){}",
                       text.change(f.kind, 100.0 * f.slope_h),
                       text.change(f.kind, 100.0 * f.slope_low),
                       text.change(f.kind, 100.0 * f.slope_high),
                       f.certain && f.worthwhile ? " *" : "");
  }
  static std::string limit_in(const FigureFollow& f) {
    const bool told = (f.certain && f.worthwhile) ||
                      f.forecast.state == Forecast::State::reached;
    return told ? forecast_text(f.forecast) : "-";
  }
  static std::string standing(const FigureFollow& f) {
    if (!f.peers.known) return "-";
    return fmt::format("{}/{}{}", f.peers.rank, f.peers.of,
                       f.peers.stands_out ? " *" : "");
  }
  void changes(const UnitSeason& unit) {
    const FigureText text(style_.units, unit);
    for (const FigureFollow& f : unit.figures) {
      for (const LevelChange& c : f.changes) {
        page_.paragraph(
            "changed  ",
            fmt::format("{}: {} to {} on {}, at {} h", info_of(f.kind).title,
                        text.number(f.kind, c.before),
                        text.level(f.kind, c.after), date_text(c.at),
                        grouped(c.hours, 1)));
      }
    }
  }
  void services(const UnitSeason& unit) {
    for (const ServiceStanding& item : unit.service) {
      std::vector<std::string> says;
      if (std::isfinite(item.left_h)) {
        says.push_back(
            fmt::format("at {:.0f} h ({:+.0f} h)", item.due_at_h, item.left_h));
      }
      if (is_set(item.due_on)) {
        says.push_back(fmt::format("by {}", date_text(item.due_on)));
      }
      if (says.empty()) says.emplace_back("nothing to tell it by");
      std::string line =
          fmt::format("{}: due {}", item.item, fmt::join(says, " or "));
      // Beyond the date the hours say nothing more.
      if (is_set(item.expected) &&
          (!is_set(item.due_on) || item.expected < item.due_on)) {
        line += fmt::format("; hours expected by {}", date_text(item.expected));
      }
      page_.paragraph("service  ", line);
    }
  }
  void legend() {
    page_.heading("How to read it");
    page_.paragraph(
        "",
        "\"now\" is the level at the reference condition, so that runs at "
        "different load, sea and air can be compared; * marks what is certain "
        "among all figures of all sets (1 in 100 of such reports errs) and "
        "large enough to matter. \"limit in\" is an interval of running hours "
        "at 95 %, told only where a trend leads there. Peers rank from the "
        "worst.");
    conditions();
  }
  /// Peers share their references; those of the first set that has a figure.
  void conditions() {
    for (const FigureInfo& info : kFigures) {
      for (const UnitSeason& unit : report_.units) {
        const auto f = std::find_if(
            unit.figures.begin(), unit.figures.end(),
            [&](const FigureFollow& x) { return x.kind == info.kind; });
        if (f == unit.figures.end()) continue;
        const FigureText text(style_.units, unit);
        const std::string condition = text.condition(*f);
        if (condition.empty()) break;
        page_.paragraph(fmt::format("  {}", pad_right(info.title, 20)),
                        condition);
        break;
      }
    }
  }

  const SeasonReport& report_;
  SeasonTextStyle style_;
  Page page_;
};

}  // namespace

void write_season_text(const SeasonReport& report, const SeasonTextStyle& style,
                       fmt::memory_buffer& out) {
  SeasonText(report, style, out).write();
}

}  // namespace telltale::host::season
