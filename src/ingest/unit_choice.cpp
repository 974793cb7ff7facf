// Units from values. The usual ranges are common practice for small and medium
// sets; they are meant to tell units apart, not to judge readings.
#include "ingest/unit_choice.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <array>
#include <cmath>
#include <iterator>
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
      return {{LogUnit::h}, {LogUnit::s}};
    default:
      return {};
  }
}

constexpr double kNearlyAll = 0.95;
constexpr double kFairShare = 0.1;

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

// Readings while the set runs, sorted: zeros of a set at rest say nothing of
// units, and neither do codes of a bus.
std::vector<double> bulk_of(const ColumnStats& stats, Channel channel,
                            const UnitText* given) {
  std::vector<double> values;
  for (double value : stats.sorted) {
    const bool code =
        given != nullptr &&
        is_bus_code(channel, canonical(value, *given, channel), value);
    if (value != 0 && !code) values.push_back(value);
  }
  return values;
}

double at_share(const std::vector<double>& sorted, double p) {
  return sorted[static_cast<std::size_t>(
      std::lround(p * static_cast<double>(sorted.size() - 1)))];
}

// Whether an engine can have the reading at all.
bool is_possible(Channel channel, double logged, const UnitText& unit) {
  const ChannelInfo& info = info_of(channel);
  const double value = canonical(logged, unit, channel);
  // Nothing that runs turns at a few tens of revolutions a minute.
  if (channel == engine_speed && value > 5 && value < 100) return false;
  return value >= info.low && value <= info.high;
}

// The share of possible readings; codes of a bus are none.
double share_possible(Channel channel, const std::vector<double>& values,
                      const UnitText& unit) {
  std::size_t readings = 0;
  std::size_t possible = 0;
  for (const double value : values) {
    const bool fits = is_possible(channel, value, unit);
    const bool code =
        !fits && is_bus_code(channel, canonical(value, unit, channel), value);
    readings += !code;
    possible += fits;
  }
  if (readings == 0) return 0;
  return static_cast<double>(possible) / static_cast<double>(readings);
}

// Units in which the readings are usual for the channel, whatever the others
// are: their 95th percentile, impossible ones left out.
std::vector<UnitText> usual_units(Channel channel,
                                  const std::vector<double>& bulk,
                                  const UnitHints& hints) {
  std::vector<UnitText> units;
  for (const UnitText& unit : units_of(channel)) {
    // Kelvin of an exhaust looks like degrees of another one.
    if (unit.unit == LogUnit::K && channel == exhaust_temperature &&
        hints.temperature != LogUnit::K) {
      continue;
    }
    std::vector<double> possible;
    std::copy_if(bulk.begin(), bulk.end(), std::back_inserter(possible),
                 [&](double v) { return is_possible(channel, v, unit); });
    if (!possible.empty() &&
        is_usual(canonical(at_share(possible, 0.95), unit, channel), channel)) {
      units.push_back(unit);
    }
  }
  return units;
}

// The units that fit: those in which (nearly) all readings are possible, else
// those in which the log's beginning is. A sender that breaks on the way can't
// make good readings before it bad ones.
std::vector<UnitText> fitting(Channel channel, const ColumnStats& stats,
                              const std::vector<double>& bulk,
                              const UnitHints& hints) {
  const std::vector<UnitText> usual = usual_units(channel, bulk, hints);
  std::vector<UnitText> fits;
  for (const UnitText& unit : usual) {
    if (share_possible(channel, bulk, unit) >= kNearlyAll) {
      fits.push_back(unit);
    }
  }
  if (!fits.empty()) return fits;
  std::vector<double> early(
      stats.values.begin(),
      stats.values.begin() +
          static_cast<std::ptrdiff_t>((stats.values.size() + 2) / 3));
  std::erase(early, 0.0);
  for (const UnitText& unit : usual) {
    if (share_possible(channel, bulk, unit) >= kFairShare &&
        share_possible(channel, early, unit) >= kNearlyAll) {
      fits.push_back(unit);
    }
  }
  return fits;
}

// Whether readings that are possible in the unit and those that are not are one
// stretch without a hole: then the unit is wrong, and no sender broke.
bool is_one_stretch(Channel channel, const std::vector<double>& sorted,
                    const UnitText& unit) {
  constexpr double kHole = 0.15;  // of the span
  const double span = sorted.back() - sorted.front();
  for (std::size_t i = 1; i < sorted.size(); ++i) {
    if (is_possible(channel, sorted[i - 1], unit) !=
            is_possible(channel, sorted[i], unit) &&
        sorted[i] - sorted[i - 1] > kHole * span) {
      return false;
    }
  }
  return true;
}

UnitChoice check_given(Channel channel, const HeaderName& header,
                       const UnitText& given, const std::string& source,
                       const ColumnStats& stats, const UnitHints& hints) {
  UnitChoice choice{given, source, ""};
  const std::vector<double> bulk = bulk_of(stats, channel, &given);
  if (bulk.empty() || stats.numbers < 3) return choice;
  // Where a fair share is possible the unit counts, and the rest is the
  // sender's trouble; but a unit that fits all of one stretch is better.
  const double share = share_possible(channel, bulk, given);
  const bool fair = share >= kFairShare;
  if (share >= 0.5 || (fair && !is_one_stretch(channel, bulk, given))) {
    return choice;
  }
  const double middle = at_share(bulk, 0.5);
  const std::string problem = fmt::format(
      "\"{}\": its unit is {}, but readings near {} can't be {}", header.text,
      header.unit_text.empty() ? unit_words(given, channel) : header.unit_text,
      number_words(middle), unit_words(given, channel));
  std::vector<UnitText> fits = fitting(channel, stats, bulk, hints);
  std::erase(fits, given);
  if (fair && fits.size() != 1) return choice;
  if (fits.size() == 1) {
    choice.unit = fits.front();
    choice.why = fmt::format(
        "readings near {} fit {}, not {}", number_words(middle),
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
      // NMEA 2000 counts engine hours in seconds; no set lives 100,000 h.
      if (stats.numbers > 0 && stats.quantile(0.99) > 100000) {
        return plain(LogUnit::s, fmt::format("readings near {:.0f} fit s",
                                             stats.quantile(0.5)));
      }
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
  const std::vector<double> bulk = bulk_of(stats, channel, nullptr);
  if (bulk.empty()) {
    return {UnitText{as_log_unit(info_of(channel).unit), 1.0},
            "no readings that would tell the unit", ""};
  }
  std::vector<UnitText> fits = fitting(channel, stats, bulk, hints);
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
    std::vector<double> good;
    std::copy_if(
        bulk.begin(), bulk.end(), std::back_inserter(good),
        [&](double v) { return is_possible(channel, v, fits.front()); });
    const double shown = at_share(good, 0.95);
    return {fits.front(),
            fmt::format("readings near {} fit {}", number_words(shown),
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
