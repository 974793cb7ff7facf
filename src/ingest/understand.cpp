// From claims to uses.
#include "ingest/understand.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>
#include <map>
#include <optional>
#include <utility>

#include "ingest/bus_codes.hpp"
#include "ingest/channel_match.hpp"
#include "ingest/rivals.hpp"
#include "ingest/text_roles.hpp"
#include "ingest/time_header.hpp"
#include "ingest/unit_choice.hpp"
#include "ingest/value_claims.hpp"

namespace telltale::host {
namespace {

// Takes a unit into account for columns that have none.
void learn(UnitHints& hints, LogUnit unit) {
  switch (unit) {
    case LogUnit::degF:
    case LogUnit::psi:
    case LogUnit::gal:
    case LogUnit::gal_h:
      hints.us = true;
      break;
    case LogUnit::degC:
    case LogUnit::bar:
    case LogUnit::kPa:
    case LogUnit::L:
    case LogUnit::L_h:
      hints.metric = true;
      break;
    default:
      break;
  }
  if (quantity_of(unit) != Quantity::temperature) return;
  if (hints.temperature != LogUnit::none && hints.temperature != unit) {
    hints.mixed_temperatures = true;
  }
  hints.temperature = unit;
}

// What the units in headers and cells say.
UnitHints hints_of(const std::vector<Column>& columns) {
  UnitHints hints;
  for (const Column& column : columns) {
    if (column.header.unit) learn(hints, column.header.unit->unit);
    for (const auto& [suffix, count] : column.stats.suffixes) {
      if (const auto unit = unit_of_text(suffix)) learn(hints, unit->unit);
    }
  }
  if (hints.mixed_temperatures) hints.temperature = LogUnit::none;
  return hints;
}

// What bus codes the column holds, over the sample.
void look_for_codes(Column& column, std::vector<std::string>& notes) {
  ColumnPlan& plan = column.plan;
  const double scale = plan.to_canonical.scale * plan.scale;
  const double offset =
      plan.to_canonical.scale * plan.offset + plan.to_canonical.offset;
  std::size_t codes = 0;
  bool constant = true;
  for (double logged : column.stats.values) {
    const double value = logged * scale + offset;
    if (is_bus_code(plan.channel, value, logged)) {
      ++codes;
    } else if (std::isnan(plan.first_good)) {
      plan.first_good = value;
    }
    constant &= logged == column.stats.values.front();
  }
  if (codes > 0 && codes == column.stats.numbers && constant) {
    plan.only_codes = true;
    notes.push_back(fmt::format(
        "\"{}\": every reading is {}, a code for \"not available\"; the column "
        "counts as empty",
        column.header.text, column.stats.values.front()));
  }
}

// Nothing but 0 and 1: a contact, where a channel has readings in between. A
// header with a unit is no contact's: the pressure may just not have come up.
bool is_switch(const ColumnStats& stats, Channel channel) {
  switch (channel) {
    case Channel::start_count:
    case Channel::power_factor:
    case Channel::engine_hours:
    case Channel::load:
      return false;
    default:
      break;
  }
  return stats.numbers > 2 && stats.integers && stats.sorted.front() >= 0 &&
         stats.sorted.back() == 1;
}

// 0 to 23 and over again: the hour of the day, no meter.
bool is_hour_of_day(const ColumnStats& stats) {
  if (!stats.integers || stats.numbers < 2 || stats.sorted.front() < 0 ||
      stats.sorted.back() > 24) {
    return false;
  }
  for (std::size_t i = 1; i < stats.values.size(); ++i) {
    if (stats.values[i - 1] - stats.values[i] >= 20) return true;
  }
  return false;
}

void give_channel(Column& column, const ChannelClaim& claim,
                  const UnitHints& hints, std::vector<std::string>& notes) {
  const bool certain = column.header.unit && !column.header.unit_in_cells;
  if (!certain && is_switch(column.stats, claim.channel)) {
    column.use.why = "only 0 and 1: a contact, no readings";
    return;
  }
  if (claim.channel == Channel::engine_hours && is_hour_of_day(column.stats)) {
    column.use.why = "runs from 0 to 23: the hour of the day";
    return;
  }
  const UnitChoice choice =
      choose_unit(claim.channel, column.header, telling(column), hints);
  std::string why = column.use.why.empty() ? claim.why : column.use.why;
  if (!choice.note.empty()) notes.push_back(choice.note);
  if (!choice.unit) {
    column.use.why = choice.why;
    return;
  }
  column.use.name = info_of(claim.channel).slug;
  column.use.channel = claim.channel;
  column.use.unit = choice.unit->unit;
  if (column.header.concepts.contains("average") &&
      (claim.channel == Channel::voltage_l1 ||
       claim.channel == Channel::current_l1)) {
    why += "; the average of the legs, taken for L1";
  }
  if (!column.plan.set.empty()) why = column.plan.set + ": " + why;
  column.use.why = choice.why.empty() ? why : why + "; " + choice.why;
  column.plan.role = Role::channel;
  column.plan.channel = claim.channel;
  column.plan.unit = choice.unit->unit;
  column.plan.scale *= choice.unit->scale;
  column.plan.offset *= choice.unit->scale;
  column.plan.to_canonical =
      *conversion(choice.unit->unit, info_of(claim.channel).unit);
  look_for_codes(column, notes);
}

// "Total run time (h)": the hour meter, no clock of the log.
bool is_hour_meter(const Column& column) {
  constexpr double kNoHours = 100000;  // so it counts seconds
  const std::vector<ChannelClaim> claims = claims_of(column.header);
  if (claims.empty() || claims.front().channel != Channel::engine_hours) {
    return false;
  }
  const std::optional<UnitText>& unit = column.header.unit;
  return (unit && unit->unit == LogUnit::h) ||
         (column.stats.numbers > 0 && column.stats.sorted.front() > kNoHours);
}

// Claims on each channel of each set ("": of all sets).
using Bids = std::map<std::pair<Channel, std::string>, std::vector<Bid>>;

std::vector<Bid> settle_all(std::vector<Column>& columns, const Bids& bids,
                            std::vector<std::string>& notes) {
  std::vector<Bid> winners;
  for (const auto& [what, rivals] : bids) {
    const auto& [channel, set] = what;
    const auto next = bids.upper_bound(what);
    const bool sets_have_it =
        set.empty() && next != bids.end() && next->first.first == channel;
    if (sets_have_it) {
      for (const Bid& bid : rivals) {
        columns[bid.column].use.why = "each set has a column of its own";
      }
      continue;
    }
    const auto winner = settle(columns, rivals, notes);
    if (!winner) continue;
    for (const Bid& bid : rivals) {
      if (bid.column == *winner) winners.push_back(bid);
    }
  }
  return winners;
}

}  // namespace

void mark_time_columns(std::vector<Column>& columns, const TimeColumns& time) {
  const auto mark = [&](const TimeCandidate& candidate, Role role,
                        std::string_view name) {
    Column& column = columns[candidate.column];
    column.use.name = name;
    column.use.why = candidate.why;
    column.plan.role = role;
  };
  const bool split = time.clock.has_value();
  mark(time.main, split ? Role::date : Role::time, split ? "date" : "time");
  if (split) mark(*time.clock, Role::time_of_day, "time_of_day");
  for (const TimeCandidate& other : time.others) {
    if (is_hour_meter(columns[other.column])) continue;
    if (other.score >= 60 || is_time_header(columns[other.column].header)) {
      columns[other.column].use.why = "a second time column";
    }
  }
}

void understand_unit_column(std::vector<Column>& columns) {
  for (Column& column : columns) {
    if (column.use.why.empty() && take_unit(column)) return;
  }
}

void understand_columns(std::vector<Column>& columns,
                        std::vector<std::string>& notes) {
  Bids bids;
  // Whether the column's set, or the whole log, has that already.
  const auto is_named = [&](std::string_view name, const std::string& set) {
    return std::any_of(columns.begin(), columns.end(),
                       [&](const Column& column) {
                         return column.use.name == name &&
                                (set.empty() || column.plan.set.empty() ||
                                 column.plan.set == set);
                       });
  };
  for (std::size_t i = 0; i < columns.size(); ++i) {
    Column& column = columns[i];
    if (!column.use.name.empty() || !column.use.why.empty()) continue;
    const std::string& set = column.plan.set;
    if (!is_named("unit", set) && take_unit(column)) continue;
    if (take_alarm(column)) continue;
    if (!is_named("state", set) && take_state(column)) continue;
    std::vector<ChannelClaim> claims = claims_of(column.header);
    const bool certain =
        !claims.empty() && column.header.unit && column.stats.numbers > 0;
    if (column.stats.texts > column.stats.numbers && !certain) {
      column.use.why = "text";
      continue;
    }
    if (claims.empty() || claims.front().channel == Channel::voltage_line) {
      if (auto claim = claim_by_values(column)) {
        if (claims.empty() || claim->channel != Channel::voltage_line) {
          claims.assign(1, *claim);
        }
      }
    }
    if (claims.empty()) {
      const std::string note = ambiguity_note(column, i);
      column.use.why =
          note.empty() ? reason_unknown(column) : "not clear which it is";
      if (!note.empty()) notes.push_back(note);
      continue;
    }
    const Channel claimed = claims.front().channel;
    if (is_named(info_of(claimed).slug, set)) {
      column.use.why =
          fmt::format("{} is another column", info_of(claimed).slug);
      continue;
    }
    bids[{claimed, set}].push_back({i, claims.front()});
  }
  const std::vector<Bid> winners = settle_all(columns, bids, notes);
  // Units that headers and readings settle help with those that they do not.
  UnitHints hints = hints_of(columns);
  UnitHints learned = hints;
  for (const Bid& bid : winners) {
    const Column& column = columns[bid.column];
    if (column.header.unit) continue;
    const UnitChoice choice =
        choose_unit(bid.claim.channel, column.header, telling(column), hints);
    if (choice.unit) learn(learned, choice.unit->unit);
  }
  if (hints.temperature == LogUnit::none && !learned.mixed_temperatures) {
    hints.temperature = learned.temperature;
  }
  if (!hints.us && !hints.metric) {
    hints.us = learned.us;
    hints.metric = learned.metric;
  }
  for (const Bid& bid : winners) {
    give_channel(columns[bid.column], bid.claim, hints, notes);
  }
}

}  // namespace telltale::host
