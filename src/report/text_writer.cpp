#include "report/text_writer.hpp"

#include <algorithm>
#include <cmath>
#include <string>
#include <vector>

#include "report/load_steps.hpp"
#include "report/page.hpp"
#include "report/past_text.hpp"
#include "report/phrases.hpp"
#include "support/safe_text.hpp"
#include "telltale/condition/performance_class.hpp"

namespace telltale::host {
namespace {

/// The words carry the meaning; colour only repeats it.
std::string severity_word(Severity severity, bool colour) {
  const std::string_view word = severity == Severity::urgent      ? "URGENT"
                                : severity == Severity::attention ? "ATTENTION"
                                : severity == Severity::note      ? "note"
                                                                  : "healthy";
  if (!colour) return std::string(word);
  const std::string_view code = severity == Severity::urgent      ? "1;31"
                                : severity == Severity::attention ? "1;33"
                                : severity == Severity::note      ? "36"
                                                                  : "32";
  return fmt::format("\x1b[{}m{}\x1b[0m", code, word);
}

std::string_view how_it_ends(const RunReport& run) {
  switch (run.ends) {
    case RunReport::Ends::abrupt:
      return "stopped by itself";
    case RunReport::Ends::log:
      return "still running at the end of the log";
    case RunReport::Ends::stop:
      break;
  }
  return "";
}

class TextReport {
  static constexpr std::size_t kMostSteps = 8;

 public:
  TextReport(const HealthReport& report, const TextStyle& style,
             fmt::memory_buffer& out)
      : report_(report),
        style_(style),
        text_(style.units, report.layout),
        page_(out) {}

  void write() {
    title();
    verdicts();
    for (const RunReport& run : report_.runs) {
      if (!run.findings.empty()) run_findings(run);
    }
    if (!report_.findings.empty()) {
      page_.heading("About the log itself");
      findings(report_.findings);
    }
    for (const RunReport& run : report_.runs) figures(run);
    how_it_was_read();
  }

 private:
  void title() {
    const LogLayout& layout = report_.layout;
    page_.line(fmt::format("Health report of {}", printable(layout.file)));
    std::string rows = fmt::format(
        "{} rows", grouped(static_cast<double>(report_.tally.rows), 0));
    if (report_.first && report_.last) {
      rows += fmt::format(", {} to {}", text_.stamp(*report_.first),
                          text_.stamp(*report_.last));
    }
    page_.line(rows);
    if (report_.tally.rejected > 0) {
      page_.line(
          fmt::format("{} lines could not be read (--rejects FILE "
                      "keeps them)",
                      report_.tally.rejected));
    }
  }

  [[nodiscard]] std::string run_name(const RunReport& run) const {
    const std::string unit =
        run.unit.empty() ? "" : printable(run.unit, 24) + ", ";
    return fmt::format("{}run {}", unit, run.run);
  }

  void verdicts() {
    page_.line();
    if (report_.runs.empty()) {
      page_.line("No run in this log.");
      return;
    }
    std::size_t name_width = 0;
    for (const RunReport& run : report_.runs) {
      name_width = std::max(name_width, columns_of(run_name(run)));
    }
    for (const RunReport& run : report_.runs) {
      page_.line(
          fmt::format("{}  {}  {}  {}", pad_right(run_name(run), name_width),
                      pad_right(severity_word(run.verdict, style_.colour), 9),
                      pad_left(run.seconds > 0 ? duration_text(run.seconds)
                                               : std::string("no start"),
                               12),
                      text_.stamp(run.start.logged)));
    }
  }

  void run_findings(const RunReport& run) {
    page_.heading(fmt::format("Findings in {}", run_name(run)));
    findings(run.findings);
  }

  /// What one check found on several channels, legs for one, is told once.
  void findings(const std::vector<FindingReport>& all) {
    for (auto f = all.begin(); f != all.end(); ++f) {
      const auto same = [f](const FindingReport& other) {
        return other.check == f->check;
      };
      if (std::any_of(all.begin(), f, same)) continue;
      finding_head(*f);
      for (auto other = f + 1; other != all.end(); ++other) {
        if (same(*other)) also(*other);
      }
      finding_advice(*f);
    }
  }
  void also(const FindingReport& f) {
    page_.paragraph("  also      ",
                    fmt::format("{}: {} {}.", name_of(f.finding.severity),
                                summary_of(f, text_), when_of(f)));
  }

  [[nodiscard]] std::string when_of(const FindingReport& f) const {
    std::string when = text_.stamp(f.from.logged);
    if (f.to.line != 0 && f.to.logged != f.from.logged) {
      when += fmt::format(" to {}", text_.stamp(f.to.logged));
    }
    if (f.from.line != 0) {
      when += f.to.line > f.from.line
                  ? fmt::format(" (lines {} to {})", f.from.line, f.to.line)
                  : fmt::format(" (line {})", f.from.line);
    }
    return when;
  }

