// Two passes: limits, then trials.
#include "alarms/log_replay.hpp"

#include <algorithm>
#include <functional>
#include <optional>
#include <string>
#include <vector>

#include "alarms/alarm_clue.hpp"
#include "alarms/channel_replay.hpp"
#include "alarms/judgement.hpp"
#include "alarms/limit_finder.hpp"
#include "support/safe_text.hpp"

namespace telltale::host {
namespace {

struct Candidate {
  AlarmFigures* figures = nullptr;
  const AlarmName* name = nullptr;
  LimitFinder finder;
  std::optional<ChannelReplay> replay;
  Channel channel = Channel::none;
  // Where the log's own numbers are.
  std::uint16_t unit = 0;
  AlarmMask bit = 0;
  bool met = false;
};

std::vector<Candidate> candidates_of(const Log& log, AlarmReport& report) {
  std::vector<Candidate> all;
  for (AlarmFigures& f : report.alarms) {
    if (!f.cure || f.cure->basis == CureBasis::none) continue;
    const auto clue = clue_of(report.name(f.alarm));
    if (!clue) continue;
    const auto& columns = log.layout().columns;
    const bool there = std::any_of(
        columns.begin(), columns.end(),
        [&](const ColumnUse& c) { return c.channel == clue->channel; });
    if (!there) continue;
    all.push_back({&f, &report.name(f.alarm),
                   LimitFinder(clue->channel, clue->above), std::nullopt,
                   clue->channel, 0, 0, false});
  }
  return all;
}

// Finds a candidate's numbers once the reader has met its names.
void meet(Candidate& c, const LogReader& reader) {
  const auto& units = reader.unit_names();
  const auto& alarms = reader.alarm_names();
  for (std::size_t u = 0; u < units.size(); ++u) {
    if (printable(units[u], 80) != c.name->unit) continue;
    for (std::size_t a = 0; a < alarms.size(); ++a) {
      if (printable(alarms[a], 200) != c.name->name) continue;
      c.unit = static_cast<std::uint16_t>(u);
      c.bit = AlarmMask{1} << a;
      c.met = true;
    }
  }
}

using Visit = std::function<void(Candidate&, TimeMs, double, bool)>;

// Rows of each candidate's unit; the time of the last row.
std::optional<TimeMs> visit(const Log& log, std::vector<Candidate>& all,
                            const Visit& each) {
  ChannelMask wanted = 0;
  for (const Candidate& c : all) wanted |= bit(c.channel);
  auto reader = log.rows(wanted);
  if (!reader) return std::nullopt;
  Row row;
  TimeMs last = kNoTime;
  std::size_t names = 0;
  while (reader->next(row)) {
    last = row.at;
    const std::size_t known =
        reader->alarm_names().size() + reader->unit_names().size();
    if (known != names) {
      names = known;
      for (Candidate& c : all) meet(c, *reader);
    }
    for (Candidate& c : all) {
      if (c.met ? row.unit != c.unit : reader->unit_names().size() > 1) {
        continue;
      }
      each(c, row.at, row.value[index_of(c.channel)],
           (row.alarms & c.bit) != 0);
    }
  }
  return last;
}

}  // namespace

void replay_channels(const Log& log, AlarmReport& report) {
  std::vector<Candidate> all = candidates_of(log, report);
  if (all.empty()) return;
  visit(log, all, [](Candidate& c, TimeMs, double reading, bool stands) {
    c.finder.push(reading, stands);
  });
  for (Candidate& c : all) {
    if (const auto limit = c.finder.limit()) {
      c.replay.emplace(*limit, report.layout.interval_s);
    }
    c.met = false;
    c.bit = 0;
  }
  std::erase_if(all, [](const Candidate& c) { return !c.replay; });
  if (all.empty()) return;
  const auto last =
      visit(log, all, [](Candidate& c, TimeMs at, double reading, bool stands) {
        c.replay->push(at, reading, stands);
      });
  if (!last) return;
  for (Candidate& c : all) {
    c.replay->finish(*last);
    if (c.replay->faithful()) c.replay->fill(*c.figures->cure);
  }
  judge(report);
}

}  // namespace telltale::host
