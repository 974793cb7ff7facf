// The alarm report as text.
#include "alarms/text_report.hpp"

#include <algorithm>
#include <cmath>
#include <string>
#include <vector>

#include "alarms/judgement.hpp"
#include "report/page.hpp"
#include "report/value_text.hpp"
#include "support/safe_text.hpp"

namespace telltale::host {
namespace {

constexpr std::size_t kMostAlarms = 20;
constexpr std::size_t kMostFindings = 4;  // of one check
constexpr std::size_t kMostCures = 6;
constexpr std::size_t kMostBursts = 10;
constexpr std::size_t kMostPairs = 12;
constexpr std::size_t kMostFloods = 10;

std::string plural(std::uint64_t count, std::string_view what) {
  return fmt::format("{} {}{}", grouped(static_cast<double>(count), 0), what,
                     count == 1 ? "" : "s");
}

std::string figure(double value, int decimals) {
  return std::isfinite(value) ? grouped(value, decimals) : std::string("-");
}

std::string span(double seconds) {
  return std::isfinite(seconds) ? duration_text(seconds) : std::string("-");
}

class AlarmText {
 public:
  AlarmText(const AlarmReport& report, const TextStyle& style,
            fmt::memory_buffer& out)
      : r_(report),
        style_(style),
        text_(style.units, report.layout),
        page_(out) {}

  void write() {
    title();
    findings();
    most_frequent();
    cures();
    sequences();
    floods();
    measures();
    notes();
  }

 private:
  [[nodiscard]] std::string name(std::uint32_t alarm) const {
    return printable(full_name(r_.name(alarm)), 60);
  }
  [[nodiscard]] std::string long_name(std::uint32_t alarm) const {
    const AlarmName& n = r_.name(alarm);
    if (n.text.empty() || n.text == n.name) return name(alarm);
    return name(alarm) + " (" + printable(n.text, 80) + ")";
  }
  void more(std::size_t shown, std::size_t all) {
    if (all > shown) {
      page_.line(
          fmt::format("    and {} more; --json has them all", all - shown));
    }
  }

  void title() {
    page_.line(fmt::format("Alarms of {}", printable(r_.layout.file)));
    page_.paragraph(
        "", fmt::format("{} of {} in {} rows{}", plural(r_.raises, "raise"),
                        plural(r_.alarms.size(), "alarm"),
                        grouped(static_cast<double>(r_.tally.rows), 0),
                        r_.from ? fmt::format(", {} to {}",
                                              text_.stamp(r_.from->logged),
                                              text_.stamp(r_.to->logged))
                                : std::string()));
    if (r_.tally.rejected > 0) {
      page_.line(
          fmt::format("{} lines could not be read (--rejects FILE "
                      "keeps them)",
                      r_.tally.rejected));
    }
  }

  [[nodiscard]] std::string severity_word(Severity severity) const {
    const bool attention = severity >= Severity::attention;
    const std::string word = attention ? "ATTENTION" : "healthy";
    if (!style_.colour) return word;
    return fmt::format("\x1b[{}m{}\x1b[0m", attention ? "1;33" : "32", word);
  }

  void findings() {
    page_.line();
    if (r_.findings.empty()) {
      page_.line(severity_word(Severity::healthy) +
                 "  no alarm chatters, no flood, none stood for over 24 h");
      return;
    }
    // Many that chatter must not hide a flood, nor one that stands for days.
    for (const std::string_view check :
         {"alarm-flood", "alarm-chatter", "alarm-standing"}) {
      findings_of(check);
    }
  }
  void findings_of(std::string_view check) {
    std::size_t all = 0;
    for (const AlarmFinding& f : r_.findings) {
      if (f.check != check || ++all > kMostFindings) continue;
      page_.paragraph(severity_word(f.severity) + "  ",
                      fmt::format("{}: {}", f.check, f.summary));
      page_.paragraph(
          "    seen from ",
          text_.stamp(f.from.logged) +
              (f.from.line > 0 ? fmt::format(", line {}", f.from.line)
                               : std::string()));
      if (f.check != "alarm-chatter") page_.paragraph("    next: ", f.next);
    }
    more(kMostFindings, all);
  }

