// The alarm report as HTML.
#include "alarms/html_section.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>

#include "alarms/html_pictures.hpp"
#include "alarms/judgement.hpp"
#include "report/value_text.hpp"
#include "support/safe_text.hpp"

namespace telltale::host {
namespace {

constexpr std::size_t kMostRows = 100;
constexpr std::size_t kMostCures = 12;

std::string figure(double value, int decimals) {
  return std::isfinite(value) ? grouped(value, decimals) : std::string("–");
}
std::string span(double seconds) {
  return std::isfinite(seconds) ? duration_text(seconds) : std::string("–");
}

class Section {
 public:
  explicit Section(const AlarmReport& report)
      : r_(report), text_(UnitSystem::as_logged, report.layout) {}

  std::string write() {
    out_ = "<section class=\"alarms\" id=\"alarms\">\n<h2>Alarms</h2>\n";
    out_ += fmt::format(
        "<p>{} raises of {} alarm{}{}.</p>\n",
        grouped(static_cast<double>(r_.raises), 0), r_.alarms.size(),
        r_.alarms.size() == 1 ? "" : "s",
        r_.from ? fmt::format(", {} to {}", html(text_.stamp(r_.from->logged)),
                              html(text_.stamp(r_.to->logged)))
                : std::string());
    findings();
    if (!r_.alarms.empty()) {
      picture("Timeline",
              "A lane an alarm, most frequent first. Strokes are raises, bars "
              "below them the time it stood; shaded: floods.",
              timeline_svg(r_));
      picture("Raises in ten minutes",
              "A flood starts above 10 and ends below 5 in ten minutes "
              "(ISA-18.2, EEMUA 191).",
              rate_svg(r_));
    }
    cures();
    first_out();
    alarms();
    measures();
    out_ += "</section>\n";
    return std::move(out_);
  }

 private:
  [[nodiscard]] std::string name(std::uint32_t alarm) const {
    return html(printable(full_name(r_.name(alarm)), 200));
  }

  void picture(std::string_view title, std::string_view words,
               const std::string& svg) {
    if (svg.empty()) return;
    out_ += fmt::format("<h3>{}</h3>\n<p>{}</p>\n{}", html(title), html(words),
                        svg);
  }

  void findings() {
    if (r_.findings.empty()) {
      out_ +=
          "<p class=\"healthy\">No alarm chatters, no flood, none stood "
          "for over 24 h.</p>\n";
      return;
    }
    out_ += "<ul class=\"findings\">\n";
    for (const AlarmFinding& f : r_.findings) {
      out_ += fmt::format(
          "<li class=\"{}\"><b>{}</b>: {} <span "
          "class=\"next\">{}</span></li>\n",
          name_of(f.severity), html(f.check), html(f.summary), html(f.next));
    }
    out_ += "</ul>\n";
  }

  void cures() {
    std::size_t shown = 0;
    for (const AlarmFigures& f : r_.alarms) {
      if (!f.cure) continue;
      if (shown++ == 0) {
        out_ += fmt::format(
            "<h3>Settings that would take the chatter "
            "out</h3>\n<p>{}</p>\n",
            html(kCureCaution));
      }
      if (shown > kMostCures) break;
      out_ += fmt::format("<h4>{}</h4>\n<p>{}</p>\n", name(f.alarm),
                          html(cure_in_words(*f.cure)));
      if (f.cure->basis == CureBasis::none) continue;
      out_ += fmt::format(
          "<p class=\"basis\">Raises left by each setting, "
          "{}.</p>\n",
          html(basis_in_words(*f.cure)));
      out_ += cure_svg(*f.cure);
    }
  }

  void first_out() {
    if (r_.bursts.empty()) return;
    out_ +=
        "<h3>What came first</h3>\n<table class=\"bursts\">\n"
        "<tr><th>burst</th><th>alarms</th><th>in order</th></tr>\n";
    std::vector<const Burst*> largest;
    for (const Burst& b : r_.bursts) largest.push_back(&b);
    std::stable_sort(largest.begin(), largest.end(),
                     [](const Burst* a, const Burst* b) {
                       return a->distinct > b->distinct;
                     });
    largest.resize(std::min<std::size_t>(largest.size(), 12));
    for (const Burst* burst : largest) {
      std::string order;
      for (const Burst::Member& m : burst->members) {
        if (!order.empty()) order += ", ";
        order += fmt::format("{} (+{})", name(m.alarm), span(m.after_s));
      }
      out_ += fmt::format("<tr><td>{}</td><td>{}</td><td>{}</td></tr>\n",
                          html(text_.stamp(burst->from.logged)),
                          burst->distinct, order);
    }
    out_ += "</table>\n";
  }

