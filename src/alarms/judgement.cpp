// Figures beside the standards' own.
#include "alarms/judgement.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>

#include "support/safe_text.hpp"

namespace telltale::host {
namespace {

constexpr std::string_view kIsa = "ISA-18.2-2016, IEC 62682";
constexpr std::string_view kDesk =
    "the load on one operator of a process plant; here to compare settings "
    "before and after, no pass or fail";
constexpr std::string_view kQuality =
    "finding alarms whose settings are wrong; here as there";

double percent(double part, double whole) {
  return whole > 0 ? part / whole * 100.0 : kNotKnown;
}

void add_load(const AlarmReport& r, std::vector<Measure>& all) {
  const double days = r.span_s / 86400.0;
  const auto raises = static_cast<double>(r.raises);
  const auto per = [&](double parts_a_day) {
    return days > 0 ? raises / days / parts_a_day : kNotKnown;
  };
  const auto add = [&all](std::string id, std::string title, double value,
                          double acceptable, double at_most,
                          std::string_view source) {
    all.push_back({std::move(id), std::move(title), value, "", acceptable,
                   at_most, std::string(source), std::string(kDesk)});
  };
  add("raises_per_day", "raises a day, on average", per(1), 144, 288,
      "ISA-18.2-2016, IEC 62682 (edition of 2009: 150 and 300)");
  add("raises_per_hour", "raises an hour, on average", per(24), 6, 12, kIsa);
  add("raises_per_10min", "raises in 10 min, on average", per(144), 1, 2, kIsa);
  add("peak_10min", "most raises in any 10 min", r.flood_peak, 10, kNotKnown,
      kIsa);
}

void add_shares(const AlarmReport& r, std::vector<Measure>& all) {
  const auto add = [&all](std::string id, std::string title, double value,
                          double acceptable, double at_most,
                          std::string_view meant_for) {
    all.push_back({std::move(id), std::move(title), value, "%", acceptable,
                   at_most, std::string(kIsa), std::string(meant_for)});
  };
  add("hours_over_30", "hours with more than 30 raises",
      r.counts.hours().over_share() * 100.0, 1, kNotKnown, kDesk);
  add("ten_minutes_over_10", "10-min stretches with more than 10 raises",
      r.counts.ten_minutes().over_share() * 100.0, 1, kNotKnown, kDesk);
  add("time_in_flood", "time in flood", percent(r.flood_s, r.span_s), 1,
      kNotKnown, kDesk);
  double top = 0.0;
  for (std::size_t i = 0; i < std::min<std::size_t>(10, r.alarms.size()); ++i) {
    top += r.alarms[i].raises;
  }
  // Ten alarms of ten make all of the load; of fewer the share says nothing.
  const bool enough = r.alarms.size() > 20;
  add("top_10_share", "share of the 10 most frequent alarms",
      enough ? percent(top, static_cast<double>(r.raises)) : kNotKnown, 1, 5,
      kQuality);
}

void add_quality(const AlarmReport& r, std::vector<Measure>& all) {
  double chattering = 0;
  double fleeting = 0;
  for (const AlarmFigures& f : r.alarms) {
    chattering += f.chatters();
    fleeting += f.fleeting > 0;
  }
  all.push_back({"chattering_alarms", "alarms that chatter", chattering, "", 0,
                 kNotKnown, std::string(kIsa), std::string(kQuality)});
  all.push_back({"fleeting_alarms", "alarms with fleeting raises", fleeting, "",
                 0, kNotKnown, std::string(kIsa), std::string(kQuality)});
  all.push_back({"stale_at_once", "alarms stale at once, at most",
                 static_cast<double>(r.most_stale), "", 4, kNotKnown,
                 std::string(kIsa), std::string(kDesk)});
  all.push_back({"standing_on_average", "alarms standing, on average",
                 r.clears_told ? r.mean_standing : kNotKnown, "", 9, kNotKnown,
                 "EEMUA 191", std::string(kDesk)});
}

std::string quoted_name(const AlarmReport& r, std::uint32_t alarm) {
  return printable(full_name(r.name(alarm)), 120);
}

void find_chatter(const AlarmReport& r, std::vector<AlarmFinding>& all) {
  for (const AlarmFigures& f : r.alarms) {
    if (!f.chatters()) continue;
    AlarmFinding finding;
    finding.check = "alarm-chatter";
    finding.alarm = f.alarm;
    finding.from = f.chatters_by_screen ? f.chatter_from : f.first;
    finding.value = f.chatter_index;
    finding.limit = 0.05;
    finding.unit = "1/s";
    finding.summary = fmt::format(
        "{} was raised {} times, {} of them within 60 s of the one before; "
        "chattering index {:.3f} a second",
        quoted_name(r, f.alarm), grouped(f.raises, 0),
        grouped(f.chatter_raises, 0), f.chatter_index);
    finding.next = cure_in_words(*f.cure);
    finding.source =
        "ISA-18.2 / IEC 62682 screening rule: three raises within 60 s; "
        "chattering index at or above 0.05 a second over 5 raises or more "
        "(Kondaveeti et al., 2013)";
    all.push_back(std::move(finding));
  }
}

void find_floods(const AlarmReport& r, std::vector<AlarmFinding>& all) {
  if (r.flood_count == 0) return;
  const auto worst = std::max_element(
      r.floods.begin(), r.floods.end(),
      [](const Flood& a, const Flood& b) { return a.peak < b.peak; });
  AlarmFinding finding;
  finding.check = "alarm-flood";
  finding.from = worst->from;
  finding.alarm = worst->first_alarm;
  finding.value = worst->peak;
  finding.limit = FloodWatch::kStartsAbove;
  finding.summary = fmt::format(
      "{} flood{} of alarms, {} in all; the worst reached {} raises in 10 min "
      "and began with {}",
      r.flood_count, r.flood_count == 1 ? "" : "s", duration_text(r.flood_s),
      worst->peak, quoted_name(r, worst->first_alarm));
  const bool one_alarm = worst->top_raises * 2 > worst->raises;
  finding.next =
      one_alarm ? fmt::format("most of it is one alarm, {}: cure that first",
                              quoted_name(r, worst->top_alarm))
                : std::string(
                      "look at the alarm that came first; the others mostly "
                      "follow from it");
  finding.source =
      "ISA-18.2 / EEMUA 191: over 10 alarms in 10 min, until under 5 in 10 min";
  all.push_back(std::move(finding));
}

void find_standing(const AlarmReport& r, std::vector<AlarmFinding>& all) {
  for (const AlarmFigures& f : r.alarms) {
    if (f.stale == 0) continue;
    AlarmFinding finding;
    finding.check = "alarm-standing";
    finding.alarm = f.alarm;
    finding.from = f.longest_from;
    finding.value = f.longest_s / 3600.0;
    finding.limit = 24.0;
    finding.unit = "h";
    finding.summary = fmt::format(
        "{} stood for {}{}", quoted_name(r, f.alarm),
        duration_text(f.longest_s),
        f.stale > 1 ? fmt::format(", and {} times for more than 24 h", f.stale)
                    : std::string());
    finding.next =
        "find out what it means and deal with it; an alarm that needs no "
        "answer should not be one";
    finding.source = "ISA-18.2 / EEMUA 191: stale after 24 h without a break";
    all.push_back(std::move(finding));
  }
}

std::string price_in_words(const Cure& cure, const CureOutcome& outcome) {
  std::string out;
  if (outcome.delayed == 0) {
    out = "no occurrence would have come later";
  } else {
    out = fmt::format(
        "occurrences would have come {} later on average, {} at "
        "worst",
        duration_text(outcome.mean_delay_s),
        duration_text(outcome.worst_delay_s));
  }
  if (outcome.missed > 0) {
    out += fmt::format(
        "; {} of {} occurrences, none longer than {}, would not "
        "have been told",
        outcome.missed, cure.occurrences,
        duration_text(std::ceil(outcome.longest_missed_s)));
  }
  return out;
}

}  // namespace

LogUnit unit_in(const ValueText& text, const Cure& cure) {
  return cure.limit ? text.unit_of(cure.limit->channel) : LogUnit::none;
}

std::string cure_in_words(const Cure& cure, LogUnit wanted) {
  if (cure.basis == CureBasis::none) return cure.why;
  if (!cure.proposal) {
    return "no delay or deadband tried here removes the chatter without hiding "
           "what matters: look at sensor, plug and wiring, and at what the "
           "channel really does";
  }
  const CureOutcome& outcome = cure.outcomes[*cure.proposal];
  return fmt::format("{} would have left {} of {} raises and no chatter; {}",
                     words_for(outcome.setting, cure.limit, wanted),
                     grouped(outcome.raises, 0), grouped(cure.raises, 0),
                     price_in_words(cure, outcome));
}

std::string basis_in_words(const Cure& cure, LogUnit wanted) {
  if (cure.basis == CureBasis::replay && cure.limit) {
    const AlarmLimit& l = *cure.limit;
    const ChannelInfo& info = info_of(l.channel);
    const LogUnit unit = shown_unit(l, wanted);
    const auto change = conversion(unit, info.unit);
    return fmt::format(
        "by replaying {}: raised {} {:.4g} {}, cleared at {:.4g}; the replay "
        "raised {} of {} alarms of the log again",
        info.title, l.above ? "above" : "below",
        change->from_canonical(l.limit), symbol_of(unit),
        change->from_canonical(l.clears), l.reproduced, l.recorded);
  }
  return "from the alarm's own comings and goings; the channel behind it is "
         "not known";
}

std::string_view shape_in_words(JournalShape shape) {
  switch (shape) {
    case JournalShape::states:
      return "a journal: each row an event with its state";
    case JournalShape::on_and_off:
      return "a journal: a column of what came and one of what went";
    case JournalShape::intervals:
      return "a journal: each row an alarm with its beginning and end";
    case JournalShape::messages:
      return "a list of messages: each row an alarm as it came";
    case JournalShape::level:
      return "a log whose rows name the alarms that stand; a raise is their "
             "appearance";
    case JournalShape::contacts:
      return "a column of yes and no for each alarm";
    case JournalShape::events:
      break;
  }
  return "a list of events";
}

void judge(AlarmReport& report) {
  report.measures.clear();
  add_load(report, report.measures);
  add_shares(report, report.measures);
  add_quality(report, report.measures);
  report.findings.clear();
  find_chatter(report, report.findings);
  find_floods(report, report.findings);
  find_standing(report, report.findings);
}

std::string_view name_of(JournalShape shape) {
  switch (shape) {
    case JournalShape::states:
      return "states";
    case JournalShape::on_and_off:
      return "on and off columns";
    case JournalShape::intervals:
      return "intervals";
    case JournalShape::messages:
      return "messages";
    case JournalShape::level:
      return "level";
    case JournalShape::contacts:
      return "contacts";
    case JournalShape::events:
      break;
  }
  return "events";
}

Severity AlarmReport::verdict() const {
  Severity worst = Severity::healthy;
  for (const AlarmFinding& finding : findings) {
    worst = std::max(worst, finding.severity);
  }
  return worst;
}

}  // namespace telltale::host
