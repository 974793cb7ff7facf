#include "alarms/html_section.hpp"

#include <algorithm>
#include <cmath>
#include <iterator>
#include <string>
#include <vector>

#include "alarms/html_pictures.hpp"
#include "alarms/judgement.hpp"
#include "report/html/page_frame.hpp"
#include "report/html/table.hpp"
#include "report/value_text.hpp"
#include "support/safe_text.hpp"

namespace telltale::host {
namespace {

constexpr std::size_t kMostRows = 100;
constexpr std::size_t kMostCures = 12;
constexpr std::size_t kMostBursts = 12;

std::string figure(double value, int decimals) {
  return std::isfinite(value) ? grouped(value, decimals) : "&ndash;";
}
std::string span(double seconds) {
  return std::isfinite(seconds) ? duration_text(seconds) : "&ndash;";
}

class Section {
 public:
  /// `level` of the headings: 2 where the section is a page.
  Section(const AlarmReport& report, UnitSystem units, int level,
          fmt::memory_buffer& out)
      : r_(report), level_(level), buffer_(out), text_(units, report.layout) {}

  void facts() {
    put("<p class=\"facts\">{} raises of {} alarm{}",
        grouped(static_cast<double>(r_.raises), 0), r_.alarms.size(),
        r_.alarms.size() == 1 ? "" : "s");
    if (r_.from) {
      put(", {} to {}", html(text_.stamp(r_.from->logged)),
          html(text_.stamp(r_.to->logged)));
    }
    put("</p>\n");
  }
  void findings() {
    if (r_.findings.empty()) {
      put("<p>No alarm chatters, no flood, none stood for over 24 h.</p>\n");
      return;
    }
    put("<ul class=\"told\">\n");
    for (const AlarmFinding& f : r_.findings) {
      put("<li>{} {} <span class=\"quiet\">{}</span></li>\n", badge(f.severity),
          html(f.summary), html(next_step(f)));
    }
    put("</ul>\n");
  }
  void body() {
    if (!r_.alarms.empty()) {
      picture("Over time",
              "A lane an alarm, most frequent first. Strokes are raises, bars "
              "the time it stood; shaded: floods.",
              timeline_svg(r_));
      picture("Raises in ten minutes",
              "A flood starts above 10 and ends below 5 in ten minutes "
              "(ISA-18.2, EEMUA 191).",
              rate_svg(r_));
    }
    cures();
    first_out();
    alarms();
  }
  void measures() {
    heading("Measures beside the standards' figures");
    put("<p>Meant for one operator of a process plant, over 30 days or more: "
        "to compare settings before and after, not to pass or fail.</p>\n");
    open_table(buffer_, "Measures",
               {{"Measure", kWords},
                {"Value"},
                {"Acceptable"},
                {"At most"},
                {"Source", kWords}});
    for (const Measure& m : r_.measures) {
      if (!std::isfinite(m.value)) continue;
      put("<tr><th scope=\"row\">{}</th><td>{} {}</td><td>{}</td><td>{}</td>"
          "<td class=\"word\">{}</td></tr>\n",
          html(m.title),
          figure(m.value, m.value == std::floor(m.value) ? 0 : 2), html(m.unit),
          figure(m.acceptable, 0), figure(m.at_most, 0), html(m.source));
    }
    close_table(buffer_);
  }

 private:
  // A cure is told anew, in the units that people asked for.
  [[nodiscard]] std::string next_step(const AlarmFinding& finding) const {
    for (const AlarmFigures& f : r_.alarms) {
      if (finding.check == "alarm-chatter" && finding.alarm == f.alarm &&
          f.cure) {
        return cure_in_words(*f.cure, unit_in(text_, *f.cure));
      }
    }
    return finding.next;
  }
  template <class... Args>
  void put(fmt::format_string<Args...> format, Args&&... args) {
    fmt::format_to(std::back_inserter(buffer_), format,
                   std::forward<Args>(args)...);
  }
  void heading(std::string_view words) {
    put("<h{0}>{1}</h{0}>\n", level_, html(words));
  }
  [[nodiscard]] std::string name(std::uint32_t alarm) const {
    return html(printable(full_name(r_.name(alarm)), 200));
  }
  void sheet(std::string_view title, const std::string& svg) {
    put("<div class=\"sheet\" tabindex=\"0\" role=\"group\" "
        "aria-label=\"{}\">{}</div>\n",
        html(title), svg);
  }
  void picture(std::string_view title, std::string_view words,
               const std::string& svg) {
    if (svg.empty()) return;
    heading(title);
    put("<p class=\"quiet\">{}</p>\n", html(words));
    sheet(title, svg);
  }