  void most_frequent() {
    if (r_.alarms.empty()) return;
    page_.heading("Alarms, most frequent first");
    page_.line(" raises   share  standing      longest       chatter  alarm");
    std::size_t shown = 0;
    for (const AlarmFigures& f : r_.alarms) {
      if (shown++ == kMostAlarms) break;
      std::string marks;
      if (f.chatters()) marks += ", chatters";
      if (f.stale > 0) marks += ", stale";
      if (f.stands_at_end) marks += ", stands";
      if (r_.name(f.alarm).role == AlarmRole::shutdown) marks += ", shutdown";
      page_.paragraph(
          fmt::format("{} {}  {}  {}  {}  ", pad_left(figure(f.raises, 0), 7),
                      pad_left(figure(f.share * 100.0, 1) + " %", 7),
                      pad_right(span(f.standing_s), 12),
                      pad_right(span(f.longest_s), 12),
                      pad_left(figure(f.chatter_index, 3), 7)),
          long_name(f.alarm) + marks);
    }
    more(kMostAlarms, r_.alarms.size());
    page_.line();
    page_.paragraph("",
                    "chatter: the chattering index, in raises a second, the "
                    "mean of 1 / time between raises; from 0.05 on (a "
                    "raise every 20 s) an alarm chatters. Standing: active; "
                    "stale: active for over 24 h without a break.");
  }

  void cure_table(const Cure& cure) {
    page_.line(
        "    setting                          raises  later by (worst)   not "
        "told");
    for (std::size_t i = 0; i < cure.outcomes.size(); ++i) {
      const CureOutcome& o = cure.outcomes[i];
      const bool proposed = cure.proposal && *cure.proposal == i;
      const std::string late =
          o.delayed > 0 ? fmt::format("{} ({})", span(o.mean_delay_s),
                                      span(o.worst_delay_s))
                        : std::string("-");
      page_.line(fmt::format(
          "  {} {} {}  {} {}{}", proposed ? ">" : " ",
          pad_right(words_for(o.setting, cure.limit, unit_in(text_, cure)), 32),
          pad_left(figure(o.raises, 0), 6), pad_right(late, 17),
          pad_left(fmt::format("{}", o.missed), 7),
          o.chatters ? "  chatters" : ""));
      if (!o.barred.empty()) page_.paragraph("        no: ", o.barred);
    }
  }

  void cures() {
    std::size_t chattering = 0;
    for (const AlarmFigures& f : r_.alarms) chattering += f.cure.has_value();
    if (chattering == 0) return;
    page_.heading("Settings that would take the chatter out");
    page_.paragraph("", kCureCaution);
    std::size_t shown = 0;
    for (const AlarmFigures& f : r_.alarms) {
      if (!f.cure) continue;
      if (shown++ == kMostCures) break;
      page_.line();
      page_.paragraph("  ",
                      long_name(f.alarm) + ": " +
                          cure_in_words(*f.cure, unit_in(text_, *f.cure)));
      if (f.cure->basis == CureBasis::none) continue;
      page_.paragraph("    ", basis_in_words(*f.cure, unit_in(text_, *f.cure)));
      cure_table(*f.cure);
    }
    more(kMostCures, chattering);
  }

  void sequences() {
    if (r_.burst_count == 0) return;
    page_.heading("What came first");
    page_.paragraph(
        "", fmt::format("{} of two or more alarms of a unit, each within 60 s "
                        "of the one before. Alarms that began them:",
                        plural(r_.burst_count, "burst")));
    std::vector<const AlarmFigures*> first;
    for (const AlarmFigures& f : r_.alarms) {
      if (f.part.first > 0) first.push_back(&f);
    }
    std::stable_sort(first.begin(), first.end(),
                     [](const AlarmFigures* a, const AlarmFigures* b) {
                       return a->part.first > b->part.first;
                     });
    for (std::size_t i = 0; i < std::min(first.size(), kMostBursts); ++i) {
      const BurstBook::Part& p = first[i]->part;
      page_.paragraph(
          fmt::format("  {} of {}  ", pad_left(figure(p.first, 0), 5),
                      pad_left(figure(p.in_bursts, 0), 5)),
          name(first[i]->alarm) +
              (p.first_tied > 0
                   ? fmt::format(" ({} of these together with others)",
                                 p.first_tied)
                   : std::string()));
    }
    more(kMostBursts, first.size());
    follows();
    company();
    largest();
  }

  void follows() {
    if (r_.follows.empty()) return;
    page_.line();
    page_.line("What follows what:");
    for (std::size_t i = 0; i < std::min(r_.follows.size(), kMostPairs); ++i) {
      const Follow& f = r_.follows[i];
      page_.paragraph(
          fmt::format("  {} of {}  ", pad_left(figure(f.times, 0), 5),
                      pad_left(figure(f.of, 0), 5)),
          fmt::format("{}, then {} after {} ({} to {})", name(f.first),
                      name(f.then), span(f.mean_lag_s), span(f.least_lag_s),
                      span(f.most_lag_s)));
    }
    more(kMostPairs, r_.follows.size());
  }