  void finding_head(const FindingReport& f) {
    page_.line();
    page_.line(fmt::format("{}  {}  [{}]",
                           severity_word(f.finding.severity, style_.colour),
                           f.check->info->title, f.check->info->slug));
    page_.paragraph("  ", summary_of(f, text_) + ".");
    page_.paragraph("  when      ", when_of(f));
    if (f.caused_by != nullptr) {
      page_.paragraph("  follows   ",
                      fmt::format("from {}", f.caused_by->info->slug));
    }
    const std::vector<std::string> evidence = evidence_of(f, text_);
    for (std::size_t i = 0; i < evidence.size(); ++i) {
      page_.paragraph(i == 0 ? "  evidence  " : "            ", evidence[i]);
    }
  }

  void finding_advice(const FindingReport& f) {
    list("  causes    ", f.check->advice->causes);
    list("  next      ", f.check->advice->next);
    const std::string caution = caution_of(f);
    if (!caution.empty()) page_.paragraph("  caution   ", caution);
    page_.paragraph("  limit by  ", source_of(f));
  }

  template <class Texts>
  void list(std::string_view lead, const Texts& texts) {
    int number = 0;
    for (const std::string_view item : texts) {
      if (item.empty()) continue;
      ++number;
      const std::string label(number == 1 ? lead : "            ");
      page_.paragraph(fmt::format("{}{}. ", label, number), in_print(item));
    }
  }

  void figures(const RunReport& run) {
    page_.heading(fmt::format("Figures of {}", run_name(run)));
    run_facts(run);
    page_.line();
    page_.line(fmt::format("{:<23}{:>8}{:>8}{:>8}{:>8}{:>8}{:>8}  unit", "",
                           "mean", "sd", "min", "median", "p95", "max"));
    for (std::size_t i = 0; i < kChannelCount; ++i) {
      const auto channel = static_cast<Channel>(i);
      if (run.channels[i] && !counts_up(channel)) {
        figure_row(channel, *run.channels[i]);
      }
    }
    counters(run);
    load_steps(run);
    acceptance(run);
    if (run.past) write_past(*run.past, text_, page_);
    not_checked(run);
  }

  void run_facts(const RunReport& run) {
    std::string facts = fmt::format("{} to {}", text_.stamp(run.start.logged),
                                    text_.clock(run.end.logged));
    if (run.begins_in_log) facts += ", already running when the log begins";
    const std::string_view end = how_it_ends(run);
    if (!end.empty()) facts += fmt::format(", {}", end);
    if (run.attempts) {
      facts += fmt::format(", {} crank{}", *run.attempts,
                           *run.attempts == 1 ? "" : "s");
    }
    if (run.crank_seconds) {
      facts += fmt::format(" ({} in all)", duration_text(*run.crank_seconds));
    }
    page_.paragraph("", facts);
    std::string phases;
    for (const PhaseSpan& span : run.phases) {
      const double length =
          static_cast<double>((span.to.logged - span.from.logged).ms) / 1000.0;
      if (!phases.empty()) phases += ", ";
      phases += fmt::format("{} {}", name_of(span.phase),
                            duration_text(std::max(0.0, length)));
      if (phases.size() > 400) {
        phases += ", ...";
        break;
      }
    }
    page_.paragraph("", phases);
  }

  void figure_row(Channel channel, const ChannelFigures& f) {
    const double scale = text_.shown(1.0, channel) - text_.shown(0.0, channel);
    const double sd = f.sd * std::abs(scale);
    const std::string zero = text_.number(f.mean, channel);
    const std::size_t point = zero.find('.');
    const int decimals = point == std::string::npos
                             ? 0
                             : static_cast<int>(zero.size() - point) - 1;
    page_.line(fmt::format(
        "{}{:>8}{:>8}{:>8}{:>8}{:>8}{:>8}  {}",
        pad_right(info_of(channel).title, 23), text_.number(f.mean, channel),
        grouped(sd, std::max(1, decimals)), text_.number(f.min, channel),
        text_.number(f.median, channel), text_.number(f.p95, channel),
        text_.number(f.max, channel), symbol_of(text_.unit_of(channel))));
  }

  /// A mean of an hour meter says nothing: from where to where does.
  static bool counts_up(Channel channel) {
    return channel == Channel::engine_hours || channel == Channel::start_count;
  }