  void cures() {
    std::size_t shown = 0;
    for (const AlarmFigures& f : r_.alarms) {
      if (!f.cure) continue;
      if (shown++ == 0) {
        heading("Settings that would take the chatter out");
        put("<p>{}</p>\n", html(kCureCaution));
      }
      if (shown > kMostCures) break;
      put("<h{0}>{1}</h{0}>\n<p>{2}</p>\n", level_ + 1, name(f.alarm),
          html(cure_in_words(*f.cure, unit_in(text_, *f.cure))));
      if (f.cure->basis == CureBasis::none) continue;
      put("<p class=\"quiet\">Raises left by each setting, {}. Full marks: no "
          "chatter left; open: it still chatters or may not be used; ringed: "
          "the proposal.</p>\n",
          html(basis_in_words(*f.cure, unit_in(text_, *f.cure))));
      sheet("Raises left by each setting",
            cure_svg(*f.cure, unit_in(text_, *f.cure)));
    }
  }

  void first_out() {
    if (r_.bursts.empty()) return;
    std::vector<const Burst*> largest;
    for (const Burst& b : r_.bursts) largest.push_back(&b);
    std::stable_sort(largest.begin(), largest.end(),
                     [](const Burst* a, const Burst* b) {
                       return a->distinct > b->distinct;
                     });
    largest.resize(std::min(largest.size(), kMostBursts));
    heading("What came first");
    open_table(buffer_, "The largest bursts, alarms in the order they came",
               {{"Burst", kWords}, {"Alarms"}, {"In order", kWords}});
    for (const Burst* burst : largest) {
      put("<tr><th scope=\"row\">{}</th><td>{}</td><td class=\"word\">",
          html(text_.stamp(burst->from.logged)), burst->distinct);
      bool first = true;
      for (const Burst::Member& m : burst->members) {
        put("{}{} (+{})", first ? "" : ", ", name(m.alarm), span(m.after_s));
        first = false;
      }
      put("</td></tr>\n");
    }
    close_table(buffer_);
  }

  void alarms() {
    if (r_.alarms.empty()) return;
    heading("All alarms");
    const std::size_t rows = std::min(r_.alarms.size(), kMostRows);
    open_table(buffer_, "Alarms, most raises first",
               {{"Alarm", kWords},
                {"Raises"},
                {"Share"},
                {"Stood"},
                {"Longest"},
                {"Chattering index, 1/s"},
                {"Remarks", kWords}});
    for (std::size_t i = 0; i < rows; ++i) alarm_row(r_.alarms[i]);
    close_table(buffer_);
    if (rows < r_.alarms.size()) {
      put("<p>And {} more.</p>\n", r_.alarms.size() - rows);
    }
  }
  void alarm_row(const AlarmFigures& f) {
    const AlarmName& n = r_.name(f.alarm);
    std::string remarks;
    const auto remark = [&remarks](bool is, std::string_view word) {
      if (!is) return;
      if (!remarks.empty()) remarks += ", ";
      remarks += word;
    };
    remark(n.role == AlarmRole::shutdown, "shutdown");
    remark(f.chatters(), "chatters");
    remark(f.stale > 0, "stale");
    remark(f.stands_at_end, "stands at the end");
    put("<tr><th scope=\"row\">{}", name(f.alarm));
    if (!n.text.empty() && n.text != n.name) {
      put("<span class=\"quiet\">{}</span>", html(printable(n.text, 200)));
    }
    put("</th><td>{}</td><td>{} %</td><td>{}</td><td>{}</td><td>{}</td>"
        "<td class=\"word\">{}</td></tr>\n",
        figure(f.raises, 0), figure(f.share * 100, 1), span(f.standing_s),
        span(f.longest_s), figure(f.chatter_index, 3), remarks);
  }

  const AlarmReport& r_;
  int level_;
  fmt::memory_buffer& buffer_;
  ValueText text_;
};

}  // namespace

void write_alarm_section(const AlarmReport& report, UnitSystem units,
                         std::string_view id, fmt::memory_buffer& out) {
  fmt::format_to(std::back_inserter(out),
                 "<section id=\"{0}\"><h2>Alarms of the controller</h2>\n", id);
  Section section(report, units, 3, out);
  section.facts();
  section.findings();
  section.body();
  fmt::format_to(std::back_inserter(out), "</section>\n");
}

void write_alarm_page(const AlarmReport& report, UnitSystem units,
                      fmt::memory_buffer& out) {
  const std::string_view file = base_name(report.layout.file);
  PageFrame{"alarm report", fmt::format("Alarms of {}", file)}.open(out);
  fmt::format_to(std::back_inserter(out),
                 "<main id=\"main\">\n<h1>Alarms of {}</h1>\n",
                 html(printable(file, 160)));
  Section section(report, units, 2, out);
  section.facts();
  fmt::format_to(std::back_inserter(out), "{}", headline(report.verdict()));
  section.findings();
  section.body();
  section.measures();
  fmt::format_to(std::back_inserter(out), "</main>\n");
  PageFrame::open_foot(out);
  fmt::format_to(std::back_inserter(out), "</footer>\n");
  PageFrame::close(out);
}

}  // namespace telltale::host
