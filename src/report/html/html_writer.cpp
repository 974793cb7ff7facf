#include "report/html/html_writer.hpp"

#include <algorithm>
#include <deque>
#include <string>
#include <vector>

#include "alarms/html_section.hpp"
#include "report/html/chart_data.hpp"
#include "report/html/document.hpp"
#include "report/html/embedded.hpp"
#include "report/html/finding_part.hpp"
#include "report/html/page_frame.hpp"
#include "report/html/reading_part.hpp"
#include "report/html/run_part.hpp"
#include "report/html/verdict_part.hpp"
#include "summary/run_picture.hpp"

namespace telltale::host {
namespace {

bool has_picture(const RunReport& run) {
  return run.picture && !run.picture->overview.empty();
}

class HtmlReport {
 public:
  HtmlReport(std::span<const HealthReport> reports, UnitSystem units,
             fmt::memory_buffer& out)
      : plan_(reports), doc_(out, units, plan_) {
    int n = 0;
    for (const HealthReport& report : reports) {
      LogPart& part = logs_.emplace_back();
      part.report = &report;
      part.id = fmt::format("l{}", ++n);
      part.findings = number_findings(report);
      for (const RunReport& run : report.runs) {
        part.number_of.emplace(&run, part.number_of.size() + 1);
      }
      texts_.emplace_back(units, report.layout);
    }
  }

  void write() {
    head();
    if (logs_.size() > 1) index();
    doc_.put("<main id=\"main\">\n");
    for (std::size_t i = 0; i < logs_.size(); ++i) log(logs_[i], texts_[i]);
    doc_.put("</main>\n");
    foot();
  }

 private:
  void head() {
    const std::string title =
        logs_.size() == 1
            ? fmt::format("Health report of {}",
                          base_name(logs_[0].report->layout.file))
            : fmt::format("Health reports of {} logs", logs_.size());
    PageFrame{"health report", title, true}.open(doc_.out());
  }

  void index() {
    doc_.put(
        "<nav class=\"index\" aria-labelledby=\"index-h\">"
        "<h2 id=\"index-h\">{} logs</h2><ul>",
        logs_.size());
    for (const LogPart& log : logs_) {
      doc_.put(
          "<li>{} <a href=\"#{}\">{}</a> <span class=\"quiet\">{} run{}, "
          "{} finding{}</span></li>",
          badge(verdict_of(*log.report)), log.id,
          safe(base_name(log.report->layout.file), 120),
          log.report->runs.size(), log.report->runs.size() == 1 ? "" : "s",
          log.findings.size(), log.findings.size() == 1 ? "" : "s");
    }
    doc_.put("</ul></nav>\n");
  }

  void log(const LogPart& log, const ValueText& text) {
    const HealthReport& report = *log.report;
    doc_.put(
        "<article class=\"log\" id=\"{0}\" aria-labelledby=\"{0}-h\">"
        "<h1 id=\"{0}-h\">{1}</h1><p class=\"facts\">{2} rows",
        log.id, safe(base_name(report.layout.file), 160),
        grouped(static_cast<double>(report.tally.rows), 0));
    if (report.first && report.last) {
      doc_.put(", {} to {}", safe(text.stamp(*report.first)),
               safe(text.stamp(*report.last)));
    }
    doc_.put("</p>");
    write_verdicts(log, text, doc_);
    doc_.put(
        "<section class=\"findings\" id=\"{}-findings\"><h2>Findings, "
        "gravest first</h2>",
        log.id);
    write_findings(log, text, doc_);
    doc_.put("</section>\n");
    for (const RunReport& run : report.runs) {
      if (doc_.plan.of(run) == Showing::full) write_run(log, run, text, doc_);
    }
    if (report.alarms) {
      write_alarm_section(*report.alarms, doc_.units, log.id + "-alarms",
                          doc_.out());
    }
    doc_.put("<section id=\"{}-read\"><h2>How the log was read</h2>", log.id);
    write_reading(report, doc_);
    doc_.put(
        "</section>\n<section id=\"{}-not\"><h2>What was not checked, and "
        "why</h2>",
        log.id);
    write_not_checked(report, doc_);
    doc_.put("</section></article>\n");
  }

  void foot() {
    PageFrame::open_foot(doc_.out());
    doc_.put(
        "<details><summary>"
        "Charts drawn with dygraphs: licence</summary><pre>{}</pre>"
        "</details></footer>\n<script type=\"application/json\" "
        "id=\"telltale-data\">[",
        html(embedded::licence()));
    bool first = true;
    for (std::size_t i = 0; i < logs_.size(); ++i) {
      if (doc_.detail.data_columns == 0) break;
      for (const RunReport& run : logs_[i].report->runs) {
        if (!has_picture(run) || doc_.plan.of(run) != Showing::full) continue;
        if (!first) doc_.put(",\n");
        first = false;
        write_chart_data(logs_[i], run, texts_[i], doc_);
      }
    }
    doc_.put("]</script>\n<script>");
    for (const std::string_view piece : embedded::script()) {
      doc_.put("{}", piece);
    }
    doc_.put("</script>");
    PageFrame::close(doc_.out());
  }

  PagePlan plan_;
  Document doc_;
  std::vector<LogPart> logs_;
  std::deque<ValueText> texts_;
};

}  // namespace

void write_html(std::span<const HealthReport> reports, UnitSystem units,
                fmt::memory_buffer& out) {
  HtmlReport(reports, units, out).write();
}

}  // namespace telltale::host