  void counters(const RunReport& run) {
    for (const Channel channel :
         {Channel::engine_hours, Channel::start_count}) {
      const auto& f = run.channels[static_cast<std::size_t>(channel)];
      if (!f) continue;
      const std::string low = text_.number(f->min, channel);
      const std::string high = text_.number(f->max, channel);
      page_.line(fmt::format("{}{}{} {}", pad_right(info_of(channel).title, 25),
                             low,
                             low == high ? "" : fmt::format(" to {}", high),
                             symbol_of(text_.unit_of(channel))));
    }
  }

  /// The largest steps, in the order of the log.
  void load_steps(const RunReport& run) {
    if (run.load_steps.empty()) return;
    page_.line();
    page_.line(fmt::format("{:<23}{:>12}{:>12}{:>13}  {}",
                           run.load_steps.size() > kMostSteps
                               ? fmt::format("Load steps, {} of {}", kMostSteps,
                                             run.load_steps.size())
                               : std::string("Load steps"),
                           "line", "load", "frequency by", "back after"));
    for (const LoadStep& step : largest_steps(run, kMostSteps)) {
      load_step(step);
    }
  }

  void load_step(const LoadStep& step) {
    const std::string back =
        !step.observable ? "not observable"
        : std::isfinite(step.recovery_s)
            ? duration_text(static_cast<double>(step.recovery_s))
            : std::string("-");
    page_.line(fmt::format(
        "  {}{:>12}{:>12}{:>13}  {}", pad_right(text_.clock(step.logged), 21),
        step.line,
        fmt::format("{:.0f} to {:.0f} %", step.from_pct, step.to_pct),
        std::isfinite(step.frequency_dip_pct)
            ? fmt::format("{:.1f} %", step.frequency_dip_pct)
            : std::string("-"),
        back));
  }

  void acceptance(const RunReport& run) {
    if (!run.acceptance) return;
    page_.line();
    const std::string_view held_to = name_of(run.acceptance->held_to);
    page_.line(fmt::format(
        "Load test by ISO 8528-5, held to class {} (a sample every {:.3g} s)",
        held_to, run.acceptance->interval_s));
    page_.line(fmt::format("  {:<30}{:>9}{:>12}  {}", "", "measured",
                           fmt::format("{} allows", held_to), "reaches"));
    for (const AcceptanceQuantity& q : run.acceptance->quantities) {
      // What is counted from rated says which way.
      const bool from_rated =
          q.quantity.ends_with("_dip") || q.quantity.ends_with("_rise");
      const auto figure = [&](double value) -> std::string {
        if (!std::isfinite(value)) return "-";
        return from_rated ? fmt::format("{:+.2f} {}", value, q.unit)
                          : fmt::format("{:.2f} {}", value, q.unit);
      };
      page_.line(fmt::format("  {:<30}{:>9}{:>12}  {}{}", quantity_text(q),
                             figure(q.value), figure(q.allowed), q.reached,
                             q.bound == Bound::lower ? " at best"
                             : q.bound == Bound::not_observable
                                 ? "not observable"
                                 : ""));
    }
  }

  void not_checked(const RunReport& run) {
    if (run.not_checked().empty()) return;
    page_.line();
    page_.line("Not checked:");
    // Checks with one reason stand together.
    std::vector<std::string> reasons;
    for (const NotChecked& item : run.not_checked()) {
      if (std::find(reasons.begin(), reasons.end(), item.why) ==
          reasons.end()) {
        reasons.push_back(item.why);
      }
    }
    for (const std::string& why : reasons) {
      std::string names;
      for (const NotChecked& item : run.not_checked()) {
        if (item.why != why) continue;
        if (!names.empty()) names += ", ";
        names += item.check->info->slug;
      }
      page_.paragraph("  ", fmt::format("{}: {}", why, names));
    }
  }

  void how_it_was_read() {
    page_.heading("How the log was read");
    const LogLayout& layout = report_.layout;
    std::string used;
    std::string unused;
    for (const ColumnUse& column : layout.columns) {
      std::string& list = column.name.empty() ? unused : used;
      if (!list.empty()) list += ", ";
      list += printable(column.header, 40);
      if (!column.name.empty() && !symbol_of(column.unit).empty()) {
        list += fmt::format(" [{}]", symbol_of(column.unit));
      }
    }
    page_.paragraph("used      ", used.empty() ? "nothing" : used);
    if (!unused.empty()) page_.paragraph("not used  ", unused);
    for (const std::string& note : report_.notes) {
      page_.paragraph("note      ", printable(note));
    }
    page_.paragraph("", "telltale columns FILE shows every column and why.");
  }

  const HealthReport& report_;
  const TextStyle& style_;
  ValueText text_;
  Page page_;
};

}  // namespace

void write_text(const HealthReport& report, const TextStyle& style,
                fmt::memory_buffer& out) {
  TextReport(report, style, out).write();
}

}  // namespace telltale::host
