// Units from values. The usual ranges are common practice for small and medium
// sets; they are meant to tell units apart, not to judge readings.
#include "ingest/unit_choice.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <array>
#include <cmath>
#include <vector>

#include "ingest/bus_codes.hpp"

namespace telltale::host {
namespace {

// Where the 95th percentile of a log's readings usually is, in the channel's
// canonical unit.
struct Usual {
  Channel channel;
  double low;
  double high;
};
using enum Channel;
constexpr std::array kUsual = {
    Usual{engine_speed, 500, 5000},
    Usual{frequency, 40, 75},
    Usual{voltage_l1, 80, 800},
    Usual{voltage_l2, 80, 800},
    Usual{voltage_l3, 80, 800},
    Usual{voltage_line, 90, 1200},
    Usual{oil_pressure, 125, 950},
    Usual{coolant_temperature, 45, 118},
    Usual{oil_temperature, 45, 140},
    Usual{exhaust_temperature, 25, 110},   // wet
    Usual{exhaust_temperature, 140, 750},  // dry
    Usual{winding_temperature, 30, 170},
    Usual{raw_water_temperature, -2, 42},
    Usual{ambient_temperature, -10, 60},
    Usual{battery_voltage, 8, 36},
    Usual{battery_voltage, 40, 62},
    Usual{engine_hours, 0.1, 100000},
};

// Units a logger would write each quantity in.
std::vector<UnitText> units_of(Channel channel) {
  switch (quantity_of(info_of(channel).unit)) {
    case Quantity::temperature:
      return {{LogUnit::degC}, {LogUnit::degF}, {LogUnit::K}};
    case Quantity::pressure:
      return {{LogUnit::kPa}, {LogUnit::bar},  {LogUnit::psi},
              {LogUnit::MPa}, {LogUnit::mbar}, {LogUnit::kPa, 0.001}};
    case Quantity::voltage:
      return {{LogUnit::V}, {LogUnit::mV}, {LogUnit::kV}};
    case Quantity::rotation:
      if (channel == frequency) return {{LogUnit::Hz}};
      return {{LogUnit::rpm}, {LogUnit::Hz}};
    case Quantity::time:
      // NMEA 2000 counts engine hours in seconds.
      return {{LogUnit::h}, {LogUnit::s}};
    default:
      return {};
  }
}

double canonical(double logged, const UnitText& unit, Channel channel) {
  return conversion(unit.unit, info_of(channel).unit)
      ->to_canonical(logged * unit.scale);
}

bool is_usual(double value, Channel channel) {
  return std::any_of(kUsual.begin(), kUsual.end(), [&](const Usual& usual) {
    return usual.channel == channel && value >= usual.low &&
           value <= usual.high;
  });
}

std::string unit_words(const UnitText& unit, Channel channel) {
  if (unit.unit == LogUnit::kPa && unit.scale == 0.001) return "Pa";
  if (unit.unit == LogUnit::Hz && channel == engine_speed) {
    return "revolutions a second (Hz)";
  }
  return std::string(symbol_of(unit.unit));
}

std::string number_words(double value) {
  const double size = std::abs(value);
  return size >= 100 ? fmt::format("{:.0f}", value)
                     : fmt::format("{:.3g}", value);
}

// Readings while the set runs: zeros of a set at rest say nothing of units,
// and neither do codes of a bus.
struct Bulk {
  double middle;
  double high;  // 95th percentile
};
std::optional<Bulk> bulk_of(const ColumnStats& stats, Channel channel,
                            const UnitText* given) {
  std::vector<double> values;
  for (double value : stats.sorted) {
    const bool code =
        given != nullptr &&
        is_bus_code(channel, canonical(value, *given, channel), value);
    if (value != 0 && !code) values.push_back(value);
  }
  if (values.empty()) return std::nullopt;
  const auto at = [&](double p) {
    return values[static_cast<std::size_t>(
        std::lround(p * static_cast<double>(values.size() - 1)))];
  };
  return Bulk{at(0.5), at(0.95)};
}

std::vector<UnitText> fitting(Channel channel, const Bulk& bulk,
                              const UnitHints& hints) {
  std::vector<UnitText> fits;
  for (const UnitText& unit : units_of(channel)) {
    // Kelvin of an exhaust looks like degrees of another one.
    if (unit.unit == LogUnit::K && channel == exhaust_temperature &&
        hints.temperature != LogUnit::K) {
      continue;
    }
    if (is_usual(canonical(bulk.high, unit, channel), channel)) {
      fits.push_back(unit);
    }
  }
  return fits;
}

bool is_impossible(Channel channel, const Bulk& bulk, const UnitText& unit) {
  const ChannelInfo& info = info_of(channel);
  const double middle = canonical(bulk.middle, unit, channel);
  const double high = canonical(bulk.high, unit, channel);
  // Nothing that runs turns at a few tens of revolutions a minute.
  if (channel == engine_speed && high > 5 && high < 100) return true;
  if (channel == frequency && middle > 200) return true;
  return middle > info.high || middle < info.low;
}

UnitChoice check_given(Channel channel, const HeaderName& header,
                       const UnitText& given, const std::string& source,
                       const ColumnStats& stats, const UnitHints& hints) {
  UnitChoice choice{given, source, ""};
  const auto bulk = bulk_of(stats, channel, &given);
  if (!bulk || stats.numbers < 3 || !is_impossible(channel, *bulk, given)) {
    return choice;
  }
  const std::string problem = fmt::format(
      "\"{}\": its unit is {}, but readings near {} can't be {}", header.text,
      header.unit_text.empty() ? unit_words(given, channel) : header.unit_text,
      number_words(bulk->middle), unit_words(given, channel));
  std::vector<UnitText> fits = fitting(channel, *bulk, hints);
  std::erase(fits, given);
  if (fits.size() == 1) {
    choice.unit = fits.front();
    choice.why = fmt::format(
        "readings near {} fit {}, not {}", number_words(bulk->middle),
        unit_words(fits.front(), channel), unit_words(given, channel));
    choice.note = fmt::format(
        "{}; they are read as {}. If that is wrong, a map settles it: "
        "channel = \"{}\", unit = \"{}\"",
        problem, unit_words(fits.front(), channel), info_of(channel).slug,
        name_of(given.unit));
    return choice;
  }
  choice.unit.reset();
  choice.why = "its unit and its readings disagree";
  choice.note = fmt::format(
      "{}; the column is not used. A map settles it: channel = \"{}\", "
      "unit = ...",
      problem, info_of(channel).slug);
  return choice;
}

UnitChoice undecided(Channel channel, const HeaderName& header,
                     std::string_view units) {
  return {std::nullopt, "no unit, and the readings do not tell it",
          fmt::format("\"{}\": no unit given, and the readings could be {}; "
                      "the column is not used. A map settles it: channel = "
                      "\"{}\", unit = ...",
                      header.text, units, info_of(channel).slug)};
}

UnitChoice plain(LogUnit unit, std::string why) {
  return {UnitText{unit, 1.0}, std::move(why), ""};
}

// Percent, or a ratio of 1.
UnitChoice choose_share(Channel channel, const HeaderName& header,
                        const ColumnStats& stats) {
  if (stats.numbers == 0) return plain(LogUnit::pct, "percent taken");
  const double high = stats.quantile(0.99);
  if (channel == power_factor) {
    if (std::max(high, -stats.quantile(0.01)) > 1.5) {
      return plain(LogUnit::pct, "readings up to 100: percent");
    }
    return plain(LogUnit::one, "a factor up to 1");
  }
  if (high <= 1.3 && high > 0 && !stats.integers) {
    return plain(LogUnit::one, "readings up to 1: a ratio");
  }
  const double most = channel == load ? 250 : 105;
  if (high > most) {
    return undecided(channel, header, "litres, gallons or kilowatts");
  }
  return plain(LogUnit::pct,
               fmt::format("readings up to {}: percent", number_words(high)));
}

UnitChoice choose_by_values(Channel channel, const HeaderName& header,
                            const ColumnStats& stats, const UnitHints& hints) {
  switch (quantity_of(info_of(channel).unit)) {
    case Quantity::ratio:
      if (channel == start_count) return plain(LogUnit::one, "a count");
      return choose_share(channel, header, stats);
    case Quantity::time:
      return plain(LogUnit::h, "");
    case Quantity::current:
      return plain(LogUnit::A, "");
    case Quantity::flow:
      if (hints.us != hints.metric) {
        return hints.us
                   ? plain(LogUnit::gal_h, "the log's other units are US ones")
                   : plain(LogUnit::L_h, "the log's other units are metric");
      }
      return undecided(channel, header, "L/h or gal/h");
    case Quantity::power: {
      const double high = stats.numbers == 0 ? 0 : stats.quantile(0.99);
      if (high <= 600) {
        return plain(LogUnit::kW,
                     fmt::format("readings up to {}: kW", number_words(high)));
      }
      return undecided(channel, header, "W or kW");
    }
    default:
      break;
  }
  const auto bulk = bulk_of(stats, channel, nullptr);
  if (!bulk) {
    return {UnitText{as_log_unit(info_of(channel).unit), 1.0},
            "no readings that would tell the unit", ""};
  }
  std::vector<UnitText> fits = fitting(channel, *bulk, hints);
  const bool temperature =
      quantity_of(info_of(channel).unit) == Quantity::temperature;
  if (temperature && hints.temperature != LogUnit::none && fits.size() != 1) {
    return plain(hints.temperature, fmt::format("{}, as the other temperatures",
                                                symbol_of(hints.temperature)));
  }
  if (fits.size() == 1) {
    // Volts and hertz go without saying.
    const bool usual =
        fits.front() == UnitText{as_log_unit(info_of(channel).unit), 1.0};
    if (usual && !temperature && channel != oil_pressure) {
      return {fits.front(), "", ""};
    }
    return {fits.front(),
            fmt::format("readings near {} fit {}", number_words(bulk->high),
                        unit_words(fits.front(), channel)),
            ""};
  }
  std::string units;
  for (const UnitText& unit : fits.empty() ? units_of(channel) : fits) {
    if (!units.empty()) units += " or ";
    units += unit_words(unit, channel);
  }
  return undecided(channel, header, units);
}

}  // namespace

UnitChoice choose_unit(Channel channel, const HeaderName& header,
                       const ColumnStats& stats, const UnitHints& hints) {
  if (header.unit) {
    std::string source;
    if (header.unit_in_cells) {
      source = stats.suffixes.size() > 1
                   ? "readings carry their units"
                   : fmt::format("readings carry the unit {}",
                                 symbol_of(header.unit->unit));
    }
    return check_given(channel, header, *header.unit, source, stats, hints);
  }
  return choose_by_values(channel, header, stats, hints);
}

}  // namespace telltale::host
