#include "season/season_html.hpp"

#include <algorithm>
#include <cmath>
#include <iterator>

#include "report/html/page_frame.hpp"
#include "season/dates.hpp"
#include "season/season_chart.hpp"
#include "season/season_phrases.hpp"
#include "support/safe_text.hpp"

namespace telltale::host::season {
namespace {

class SeasonHtml {
 public:
  SeasonHtml(const SeasonReport& report, UnitSystem units,
             fmt::memory_buffer& out)
      : report_(report), units_(units), scales_(report), out_(out) {}

  void write() {
    PageFrame{"season report", "Season report"}.open(out_);
    put("<main id=\"main\">\n");
    header();
    bookings();
    put("<section aria-labelledby=\"sets\"><h2 id=\"sets\">Sets</h2>\n");
    legend();
    for (const UnitSeason& unit : report_.units) set(unit);
    put("</section></main>\n");
    PageFrame::open_foot(out_);
    put("</footer>\n");
    PageFrame::close(out_);
  }

 private:
  template <class... Args>
  void put(fmt::format_string<Args...> format, Args&&... args) {
    fmt::format_to(std::back_inserter(out_), format,
                   std::forward<Args>(args)...);
  }
  void header() {
    put("<h1>Season report</h1>\n<p class=\"facts\">{} set{}, {} run{}, {} h "
        "of "
        "running, {} to {}; store {}</p>\n{}",
        report_.units.size(), report_.units.size() == 1 ? "" : "s",
        grouped(static_cast<double>(report_.runs), 0),
        report_.runs == 1 ? "" : "s", grouped(report_.hours, 0),
        date_text(report_.first), date_text(report_.last),
        html(printable(base_name(report_.store), 120)),
        headline(report_.verdict()));
  }

  void bookings() {
    put("<h2>What to book first</h2>\n");
    if (report_.bookings.empty()) {
      put("<p>Nothing: no set stands out, changes or is due for service.</p>"
          "\n");
      return;
    }
    put("<ol class=\"book\">\n");
    for (const Booking& booking : report_.bookings) {
      const UnitSeason& unit = report_.units[booking.unit];
      const SeasonFinding& f = unit.findings[booking.finding];
      const FigureText text(units_, unit);
      put("<li>{} <a href=\"#set-{}\">{}</a>: {}.", badge(f.severity),
          booking.unit, html(shown_name(unit)),
          html(summary_of(f, unit, text)));
      const auto why = evidence_of(f, unit, text);
      if (!why.empty()) {
        put("<p class=\"quiet\">{}</p>",
            html(fmt::format("{}", fmt::join(why, "; "))));
      }
      if (!f.next.empty()) {
        put("<ul>");
        for (std::size_t i = 0; i < std::min<std::size_t>(3, f.next.size());
             ++i) {
          put("<li>{}</li>", html(f.next[i]));
        }
        put("</ul>");
      }
      put("</li>\n");
    }
    put("</ol>\n");
  }

  void legend() {
    put("<p class=\"quiet\">A dot is a run at the reference condition, from {} "
        "to {}; the line is the trend, thick where it is certain among all "
        "figures of all sets and large enough to matter; its band holds the "
        "level at 95 %. Dotted: a change of level. Dashed: the limit. Pictures "
        "of one figure share their scale among sets of the same kind.</p>\n",
        date_text(report_.first), date_text(report_.last));
  }

  void set(const UnitSeason& unit) {
    const auto index = &unit - report_.units.data();
    put("<section class=\"set\" id=\"set-{}\"><div class=\"head\"><h3>{}</h3>"
        "{}<span class=\"quiet\">{}</span></div>\n",
        index, html(shown_name(unit)), badge(unit.verdict()), html(use(unit)));
    for (const ServiceStanding& item : unit.service) service(item);
    put("<div class=\"small\">\n");
    for (std::size_t i = 0; i < unit.figures.size(); ++i) figure(unit, i);
    put("</div></section>\n");
  }
  static std::string use(const UnitSeason& unit) {
    std::string out = fmt::format(
        "{} runs, {} h {}", grouped(static_cast<double>(unit.runs), 0),
        grouped(unit.hours, 1), unit.metered ? "on the meter" : "counted");
    if (!unit.group.empty()) out += ", " + unit.group;
    if (std::isfinite(unit.habits.hours_per_month)) {
      out += fmt::format(", {:.0f} h a month", unit.habits.hours_per_month);
    }
    return out;
  }
  void service(const ServiceStanding& item) {
    std::string says;
    if (std::isfinite(item.left_h)) {
      says = item.left_h < 0.0 ? fmt::format("{:.0f} h overdue", -item.left_h)
                               : fmt::format("{:.0f} h left", item.left_h);
    }
    if (is_set(item.due_on)) {
      says += fmt::format("{}due by {}", says.empty() ? "" : ", ",
                          date_text(item.due_on));
    }
    if (says.empty()) return;
    put("<p class=\"under\">service {}: {} {}</p>\n", html(item.item), says,
        is_finding(item.severity) ? badge(item.severity) : std::string());
  }

  void figure(const UnitSeason& unit, std::size_t index) {
    const FigureFollow& f = unit.figures[index];
    const FigureText text(units_, unit);
    const FigureInfo& info = info_of(f.kind);
    const bool told = std::any_of(
        unit.findings.begin(), unit.findings.end(),
        [index](const SeasonFinding& x) { return x.figure == index; });
    const std::string trend =
        f.has_trend ? fmt::format("{} per 100 h ({} to {})",
                                  text.change(f.kind, 100.0 * f.slope_h),
                                  text.change(f.kind, 100.0 * f.slope_low),
                                  text.change(f.kind, 100.0 * f.slope_high))
                    : f.why_not;
    const std::string now = text.level(f.kind, f.latest.value);
    put("<figure{}><figcaption><span>{}</span><strong>{}</strong>"
        "</figcaption>\n{}\n<div class=\"under\">{}{}{}</div></figure>\n",
        told ? " class=\"told\"" : "", html(info.title), html(now),
        chart_of(f, unit, scales_, text,
                 fmt::format("{} of {}: {} now, {}", info.title,
                             shown_name(unit), now, trend)),
        html(trend), more(f), at(f, text));
  }
  static std::string more(const FigureFollow& f) {
    std::string out;
    if (f.certain && f.forecast.state == Forecast::State::ahead) {
      out += "<br>limit in " + html(forecast_text(f.forecast));
    }
    if (f.peers.known) {
      out += fmt::format("<br>rank {} of {} peers", f.peers.rank, f.peers.of);
      if (f.peers.stands_out) out += ", stands out";
    }
    return out;
  }
  static std::string at(const FigureFollow& f, const FigureText& text) {
    const std::string condition = text.condition(f);
    return condition.empty() ? "" : "<br>" + html(condition);
  }

  const SeasonReport& report_;
  UnitSystem units_;
  ChartScales scales_;
  fmt::memory_buffer& out_;
};

}  // namespace

void write_season_html(const SeasonReport& report, UnitSystem units,
                       fmt::memory_buffer& out) {
  SeasonHtml(report, units, out).write();
}

}  // namespace telltale::host::season
