#include "season/season_html.hpp"

#include <algorithm>
#include <cmath>
#include <iterator>

#include "season/dates.hpp"
#include "season/season_chart.hpp"
#include "season/season_phrases.hpp"
#include "support/safe_text.hpp"

namespace telltale::host::season {
namespace {

constexpr std::string_view kStyle = R"(
:root{--ink:#1d2730;--soft:#5b6873;--line:#d5dbe0;--page:#fbfbf9;--card:#fff;
--run:#7d8d9a;--trend:#1f5f8b;--band:#1f5f8b26;--urgent:#a3201d;
--attention:#8a5a00;--note:#2f6477;--healthy:#2e6b3c}
@media(prefers-color-scheme:dark){:root{--ink:#e4e9ec;--soft:#9fadb8;
--line:#37424b;--page:#14191d;--card:#1b2227;--run:#8496a3;--trend:#7cb8e0;
--band:#7cb8e033;--urgent:#f08a84;--attention:#e0b050;--note:#86c3d6;
--healthy:#8ac79a}}
*{box-sizing:border-box}
body{margin:0 auto;max-width:78rem;padding:1.5rem;background:var(--page);
color:var(--ink);font:16px/1.45 system-ui,sans-serif}
h1{font-size:1.5rem;margin:0}h2{font-size:1.15rem;margin:2rem 0 .6rem}
h3{font-size:1rem;margin:0}p{margin:.2rem 0}.soft{color:var(--soft)}
.word{font-weight:600;font-size:.85rem;letter-spacing:.02em}
.urgent{color:var(--urgent)}.attention{color:var(--attention)}
.note{color:var(--note)}.healthy{color:var(--healthy)}
ol.book{padding-left:1.4rem;margin:0}ol.book>li{margin:.7rem 0}
ol.book ul{margin:.2rem 0;padding-left:1.1rem}
section.set{border-top:1px solid var(--line);padding:1rem 0}
.head{display:flex;gap:.4rem 1rem;flex-wrap:wrap;align-items:baseline}
.row{display:grid;grid-template-columns:repeat(auto-fill,minmax(13rem,1fr));
gap:.8rem;margin-top:.6rem}
figure{margin:0;background:var(--card);border:1px solid var(--line);
border-radius:4px;padding:.4rem .5rem}
figure.told{border-color:var(--attention)}
figcaption{display:flex;justify-content:space-between;gap:.5rem;
font-size:.85rem}
svg{display:block;width:100%;height:auto}
.under{font-size:.78rem;color:var(--soft)}
path{fill:none;vector-effect:non-scaling-stroke}
.runs{stroke:var(--run);stroke-width:3;stroke-linecap:round;opacity:.75}
.trend{stroke:var(--trend);stroke-width:1.2}.trend.sure{stroke-width:2.6}
.band{fill:var(--band)}.limit{stroke:var(--urgent);stroke-dasharray:5 4}
.change{stroke:var(--attention);stroke-width:1.6;stroke-dasharray:2 3}
@media print{body{max-width:none;background:#fff}figure,section{
break-inside:avoid}}
)";

class SeasonHtml {
 public:
  SeasonHtml(const SeasonReport& report, UnitSystem units,
             fmt::memory_buffer& out)
      : report_(report), units_(units), scales_(report), out_(out) {}

  void write() {
    put(R"(<!DOCTYPE html>
<html lang="en"><head><meta charset="utf-8">
<meta name="viewport" content="width=device-width,initial-scale=1">
<title>Season report of {}</title><style>{}</style></head><body>
)",
        html(report_.store), kStyle);
    header();
    bookings();
    put("<h2>Sets</h2>\n");
    legend();
    for (const UnitSeason& unit : report_.units) set(unit);
    put("</body></html>\n");
  }

 private:
  template <class... Args>
  void put(fmt::format_string<Args...> format, Args&&... args) {
    fmt::format_to(std::back_inserter(out_), format,
                   std::forward<Args>(args)...);
  }
  static std::string word(Severity severity) {
    const std::string name(telltale::name_of(severity));
    return fmt::format(R"(<span class="word {0}">{0}</span>)", name);
  }

  void header() {
    put("<h1>Season report</h1>\n<p class=\"soft\">{}: {} sets, {} runs, {} h "
        "of running, {} to {}</p>\n",
        html(report_.store), report_.units.size(),
        grouped(static_cast<double>(report_.runs), 0),
        grouped(report_.hours, 0), date_text(report_.first),
        date_text(report_.last));
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
      put("<li>{} <a href=\"#set-{}\">{}</a>: {}.", word(f.severity),
          booking.unit, html(shown_name(unit)),
          html(summary_of(f, unit, text)));
      const auto why = evidence_of(f, unit, text);
      if (!why.empty()) {
        put("<p class=\"soft\">{}</p>",
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
    put("<p class=\"soft\">A dot is a run at the reference condition, from {} "
        "to {}; the line is the trend, thick where it is certain among all "
        "figures of all sets and large enough to matter; its band holds the "
        "level at 95 %. Dotted: a change of level. Dashed: the limit. Pictures "
        "of one figure share their scale.</p>\n",
        date_text(report_.first), date_text(report_.last));
  }

  void set(const UnitSeason& unit) {
    const auto index = &unit - report_.units.data();
    put("<section class=\"set\" id=\"set-{}\"><div class=\"head\"><h3>{}</h3>"
        "{}<span class=\"soft\">{}</span></div>\n",
        index, html(shown_name(unit)), word(unit.verdict()), html(use(unit)));
    for (const ServiceStanding& item : unit.service) service(item);
    put("<div class=\"row\">\n");
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
    put("<p class=\"under\">service {}: <span class=\"{}\">{}</span></p>\n",
        html(item.item), telltale::name_of(item.severity), says);
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
        chart_of(f, scales_, text,
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