  void alarms() {
    if (r_.alarms.empty()) return;
    out_ +=
        "<h3>All alarms</h3>\n<table class=\"alarm-list\">\n"
        "<tr><th>alarm</th><th>raises</th><th>share</th><th>standing</th>"
        "<th>longest</th><th>chattering index, 1/s</th><th></th></tr>\n";
    for (std::size_t i = 0; i < std::min(r_.alarms.size(), kMostRows); ++i) {
      const AlarmFigures& f = r_.alarms[i];
      const AlarmName& n = r_.name(f.alarm);
      std::string marks;
      const auto mark = [&marks](bool is, std::string_view word) {
        if (!is) return;
        if (!marks.empty()) marks += ", ";
        marks += word;
      };
      mark(n.role == AlarmRole::shutdown, "shutdown");
      mark(f.chatters(), "chatters");
      mark(f.stale > 0, "stale");
      mark(f.stands_at_end, "stands");
      out_ += fmt::format(
          "<tr><td>{}{}</td><td>{}</td><td>{} %</td><td>{}</td><td>{}</td>"
          "<td>{}</td><td>{}</td></tr>\n",
          name(f.alarm),
          n.text.empty() || n.text == n.name ? "" : "<br>" + html(n.text),
          figure(f.raises, 0), figure(f.share * 100, 1), span(f.standing_s),
          span(f.longest_s), figure(f.chatter_index, 3), marks);
    }
    out_ += "</table>\n";
    if (r_.alarms.size() > kMostRows) {
      out_ +=
          fmt::format("<p>And {} more.</p>\n", r_.alarms.size() - kMostRows);
    }
  }

  void measures() {
    out_ +=
        "<h3>Measures beside the standards’</h3>\n"
        "<p>Meant for one operator of a process plant, over 30 days or "
        "more: to compare settings before and after, not to pass or "
        "fail.</p>\n<table class=\"measures\">\n<tr><th>measure</th>"
        "<th>value</th><th>acceptable</th><th>at most</th>"
        "<th>source</th></tr>\n";
    for (const Measure& m : r_.measures) {
      if (!std::isfinite(m.value)) continue;
      out_ += fmt::format(
          "<tr><td>{}</td><td>{} {}</td><td>{}</td><td>{}</td><td>{}</td>"
          "</tr>\n",
          html(m.title),
          figure(m.value, m.value == std::floor(m.value) ? 0 : 2), html(m.unit),
          figure(m.acceptable, 0), figure(m.at_most, 0), html(m.source));
    }
    out_ += "</table>\n";
  }

  const AlarmReport& r_;
  ValueText text_;
  std::string out_;
};

// Light and dark by the reader's own choice; nothing is loaded.
constexpr std::string_view kStyle = R"(
:root { color-scheme: light dark; --ink: #1c2430; --pale: #5c6b7c;
  --line: #c6ced8; --page: #ffffff; --mark: #b4472a; --calm: #2f6f9f;
  --good: #2d7d4f; --shade: rgba(180, 71, 42, .16); }
@media (prefers-color-scheme: dark) { :root { --ink: #e4e9ef; --pale: #9fadbc;
  --line: #3a4653; --page: #14191f; --mark: #e8855f; --calm: #7ab6df;
  --good: #79c79a; --shade: rgba(232, 133, 95, .22); } }
body { margin: 2rem auto; max-width: 62rem; padding: 0 1rem;
  background: var(--page); color: var(--ink);
  font: 1rem/1.5 system-ui, sans-serif; }
table { border-collapse: collapse; width: 100%; font-size: .9rem; }
th, td { border-bottom: 1px solid var(--line); padding: .25rem .5rem;
  text-align: left; vertical-align: top; }
.findings li { margin: .4rem 0; }
.next, .basis { color: var(--pale); display: block; }
.picture { width: 100%; height: auto; }
.picture text { font-size: 12px; fill: var(--pale); }
.picture text.end { text-anchor: end; }
.picture text.middle { text-anchor: middle; }
.picture text.chatters { fill: var(--mark); font-weight: 600; }
.axis { stroke: var(--line); } .limit { stroke: var(--mark);
  stroke-dasharray: 5 4; }
.flood { fill: var(--shade); } .standing { fill: var(--calm); opacity: .45; }
.raise, .rate { fill: var(--calm); }
.raise.chatters, .rate.over { fill: var(--mark); }
.curve { fill: none; stroke: var(--calm); stroke-width: 2; }
circle.chatters, circle.barred { fill: var(--page); stroke: var(--mark);
  stroke-width: 2; }
circle.cured { fill: var(--calm); } circle.proposed { fill: var(--good); }
@media print { body { margin: 0; max-width: none; } }
)";

}  // namespace

std::string alarm_html_section(const AlarmReport& report) {
  return Section(report).write();
}

std::string alarm_html_page(const AlarmReport& report) {
  return fmt::format(
      "<!doctype html>\n<html lang=\"en\">\n<head>\n<meta charset=\"utf-8\">\n"
      "<meta name=\"viewport\" content=\"width=device-width, "
      "initial-scale=1\">\n<title>Alarms of {0}</title>\n<style>{1}</style>\n"
      "</head>\n<body>\n<h1>Alarms of {0}</h1>\n{2}</body>\n</html>\n",
      html(printable(report.layout.file)), kStyle, alarm_html_section(report));
}

}  // namespace telltale::host
