// Recognising columns of words.
#include "ingest/text_roles.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <initializer_list>
#include <string>
#include <string_view>
#include <vector>

#include "ingest/text_columns.hpp"
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

// "Low oil", "High temp", "Charger fail", "Overspeed": what a contact of its
// own would warn of.
bool says_condition(const HeaderName& header) {
  return says(header, {"low", "high", "lo", "hi", "over", "under", "fail",
                       "failed", "failure", "loss", "overload", "overspeed",
                       "underspeed", "overcrank", "overtemp"}) &&
         !says(header, {"idle", "mode", "range", "gear", "select"});
}

}  // namespace

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
  // "Run": ON and OFF.
  const bool contact = says(column.header, {"run", "running"}) &&
                       understood == stats.texts && stats.numbers == 0;
  if (!contact && (!named || understood * 2 < stats.texts)) return false;
  column.use.name = "state";
  column.use.why = fmt::format("words such as \"{}\"",
                               printable(stats.words.begin()->first, 30));
  column.plan.role = Role::state;
  return true;
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
  const bool contact = is_yes_no(stats);
  const bool condition = contact && says_condition(column.header);
  if ((!named && !condition) || counts || elsewhere) return false;
  if (contact && (condition || column.header.tokens.size() > 1)) {
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
  if (distinct >= ColumnStats::kMaxWords ||
      (distinct > 4 && distinct * 4 > stats.cells)) {
    return false;
  }
  column.use.name = "unit";
  column.use.why =
      distinct == 1 ? "names the set" : fmt::format("names {} sets", distinct);
  column.plan.role = Role::unit;
  return true;
}

}  // namespace telltale::host
