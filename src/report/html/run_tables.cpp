#include "report/html/run_tables.hpp"

#include <algorithm>
#include <cmath>

#include "report/html/load_steps.hpp"
#include "report/html/table.hpp"
#include "report/phrases.hpp"
#include "telltale/condition/performance_class.hpp"

namespace telltale::host {
namespace {

void figures(const RunReport& run, const ValueText& text, Document& doc) {
  open_table(doc.out(), "Figures while running, condemned readings left out",
             {{"Channel", kWords},
              {"Mean"},
              {"Sd"},
              {"Min"},
              {"Median"},
              {"95 %"},
              {"Max"},
              {"Unit", kWords}});
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
    doc.put("<td class=\"word\">{}</td></tr>",
            symbol_of(text.unit_of(channel)));
  }
  close_table(doc.out());
}

void load_steps(const RunReport& run, const ValueText& text, Document& doc) {
  if (run.load_steps.empty()) return;
  const std::vector<LoadStep> steps = largest_steps(run);
  std::string caption = steps.size() < run.load_steps.size()
                            ? fmt::format("Load steps, the {} largest of {}",
                                          kMostSteps, run.load_steps.size())
                            : std::string("Load steps");
  const bool recovery =
      std::any_of(steps.begin(), steps.end(),
                  [](const LoadStep& s) { return s.observable; });
  if (recovery) {
    open_table(doc.out(), caption,
               {{"At", kWords},
                {"Line"},
                {"Load"},
                {"Frequency moved by"},
                {"Steady again after"}});
  } else {
    caption += "; recovery is not observable at this interval";
    open_table(doc.out(), caption,
               {{"At", kWords}, {"Line"}, {"Load"}, {"Frequency moved by"}});
  }
  for (const LoadStep& step : steps) {
    doc.put(
        "<tr><th scope=\"row\">{}</th><td>{}</td><td>{:.0f} to {:.0f} %"
        "</td><td>{}</td>",
        safe(text.clock(step.logged)), step.line, step.from_pct, step.to_pct,
        std::isfinite(step.frequency_dip_pct)
            ? fmt::format("{:.1f} %", step.frequency_dip_pct)
            : std::string("&ndash;"));
    if (recovery) {
      doc.put("<td>{}</td>",
              !step.observable ? std::string("not observable")
              : std::isfinite(step.recovery_s)
                  ? duration_text(static_cast<double>(step.recovery_s))
                  : std::string("&ndash;"));
    }
    doc.put("</tr>");
  }
  close_table(doc.out());
}

void acceptance(const RunReport& run, Document& doc) {
  if (!run.acceptance) return;
  const std::string_view held_to = name_of(run.acceptance->held_to);
  const std::string caption = fmt::format(
      "Acceptance sheet: load test by ISO 8528-5, held to class {}, a sample "
      "every {:.3g} s",
      held_to, run.acceptance->interval_s);
  const std::string allows = fmt::format("{} allows", held_to);
  open_table(
      doc.out(), caption,
      {{"Quantity", kWords}, {"Measured"}, {allows}, {"Reaches", kWords}});
  for (const AcceptanceQuantity& q : run.acceptance->quantities) {
    const bool from_rated =
        q.quantity.ends_with("_dip") || q.quantity.ends_with("_rise");
    const auto figure = [&](double value) -> std::string {
      if (!std::isfinite(value)) return "&ndash;";
      return from_rated ? fmt::format("{:+.2f} {}", value, q.unit)
                        : fmt::format("{:.2f} {}", value, q.unit);
    };
    doc.put(
        "<tr><th scope=\"row\">{}</th><td>{}</td><td>{}</td>"
        "<td class=\"word\">{}{}</td></tr>",
        safe(quantity_text(q)), figure(q.value), figure(q.allowed),
        safe(q.reached),
        q.bound == Bound::lower            ? " at best"
        : q.bound == Bound::not_observable ? "not observable"
                                           : "");
  }
  close_table(doc.out());
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
  open_table(doc.out(),
             fmt::format("{} earlier run{}, brought to this run's condition",
                         past.runs, past.runs == 1 ? "" : "s"),
             {{"Figure", kWords},
              {"This run"},
              {"Run before"},
              {"Usual"},
              {"95 % of runs from"},
              {"to"},
              {"Against usual", kWords}});
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
  close_table(doc.out());
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

}  // namespace telltale::host
