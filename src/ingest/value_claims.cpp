// Claims by the size of readings.
#include "ingest/value_claims.hpp"

#include <fmt/format.h>

#include <array>
#include <set>
#include <string_view>
#include <utility>
#include <vector>

#include "ingest/unit_choice.hpp"
#include "support/safe_text.hpp"

namespace telltale::host {

namespace {

// What a vague header and the size of its readings say together.
struct Vague {
  const Column& column;
  const ColumnStats& stats;
  std::set<std::string> said;  // without words of place
  double middle = 0;           // median reading above 1
  int score = 0;

  [[nodiscard]] bool only(std::string_view word) const {
    return said.size() == 1 && *said.begin() == word;
  }
  [[nodiscard]] bool between(double low, double high) const {
    return middle >= low && middle <= high;
  }
  [[nodiscard]] bool is_symbol(std::string_view letter) const {
    const std::vector<std::string>& tokens = column.header.tokens;
    return tokens.size() == 1 && tokens.front() == letter;
  }
  [[nodiscard]] ChannelClaim claim(Channel channel, std::string why) const {
    return {channel, score, std::move(why)};
  }
};

using Claim = std::optional<ChannelClaim>;

Vague vague_of(const Column& column) {
  const HeaderName& header = column.header;
  Vague vague{column, telling(column), header.concepts};
  std::vector<double> live;
  for (double value : vague.stats.sorted) {
    if (value > 1) live.push_back(value);
  }
  vague.middle = live.empty() ? 0 : live[live.size() / 2];
  if (!header.implied.empty()) vague.said.insert(header.implied);
  for (const char* place :
       {"generator", "engine", "output", "total", "average", "load"}) {
    vague.said.erase(place);
  }
  if (vague.said.contains("battery")) {
    // "start batt", "cranking batt", "battery DC"
    for (const char* place : {"starter", "starts", "dc"}) {
      vague.said.erase(place);
    }
  }
  vague.score = 5 - (header.numbered ? 2 : 0);
  return vague;
}

// Formula letters alone: f and n.
Claim claim_letter(const Vague& vague) {
  if (vague.is_symbol("f") && vague.between(45, 66)) {
    return vague.claim(Channel::frequency,
                       fmt::format("near {:.1f}: hertz", vague.middle));
  }
  if (vague.is_symbol("n") && vague.between(700, 4000)) {
    return vague.claim(
        Channel::engine_speed,
        fmt::format("near {:.0f}: revolutions a minute", vague.middle));
  }
  return std::nullopt;
}

// Volts without a leg: where they are measured shows in their size.
Claim claim_volts(const Vague& vague) {
  const bool battery = vague.only("battery");
  const bool volts =
      vague.only("voltage") ||
      (vague.said.size() == 2 && vague.said.contains("voltage") &&
       vague.said.contains("alternator"));
  if (!battery && !volts) return std::nullopt;
  if (vague.between(9, 33) && !(battery && vague.column.header.unit)) {
    return vague.claim(
        Channel::battery_voltage,
        battery ? fmt::format("near {:.1f}: a battery's volts", vague.middle)
                : fmt::format("volts near {:.1f}: a battery", vague.middle));
  }
  if (battery) return std::nullopt;
  if (vague.between(100, 150)) {
    return vague.claim(
        Channel::voltage_l1,
        fmt::format("volts near {:.0f}: a leg to neutral", vague.middle));
  }
  if (vague.between(150, 720)) {
    return vague.claim(
        Channel::voltage_line,
        fmt::format("volts near {:.0f}: the generator's output", vague.middle));
  }
  return std::nullopt;
}

// Of pressures only the oil's is a channel; it must look like one. "Oil" alone
// is a pressure if it stands at zero while the set is at rest.
Claim claim_pressure(const Vague& vague) {
  const bool oil = vague.only("oil") || vague.only("lube") ||
                   (vague.said.size() == 2 && vague.said.contains("oil") &&
                    vague.said.contains("lube"));
  if ((!vague.only("pressure") && !oil) || vague.column.header.numbered) {
    return std::nullopt;
  }
  if (oil && vague.column.stats.quantile(0.0) > 0.05 * vague.middle) {
    return std::nullopt;
  }
  const UnitChoice unit =
      choose_unit(Channel::oil_pressure, vague.column.header, vague.stats, {});
  if (!unit.unit || vague.middle == 0) return std::nullopt;
  const double kpa = conversion(unit.unit->unit, Unit::kPa)
                         ->to_canonical(vague.middle * unit.unit->scale);
  if (kpa < 150 || kpa > 700) return std::nullopt;
  return vague.claim(Channel::oil_pressure,
                     oil ? "zero at rest: the oil's pressure"
                         : "the log's one pressure, and usual for oil");
}

// Temperatures by what they are of, or of the one that has none.
Claim claim_temperature(const Vague& vague) {
  const ColumnStats& all = vague.column.stats;
  const std::optional<UnitText>& unit = vague.column.header.unit;
  const auto celsius = unit ? conversion(unit->unit, Unit::degC) : std::nullopt;
  const bool bare = vague.only("temperature");
  if (bare && celsius &&
      celsius->to_canonical(vague.stats.quantile(0.95)) > 180) {
    return vague.claim(Channel::exhaust_temperature,
                       "only exhaust gas gets that hot");
  }
  struct Medium {
    std::set<std::string> words;
    Channel channel;
  };
  const std::array<Medium, 6> media = {{
      {{"temperature"}, Channel::coolant_temperature},
      {{"coolant"}, Channel::coolant_temperature},
      {{"jacket"}, Channel::coolant_temperature},
      {{"jacket", "water"}, Channel::coolant_temperature},
      {{"fresh", "water"}, Channel::coolant_temperature},
      {{"ambient"}, Channel::ambient_temperature},
  }};
  // A temperature moves and has no steps of a switch or a level at its stop.
  if (all.quantile(1.0) - all.quantile(0.0) < 1 ||
      vague.column.header.numbered) {
    return std::nullopt;
  }
  for (const Medium& medium : media) {
    if (vague.said != medium.words) continue;
    if (!bare) return vague.claim(medium.channel, "its header");
    const UnitChoice choice =
        choose_unit(medium.channel, vague.column.header, vague.stats, {});
    if (!choice.unit) return std::nullopt;
    const double c = conversion(choice.unit->unit, Unit::degC)
                         ->to_canonical(vague.stats.quantile(0.95));
    // Warmer than air and cooler than a hot winding.
    if (c < 65 || c > 97) return std::nullopt;
    return vague.claim(medium.channel,
                       "the log's one temperature, and usual for coolant");
  }
  return std::nullopt;
}

}  // namespace

std::optional<ChannelClaim> claim_by_values(const Column& column) {
  const HeaderName& header = column.header;
  if (!header.foreign.empty() || telling(column).numbers < 3) {
    return std::nullopt;
  }
  const bool symbol = header.tokens.size() == 1 && header.tokens[0].size() == 1;
  if (!header.unknown.empty() && !symbol) return std::nullopt;
  const Vague vague = vague_of(column);
  for (const auto claim_of :
       {claim_letter, claim_volts, claim_pressure, claim_temperature}) {
    if (Claim claim = claim_of(vague)) return claim;
  }
  return std::nullopt;
}

std::string ambiguity_note(const Column& column, std::size_t index) {
  const HeaderName& header = column.header;
  std::set<std::string> said = header.concepts;
  if (!header.implied.empty()) said.insert(header.implied);
  std::string channels;
  if (said.contains("temperature")) {
    channels =
        "coolant_temperature, oil_temperature, exhaust_temperature, "
        "winding_temperature";
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

std::string reason_unknown(const Column& column) {
  const HeaderName& header = column.header;
  const LogUnit unit = header.unit ? header.unit->unit : LogUnit::V;
  if (header.concepts.contains("voltage") && header.concepts.contains("l3") &&
      (header.concepts.contains("l1") || header.concepts.contains("l2"))) {
    return "of the volts leg to leg only L1-L2 is used";
  }
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

}  // namespace telltale::host
