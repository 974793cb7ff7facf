// From claims to uses.
#include "ingest/understand.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>
#include <map>
#include <optional>
#include <set>

#include "ingest/bus_codes.hpp"
#include "ingest/channel_match.hpp"
#include "ingest/fold_letters.hpp"
#include "ingest/text_columns.hpp"
#include "ingest/unit_choice.hpp"
#include "support/number.hpp"
#include "support/safe_text.hpp"

namespace telltale::host {
namespace {

bool says(const HeaderName& header,
          std::initializer_list<std::string_view> words) {
  return std::any_of(header.tokens.begin(), header.tokens.end(),
                     [&](const std::string& token) {
                       return std::find(words.begin(), words.end(), token) !=
                              words.end();
                     });
}

// --- text columns ---

bool take_state(Column& column) {
  const ColumnStats& stats = column.stats;
  if (stats.texts == 0 || stats.texts < stats.numbers) return false;
  const bool named = says(
      column.header, {"state", "status", "mode", "phase", "condition",
                      "zustand", "betriebszustand", "etat", "estado", "stato",
                      "toestand", "tilstand", "operation", "sequence"});
  std::size_t understood = 0;
  for (const auto& [word, count] : stats.words) {
    understood += state_of_text(word) != EngineState::unknown ? count : 0;
  }
  if (!named || understood * 2 < stats.texts) return false;
  column.use.name = "state";
  column.use.why = fmt::format("words such as \"{}\"",
                               printable(stats.words.begin()->first, 30));
  column.plan.role = Role::state;
  return true;
}

// Whether a column says nothing but yes and no.
bool is_yes_no(const ColumnStats& stats) {
  if (stats.numbers + stats.texts == 0) return false;
  if (stats.numbers > 0 && (!stats.integers || stats.sorted.front() < 0 ||
                            stats.sorted.back() > 1)) {
    return false;
  }
  return std::all_of(stats.words.begin(), stats.words.end(),
                     [](const auto& word) {
                       return means_yes(word.first) || means_no(word.first);
                     });
}

bool take_alarm(Column& column) {
  const ColumnStats& stats = column.stats;
  const bool named =
      says(column.header,
           {"alarm",       "alarms",    "fault",     "faults",   "warning",
            "warnings",    "event",     "events",    "message",  "messages",
            "trip",        "trips",     "storung",   "stoerung", "stoermeldung",
            "stormeldung", "meldung",   "meldungen", "fehler",   "alarme",
            "alarmes",     "defaut",    "alarma",    "alarmas",  "allarme",
            "allarmi",     "avaria",    "alarmen",   "storing",  "melding",
            "shutdown",    "shutdowns", "alarmtext", "alm"});
  const bool counts = says(
      column.header,
      {"count", "counter", "number", "limit", "setpoint", "delay", "time"});
  const bool elsewhere =
      std::any_of(column.header.foreign.begin(), column.header.foreign.end(),
                  [](const std::string& word) {
                    return word == "wind" || word == "wtg" || word == "solar" ||
                           word == "turbine" || word == "inverter";
                  });
  if (!named || counts || elsewhere) return false;
  if (is_yes_no(stats) && column.header.tokens.size() > 1) {
    column.use.name = "alarm";
    column.use.why = "an alarm of its own: yes or no";
    column.plan.role = Role::alarm;
    column.plan.alarm_name = printable(column.header.text, 80);
    return true;
  }
  const bool codes = stats.numbers > stats.texts;
  if (codes && (!column.header.unknown.empty() || !stats.integers ||
                stats.sorted.front() < 0))
    return false;
  column.use.name = "alarm";
  column.use.why = codes              ? "alarm codes by its header"
                   : stats.texts == 0 ? "alarm texts by its header; none stands"
                                      : "alarm texts by its header";
  column.plan.role = Role::alarm;
  return true;
}

bool take_unit(Column& column) {
  const ColumnStats& stats = column.stats;
  const auto& tokens = column.header.tokens;
  const bool plain =
      says(column.header, {"unit", "genset", "set", "asset", "machine",
                           "aggregat", "vessel", "boat"});
  const bool engine = says(
      column.header, {"engine", "generator", "gen", "device", "equipment"});
  const bool id =
      says(column.header, {"id", "no", "nr", "number", "name", "num"});
  if (tokens.size() > 3 || (!plain && !engine)) return false;
  if (stats.cells == stats.missing) return false;
  // A few names, each many times.
  std::size_t distinct = stats.words.size();
  if (stats.numbers > 0) {
    std::vector<double> values = stats.sorted;
    values.erase(std::unique(values.begin(), values.end()), values.end());
    distinct += values.size();
    if (!stats.integers || (!id && !plain) || stats.sorted.front() < 0) {
      return false;
    }
  }
  if (!plain && !id && stats.texts == 0) return false;
  if (distinct > 64 || (distinct > 4 && distinct * 4 > stats.cells)) {
    return false;
  }
  column.use.name = "unit";
  column.use.why =
      distinct == 1 ? "names the set" : fmt::format("names {} sets", distinct);
  column.plan.role = Role::unit;
  return true;
}

// --- channels ---

struct Bid {
  std::size_t column;
  ChannelClaim claim;
};

// The readings that tell what a column is.
const ColumnStats& telling(const Column& column) {
  return column.running.numbers >= 10 ? column.running : column.stats;
}

// Volts without a leg: where they are measured shows in their size.
std::optional<ChannelClaim> claim_by_values(const Column& column) {
  const HeaderName& header = column.header;
  const ColumnStats& stats = telling(column);
  if (!header.foreign.empty() || stats.numbers < 3) return std::nullopt;
  const bool symbol = header.tokens.size() == 1 && header.tokens[0].size() == 1;
  if (!header.unknown.empty() && !symbol) return std::nullopt;
  std::vector<double> live;
  for (double value : stats.sorted) {
    if (value > 1) live.push_back(value);
  }
  const double middle = live.empty() ? 0 : live[live.size() / 2];
  std::set<std::string> said = header.concepts;
  if (!header.implied.empty()) said.insert(header.implied);
  for (std::string_view extra :
       {"generator", "engine", "output", "total", "average", "load"}) {
    said.erase(std::string(extra));
  }
  const bool only = said.size() == 1;
  const auto is = [&](std::string_view word) {
    return only && *said.begin() == word;
  };
  const int score = 5 - (header.numbered ? 2 : 0);
  // Symbols alone: f and n.
  if (header.tokens.size() == 1 && header.tokens[0] == "f" && middle >= 45 &&
      middle <= 66) {
    return ChannelClaim{Channel::frequency, score,
                        fmt::format("near {:.1f}: hertz", middle)};
  }
  if (header.tokens.size() == 1 && header.tokens[0] == "n" && middle >= 700 &&
      middle <= 4000) {
    return ChannelClaim{
        Channel::engine_speed, score,
        fmt::format("near {:.0f}: revolutions a minute", middle)};
  }
  if (is("voltage") || is("battery") ||
      (said.size() == 2 && said.contains("voltage") &&
       said.contains("alternator"))) {
    if (middle >= 9 && middle <= 33 && !header.unit.has_value()) {
      return ChannelClaim{
          Channel::battery_voltage, score,
          fmt::format("near {:.1f}: a battery's volts", middle)};
    }
    if (is("battery")) return std::nullopt;
    if (middle >= 9 && middle <= 33) {
      return ChannelClaim{Channel::battery_voltage, score,
                          fmt::format("volts near {:.1f}: a battery", middle)};
    }
    if (middle >= 100 && middle <= 150) {
      return ChannelClaim{
          Channel::voltage_l1, score,
          fmt::format("volts near {:.0f}: a leg to neutral", middle)};
    }
    if (middle > 150 && middle <= 720) {
      return ChannelClaim{
          Channel::voltage_line, score,
          fmt::format("volts near {:.0f}: the generator's output", middle)};
    }
  }
  if (is("pressure") && !header.numbered) {
    // Of pressures only the oil's is a channel; it must look like one.
    const UnitChoice unit =
        choose_unit(Channel::oil_pressure, header, stats, {});
    if (unit.unit && !live.empty()) {
      const double kpa = conversion(unit.unit->unit, Unit::kPa)
                             ->to_canonical(middle * unit.unit->scale);
      if (kpa >= 150 && kpa <= 700) {
        return ChannelClaim{Channel::oil_pressure, score,
                            "the log's one pressure, and usual for oil"};
      }
    }
  }
  if (is("temperature") && header.unit) {
    const auto c = conversion(header.unit->unit, Unit::degC);
    if (c && !stats.sorted.empty() &&
        c->to_canonical(stats.quantile(0.95)) > 180) {
      return ChannelClaim{Channel::exhaust_temperature, score,
                          "only exhaust gas gets that hot"};
    }
  }
  return std::nullopt;
}

std::string ambiguity_note(const Column& column, std::size_t index) {
  const HeaderName& header = column.header;
  std::set<std::string> said = header.concepts;
  if (!header.implied.empty()) said.insert(header.implied);
  std::string channels;
  if (said.contains("temperature")) {
    channels = "coolant_temperature, oil_temperature, exhaust_temperature";
  } else if (said.contains("voltage")) {
    channels = "voltage_line, voltage_l1, battery_voltage";
  } else if (said.contains("pressure")) {
    channels = "oil_pressure";
  }
  if (channels.empty() || !header.foreign.empty() || said.size() > 2 ||
      column.stats.numbers == 0) {
    return "";
  }
  return fmt::format(
      "\"{}\": which {} that is can't be told; the column is not used. A map "
      "settles it: [[column]] index = {}, channel = one of {}",
      header.text,
      said.contains("temperature") ? "temperature"
      : said.contains("voltage")   ? "voltage"
                                   : "pressure",
      index + 1, channels);
}

// Why no channel claims a column, where its header shows it.
std::string reason_unknown(const Column& column) {
  const HeaderName& header = column.header;
  const LogUnit unit = header.unit ? header.unit->unit : LogUnit::V;
  if (unit == LogUnit::kVA) return "apparent power (kVA) is not power in kW";
  if (!header.foreign.empty()) {
    return fmt::format("\"{}\": not a reading of the set itself",
                       printable(header.foreign.front(), 30));
  }
  if (unit == LogUnit::none || unit == LogUnit::L || unit == LogUnit::gal) {
    return fmt::format("no channel is measured in {}",
                       printable(header.unit_text, 20));
  }
  return "not a channel known here";
}

bool always_missing(const Column& column) { return column.stats.numbers == 0; }

bool same_readings(const Column& a, const Column& b) {
  return a.stats.values == b.stats.values && a.stats.numbers > 0;
}

std::string quoted_headers(const std::vector<Column>& columns,
                           const std::vector<Bid>& bids) {
  std::string text;
  for (std::size_t i = 0; i < bids.size(); ++i) {
    if (i > 0) text += i + 1 == bids.size() ? " and " : ", ";
    text += fmt::format("{} (\"{}\")", bids[i].column + 1,
                        columns[bids[i].column].header.text);
  }
  return text;
}

// Several columns claim one channel: the better match, or none.
std::optional<std::size_t> settle(std::vector<Column>& columns,
                                  std::vector<Bid> bids,
                                  std::vector<std::string>& notes) {
  const Channel channel = bids.front().claim.channel;
  const std::string_view slug = info_of(channel).slug;
  // A column without any reading can't be meant where another has some.
  const bool some_live = std::any_of(
      bids.begin(), bids.end(),
      [&](const Bid& b) { return !always_missing(columns[b.column]); });
  if (some_live) {
    std::erase_if(bids, [&](const Bid& bid) {
      Column& column = columns[bid.column];
      if (!always_missing(column)) return false;
      column.use.why = fmt::format("would be {}, but holds no reading", slug);
      return true;
    });
  }
  std::stable_sort(bids.begin(), bids.end(), [](const Bid& a, const Bid& b) {
    return a.claim.score > b.claim.score;
  });
  if (bids.size() == 1) return bids.front().column;
  const int best = bids[0].claim.score;
  const bool tie = bids[1].claim.score >= best - 1;
  if (!tie) {
    for (std::size_t i = 1; i < bids.size(); ++i) {
      columns[bids[i].column].use.why =
          fmt::format("\"{}\" is the better match for {}",
                      columns[bids[0].column].header.text, slug);
    }
    columns[bids[0].column].use.why = fmt::format(
        "better match than \"{}\"", columns[bids[1].column].header.text);
    return bids.front().column;
  }
  const bool equal = std::all_of(bids.begin(), bids.end(), [&](const Bid& bid) {
    return same_readings(columns[bids[0].column], columns[bid.column]);
  });
  if (equal) {
    for (std::size_t i = 1; i < bids.size(); ++i) {
      columns[bids[i].column].use.why =
          fmt::format("the same readings as column {}", bids[0].column + 1);
    }
    return bids.front().column;
  }
  for (const Bid& bid : bids) {
    columns[bid.column].use.why =
        fmt::format("one of {} columns that could be {}", bids.size(), slug);
  }
  std::string lines;
  for (const Bid& bid : bids) {
    if (!lines.empty()) lines += " or ";
    lines += fmt::format("[[column]] index = {}, channel = \"{}\"",
                         bid.column + 1, slug);
  }
  notes.push_back(fmt::format(
      "columns {} could all be {}; none is used. A map settles it: {}",
      quoted_headers(columns, bids), slug, lines));
  return std::nullopt;
}

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

// Nothing but 0 and 1: a contact, where a channel has readings in between.
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

void give_channel(Column& column, const ChannelClaim& claim,
                  const UnitHints& hints, std::vector<std::string>& notes) {
  if (is_switch(column.stats, claim.channel)) {
    column.use.why = "only 0 and 1: a contact, no readings";
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

void find_running_rows(const Table& table, const std::vector<std::size_t>& rows,
                       DecimalMark decimal, std::vector<Column>& columns) {
  const auto shows_running = [](const Column& column) {
    const auto claims = claims_of(column.header);
    if (claims.empty() || column.stats.numbers < 20) return false;
    switch (claims.front().channel) {
      case Channel::engine_speed:
      case Channel::frequency:
      case Channel::voltage_l1:
      case Channel::voltage_line:
        return column.stats.sorted.back() > 0;
      default:
        return false;
    }
  };
  const auto sign = std::find_if(columns.begin(), columns.end(), shows_running);
  if (sign == columns.end()) return;
  const auto index = static_cast<std::size_t>(sign - columns.begin());
  // A code of a bus would be the highest; 98 of 100 are readings.
  const double half = 0.5 * sign->stats.quantile(0.98);
  const double least = half > 0 ? half : 0.5 * sign->stats.sorted.back();
  std::vector<std::size_t> running;
  for (const std::size_t row : rows) {
    const auto value = parse_number(table.rows[row].cells[index], decimal.mark);
    if (value && *value > least) running.push_back(row);
  }
  if (running.size() < 10) return;
  for (std::size_t i = 0; i < columns.size(); ++i) {
    columns[i].running = stats_of(table, running, i, decimal);
  }
}

void take_units_of_cells(std::vector<Column>& columns) {
  for (Column& column : columns) {
    if (column.header.unit || column.stats.suffixes.empty()) continue;
    const auto usual = std::max_element(
        column.stats.suffixes.begin(), column.stats.suffixes.end(),
        [](const auto& a, const auto& b) { return a.second < b.second; });
    if (usual->second * 2 < column.stats.numbers) continue;
    HeaderName name =
        parse_header(column.header.text + " (" + usual->first + ")");
    name.text = column.header.text;
    name.unit_in_cells = true;
    column.header = std::move(name);
  }
}

void add_group_names(const std::vector<std::string>& groups,
                     std::vector<Column>& columns) {
  std::string group;
  for (std::size_t i = 0; i < std::min(groups.size(), columns.size()); ++i) {
    if (!groups[i].empty()) group = groups[i];
    Column& column = columns[i];
    if (group.empty() || is_time_header(column.header)) continue;
    if (!claims_of(column.header).empty()) continue;
    HeaderName name = parse_header(group + " " + column.header.text);
    if (!name.unit) {
      name.unit = column.header.unit;
      name.unit_text = column.header.unit_text;
      name.implied = column.header.implied;
    }
    if (claims_of(name).empty()) continue;
    name.text = column.header.text;
    column.header = std::move(name);
  }
}

void find_common_words(std::vector<Column>& columns) {
  if (columns.size() < 5) return;
  std::map<std::string, std::size_t> counts;
  for (const Column& column : columns) {
    std::set<std::string> words(column.header.unknown.begin(),
                                column.header.unknown.end());
    words.insert(column.header.foreign.begin(), column.header.foreign.end());
    for (const std::string& word : words) ++counts[word];
  }
  const auto is_common = [&](const std::string& word) {
    return counts[word] * 10 >= columns.size() * 6;
  };
  for (Column& column : columns) {
    std::erase_if(column.header.unknown, is_common);
    // Only names of places: a log all of mains volts has no generator's.
    std::erase_if(column.header.foreign, [&](const std::string& word) {
      const bool place = word == "propulsion" || word == "service" ||
                         word == "hotel" || word == "domestic";
      return place && is_common(word);
    });
  }
}

void understand_columns(std::vector<Column>& columns,
                        std::vector<std::string>& notes) {
  std::vector<std::vector<Bid>> bids(kChannelCount);
  const auto is_named = [&](std::string_view name) {
    return std::any_of(
        columns.begin(), columns.end(),
        [&](const Column& column) { return column.use.name == name; });
  };
  bool has_unit = is_named("unit");
  bool has_state = is_named("state");
  for (std::size_t i = 0; i < columns.size(); ++i) {
    Column& column = columns[i];
    if (!column.use.name.empty() || !column.use.why.empty()) continue;
    if (!has_unit && take_unit(column)) {
      has_unit = true;
      continue;
    }
    if (take_alarm(column)) continue;
    if (!has_state && take_state(column)) {
      has_state = true;
      continue;
    }
    if (column.stats.texts > column.stats.numbers) {
      column.use.why = "text";
      continue;
    }
    std::vector<ChannelClaim> claims = claims_of(column.header);
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
    if (is_named(info_of(claimed).slug)) {
      column.use.why =
          fmt::format("{} is another column", info_of(claimed).slug);
      continue;
    }
    bids[index_of(claimed)].push_back({i, claims.front()});
  }
  std::vector<Bid> winners;
  for (const std::vector<Bid>& rivals : bids) {
    if (rivals.empty()) continue;
    const auto winner = settle(columns, rivals, notes);
    if (!winner) continue;
    for (const Bid& bid : rivals) {
      if (bid.column == *winner) winners.push_back(bid);
    }
  }
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