  void company() {
    if (r_.company.empty()) return;
    page_.line();
    page_.line("Alarms that come together (one of them may be enough):");
    for (std::size_t i = 0; i < std::min(r_.company.size(), kMostPairs); ++i) {
      const Company& c = r_.company[i];
      std::string names;
      for (const std::uint32_t alarm : c.alarms) {
        if (!names.empty()) names += " + ";
        names += name(alarm);
      }
      page_.paragraph("  ",
                      fmt::format("{}: {}{}", names, c.always ? "always, " : "",
                                  plural(c.times, "time")));
    }
    more(kMostPairs, r_.company.size());
  }

  void largest() {
    const auto worst = std::max_element(
        r_.bursts.begin(), r_.bursts.end(),
        [](const Burst& a, const Burst& b) { return a.distinct < b.distinct; });
    if (worst == r_.bursts.end() || worst->distinct < 3) return;
    page_.line();
    page_.line(fmt::format("The largest burst, from {}, line {}:",
                           text_.stamp(worst->from.logged), worst->from.line));
    for (const Burst::Member& m : worst->members) {
      page_.paragraph(
          fmt::format("  {}  ", pad_left("+" + span(m.after_s), 12)),
          name(m.alarm));
    }
    more(worst->members.size(), worst->distinct);
  }

  void floods() {
    if (r_.flood_count == 0) return;
    page_.heading("Floods");
    page_.paragraph("", "Over 10 raises in 10 min, until under 5 in 10 min.");
    std::vector<Flood> largest = r_.floods;
    std::stable_sort(
        largest.begin(), largest.end(),
        [](const Flood& a, const Flood& b) { return a.peak > b.peak; });
    largest.resize(std::min(largest.size(), kMostFloods));
    for (const Flood& f : largest) {
      page_.paragraph(
          fmt::format("  {}  {}  ", text_.stamp(f.from.logged),
                      pad_left(span(f.seconds()), 12)),
          fmt::format("{} of {}, at most {} in 10 min; first {}; most often {} "
                      "({})",
                      plural(f.raises, "raise"), plural(f.distinct, "alarm"),
                      f.peak, name(f.first_alarm), name(f.top_alarm),
                      f.top_raises));
    }
    more(kMostFloods, static_cast<std::size_t>(r_.flood_count));
  }

  void measures() {
    page_.heading("Measures beside the standards'");
    page_.line("      value  acceptable  at most  measure");
    for (const Measure& m : r_.measures) {
      if (!std::isfinite(m.value)) continue;
      const int decimals = m.value < 10 ? 2 : 1;
      const bool whole = m.unit.empty() && m.value == std::floor(m.value);
      page_.paragraph(
          fmt::format("{}  {}  {}  ",
                      pad_left(figure(m.value, whole ? 0 : decimals) +
                                   (m.unit.empty() ? "" : " " + m.unit),
                               11),
                      pad_left(figure(m.acceptable, 0), 10),
                      pad_left(figure(m.at_most, 0), 7)),
          m.title + " [" + m.source + "]");
    }
    page_.line();
    page_.paragraph(
        "",
        "The figures of the standards are meant for one operator of a process "
        "plant, over 30 days or more. A set on a boat has none: use them to "
        "compare settings before and after, not to pass or fail.");
    if (!r_.priorities.empty()) {
      page_.line();
      page_.line("By priority (the standards aim at 80 / 15 / 5 %):");
      for (const PriorityShare& p : r_.priorities) {
        page_.line(fmt::format(
            "{} {}  {}", pad_left(figure(static_cast<double>(p.raises), 0), 9),
            pad_left(
                figure(r_.raises == 0 ? kNotKnown
                                      : static_cast<double>(p.raises) * 100.0 /
                                            static_cast<double>(r_.raises),
                       1) +
                    " %",
                8),
            p.priority.empty() ? "(none)" : printable(p.priority, 50)));
      }
    }
  }

  void notes() {
    page_.heading("How it was read");
    page_.paragraph("- ", shape_in_words(r_.shape));
    if (r_.messages > 0) {
      page_.paragraph("- ", plural(r_.messages, "row") +
                                " of messages that are no alarms by their "
                                "class: not counted");
    }
    if (!r_.clears_told) {
      page_.paragraph("- ",
                      "when alarms went is not told: how long they stood can't "
                      "be known, nor on-delays be tried");
    }
    for (const std::string& note : r_.layout.notes) page_.paragraph("- ", note);
    for (const std::string& note : r_.notes) page_.paragraph("- ", note);
  }

  const AlarmReport& r_;
  TextStyle style_;
  ValueText text_;
  Page page_;
};

}  // namespace

void write_alarm_text(const AlarmReport& report, const TextStyle& style,
                      fmt::memory_buffer& out) {
  AlarmText(report, style, out).write();
}

std::vector<std::string> reading_notes(const AlarmReport& report) {
  std::vector<std::string> notes = {std::string(shape_in_words(report.shape))};
  notes.insert(notes.end(), report.notes.begin(), report.notes.end());
  return notes;
}

}  // namespace telltale::host
