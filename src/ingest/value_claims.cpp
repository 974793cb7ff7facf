// Claims by the size of readings.
#include "ingest/value_claims.hpp"

#include <fmt/format.h>

#include <set>
#include <string_view>
#include <vector>

#include "ingest/unit_choice.hpp"
#include "support/safe_text.hpp"

namespace telltale::host {

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
