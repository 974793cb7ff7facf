#include "report/html/run_tables.hpp"

#include <algorithm>
#include <cmath>
#include <map>

#include "report/phrases.hpp"
#include "telltale/condition/performance_class.hpp"

namespace telltale::host {
namespace {

/// A table that scrolls by itself where the page is narrow.
void open_table(Document& doc, std::string_view caption,
                std::initializer_list<std::string_view> heads) {
  doc.put(
      "<div class=\"scroll\" tabindex=\"0\" role=\"region\" "
      "aria-label=\"{0}\"><table><caption>{0}</caption><thead><tr>",
      caption);
  for (const std::string_view head : heads) {
    doc.put("<th scope=\"col\">{}</th>", head);
  }
  doc.put("</tr></thead><tbody>");
}
void close_table(Document& doc) { doc.put("</tbody></table></div>\n"); }

void figures(const RunReport& run, const ValueText& text, Document& doc) {
  open_table(doc, "Figures while running, condemned readings left out",
             {"Channel", "Mean", "Sd", "Min", "Median", "95 %", "Max", "Unit"});
  for (std::size_t i = 0; i < kChannelCount; ++i) {
    if (!run.channels[i]) continue;
    const auto channel = static_cast<Channel>(i);
    const ChannelFigures& f = *run.channels[i];
    const double scale =
        std::abs(text.shown(1.0, channel) - text.shown(0.0, channel));
    doc.put("<tr><th scope=\"row\">{}</th>", info_of(channel).title);
    if (channel == Channel::engine_hours || channel == Channel::start_count) {
      // A mean of a meter says nothing.
      doc.put(
          "<td>&ndash;</td><td>&ndash;</td><td>{}</td><td>&ndash;</td>"
          "<td>&ndash;</td><td>{}</td>",
          text.number(f.min, channel), text.number(f.max, channel));
    } else {
      doc.put(
          "<td>{}</td><td>{:.3g}</td><td>{}</td><td>{}</td><td>{}</td>"
          "<td>{}</td>",
          text.number(f.mean, channel), f.sd * scale,
          text.number(f.min, channel), text.number(f.median, channel),
          text.number(f.p95, channel), text.number(f.max, channel));
    }
    doc.put("<td class=\"unit\">{}</td></tr>",
            symbol_of(text.unit_of(channel)));
  }
  close_table(doc);
}

void load_steps(const RunReport& run, const ValueText& text, Document& doc) {
  constexpr std::size_t kMost = 20;
  if (run.load_steps.empty()) return;
  std::vector<LoadStep> steps = run.load_steps;
  if (steps.size() > kMost) {
    const auto size = [](const LoadStep& s) {
      return std::abs(s.to_pct - s.from_pct);
    };
    std::stable_sort(steps.begin(), steps.end(),
                     [&](const LoadStep& a, const LoadStep& b) {
                       return size(a) > size(b);
                     });
    steps.resize(kMost);
    std::stable_sort(steps.begin(), steps.end(),
                     [](const LoadStep& a, const LoadStep& b) {
                       return a.at.line < b.at.line;
                     });
  }
  const std::string caption =
      steps.size() < run.load_steps.size()
          ? fmt::format("Load steps, the {} largest of {}", kMost,
                        run.load_steps.size())
          : std::string("Load steps");
  open_table(doc, caption,
             {"At", "Line", "Load", "Frequency by", "Back after"});
  for (const LoadStep& step : steps) {
    doc.put(
        "<tr><th scope=\"row\">{}</th><td>{}</td><td>{:.0f} to {:.0f} %"
        "</td><td>{}</td><td>{}</td></tr>",
        safe(text.clock(step.at.logged)), step.at.line, step.from_pct,
        step.to_pct,
        step.frequency_dip_pct
            ? fmt::format("{:.1f} %", *step.frequency_dip_pct)
            : std::string("&ndash;"),
        !step.observable  ? std::string("not observable")
        : step.recovery_s ? duration_text(*step.recovery_s)
                          : std::string("&ndash;"));
  }
  close_table(doc);
}

void acceptance(const RunReport& run, Document& doc) {
  if (!run.acceptance) return;
  const std::string_view held_to = name_of(run.acceptance->held_to);
  const std::string caption = fmt::format(
      "Acceptance sheet: load test by ISO 8528-5, held to class {}, a sample "
      "every {:.3g} s",
      held_to, run.acceptance->interval_s);
  open_table(
      doc, caption,
      {"Quantity", "Measured", fmt::format("{} allows", held_to), "Reaches"});
  for (const AcceptanceQuantity& q : run.acceptance->quantities) {
    const bool from_rated =
        q.quantity.ends_with("_dip") || q.quantity.ends_with("_rise");
    const auto figure = [&](double value) -> std::string {
      if (!std::isfinite(value)) return "&ndash;";
      return from_rated ? fmt::format("{:+.2f} {}", value, q.unit)
                        : fmt::format("{:.2f} {}", value, q.unit);
    };
    doc.put(
        "<tr><th scope=\"row\">{}</th><td>{}</td><td>{}</td><td>{}{}</td>"
        "</tr>",
        safe(quantity_text(q)), figure(q.value), figure(q.allowed),
        safe(q.reached),
        q.bound == Bound::lower            ? " at best"
        : q.bound == Bound::not_observable ? "not observable"
                                           : "");
  }
  close_table(doc);
}

std::string said(double value, const FigurePast& f, const ValueText& text) {
  return std::isfinite(value) ? safe(text.say(value, f.unit, f.channel))
                              : std::string("&ndash;");
}

void past(const RunPast& past, const ValueText& text, Document& doc) {
  doc.put("<h3>Beside its own past</h3>");
  if (!past.why_not.empty()) {
    doc.put("<p>{}.</p>", safe(past.why_not));
    return;
  }
  open_table(doc,
             fmt::format("{} earlier run{}, brought to this run's condition",
                         past.runs, past.runs == 1 ? "" : "s"),
             {"Figure", "This run", "Run before", "Usual", "95 % of runs from",
              "to", ""});
  for (const FigurePast& f : past.figures) {
    doc.put(
        "<tr><th scope=\"row\">{}</th><td>{}</td><td>{}</td><td>{}</td>"
        "<td>{}</td><td>{}</td><td class=\"word\">{}</td></tr>",
        safe(f.title), said(f.now, f, text), said(f.last, f, text),
        said(f.usual, f, text), said(f.low, f, text), said(f.high, f, text),
        !f.unusual        ? ""
        : f.now > f.usual ? "higher than usual"
                          : "lower than usual");
  }
  close_table(doc);
  std::string changes;
  bool seen = false;
  for (const FigurePast& f : past.figures) {
    seen = seen || std::isfinite(f.before_service);
    if (!f.service_told) continue;
    changes += fmt::format("{}{} {} to {}", changes.empty() ? "" : ", ",
                           safe(f.title), said(f.before_service, f, text),
                           said(f.after_service, f, text));
  }
  if (seen) {
    doc.put("<p>Service &ldquo;{}&rdquo; changed: {}.</p>",
            safe(past.service, 80),
            changes.empty() ? "nothing that matters" : changes);
  }
  if (past.own_oil_line) {
    doc.put("<p>Oil pressure was judged by this set's own line.</p>");
  }
}

}  // namespace

void write_run_facts(const RunReport& run, const ValueText& text,
                     Document& doc) {
  std::string facts = fmt::format(
      "{} to {}, {}", text.stamp(run.start.logged), text.stamp(run.end.logged),
      run.seconds > 0 ? duration_text(run.seconds) : "no start");
  if (run.begins_in_log) facts += ", already running when the log begins";
  if (run.ends == RunReport::Ends::abrupt) facts += ", stopped by itself";
  if (run.ends == RunReport::Ends::log) {
    facts += ", still running at the end of the log";
  }
  if (run.attempts) {
    facts += fmt::format(", {} crank{}", *run.attempts,
                         *run.attempts == 1 ? "" : "s");
  }
  if (run.crank_seconds) {
    facts += fmt::format(" ({} in all)", duration_text(*run.crank_seconds));
  }
  doc.put("<p>{}.</p>", safe(facts));
}

void write_run_tables(const RunReport& run, const ValueText& text,
                      Document& doc) {
  acceptance(run, doc);
  figures(run, text, doc);
  load_steps(run, text, doc);
  if (run.past) past(*run.past, text, doc);
}

void write_not_checked(const HealthReport& report, Document& doc) {
  // Reason and check; then the runs it holds for.
  std::map<std::string, std::map<std::string_view, std::vector<std::string>>>
      by_reason;
  for (const RunReport& run : report.runs) {
    for (const NotChecked& item : run.not_checked) {
      by_reason[item.why][item.check->info->title].push_back(name_of_run(run));
    }
  }
  if (by_reason.empty()) {
    doc.put("<p>Every check could judge every run.</p>");
    return;
  }
  doc.put("<dl>");
  for (const auto& [why, checks] : by_reason) {
    doc.put("<div><dt>{}</dt><dd>", safe(why));
    bool first = true;
    for (const auto& [title, runs] : checks) {
      doc.put("{}{}", first ? "" : ", ", title);
      first = false;
      if (runs.size() == report.runs.size()) continue;
      if (runs.size() > 3) {
        doc.put(" ({} of {} runs)", runs.size(), report.runs.size());
      } else {
        doc.put(" ({})", fmt::join(runs, "; "));
      }
    }
    doc.put("</dd></div>");
  }
  doc.put("</dl>");
}

void write_reading(const HealthReport& report, Document& doc) {
  const LogLayout& layout = report.layout;
  const std::string delimiter =
      layout.delimiter == '\t' ? "tab" : std::string(1, layout.delimiter);
  doc.put(
      "<p>{} rows of {} lines; {} could not be read. Delimiter <code>{}"
      "</code>, {}, decimal mark <code>{}</code>, time {}",
      grouped(static_cast<double>(report.tally.rows), 0),
      grouped(static_cast<double>(report.tally.lines), 0),
      grouped(static_cast<double>(report.tally.rejected), 0), safe(delimiter),
      safe(layout.encoding), safe(std::string(1, layout.decimal)),
      safe(layout.time_format));
  if (layout.interval_s > 0) {
    doc.put(", a row every {:.3g} s", layout.interval_s);
  }
  doc.put(".</p>");
  for (const UnitReport& unit : report.units) {
    if (unit.inferred.empty()) continue;
    doc.put("<h4>Worked out from the log{}{}</h4><ul>",
            unit.name.empty() ? "" : ": ", safe(unit.name, 60));
    for (const std::string& line : unit.inferred) {
      doc.put("<li>{}</li>", safe(line));
    }
    doc.put("</ul>");
  }
  if (!report.notes.empty()) {
    doc.put("<h4>Worth knowing</h4><ul>");
    for (const std::string& note : report.notes) {
      doc.put("<li>{}</li>", safe(note));
    }
    doc.put("</ul>");
  }
  open_table(doc, "Columns of the log", {"Header", "Read as", "Unit", "Why"});
  for (const ColumnUse& column : layout.columns) {
    doc.put(
        "<tr><th scope=\"row\">{}</th><td class=\"word\">{}</td>"
        "<td class=\"word\">{}</td><td class=\"word\">{}</td></tr>",
        safe(column.header, 80),
        column.name.empty() ? std::string("not used") : safe(column.name),
        symbol_of(column.unit), safe(column.why));
  }
  close_table(doc);
}

}  // namespace telltale::host
