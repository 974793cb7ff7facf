// The writer of made-up logs.
#include "log_writer.hpp"

#include <fmt/format.h>
#include <zlib.h>

#include <algorithm>
#include <cmath>
#include <ctime>

#include "support/units.hpp"

namespace telltale::test {
namespace {

using namespace telltale::host;
using enum Channel;

struct Spelling {
  Channel channel;
  const char* words;
  const char* snake;
  const char* camel;
  const char* german;
  LogUnit metric;
  LogUnit us;
  int digits;     // after the mark, metric
  int us_digits;  // after the mark, US
};

const std::vector<Spelling> kSpellings = {
    {engine_speed, "Engine Speed", "engine_speed", "EngSpeed", "Drehzahl",
     LogUnit::rpm, LogUnit::rpm, 0, 0},
    {frequency, "Frequency", "gen_freq", "GenFreq", "Frequenz", LogUnit::Hz,
     LogUnit::Hz, 2, 2},
    {voltage_l1, "L1-N Volts", "volts_l1", "VoltsL1", "Spannung L1", LogUnit::V,
     LogUnit::V, 1, 1},
    {voltage_l2, "L2-N Volts", "volts_l2", "VoltsL2", "Spannung L2", LogUnit::V,
     LogUnit::V, 1, 1},
    {voltage_l3, "L3-N Volts", "volts_l3", "VoltsL3", "Spannung L3", LogUnit::V,
     LogUnit::V, 1, 1},
    {voltage_line, "Gen V L1-L2", "volts_l1_l2", "VoltsL1L2", "Spannung L1-L2",
     LogUnit::V, LogUnit::V, 1, 1},
    {current_l1, "Current L1", "amps_l1", "AmpsL1", "Strom L1", LogUnit::A,
     LogUnit::A, 1, 1},
    {current_l2, "Current L2", "amps_l2", "AmpsL2", "Strom L2", LogUnit::A,
     LogUnit::A, 1, 1},
    {current_l3, "Current L3", "amps_l3", "AmpsL3", "Strom L3", LogUnit::A,
     LogUnit::A, 1, 1},
    {power, "Active Power", "power", "GenPower", "Wirkleistung", LogUnit::kW,
     LogUnit::kW, 2, 2},
    {load, "Load Percent", "load_pct", "LoadPercent", "Auslastung",
     LogUnit::pct, LogUnit::pct, 1, 1},
    {power_factor, "Power Factor", "power_factor", "PowerFactor",
     "Leistungsfaktor", LogUnit::one, LogUnit::one, 2, 2},
    {fuel_level, "Fuel Level", "fuel_level", "FuelLevel", "Kraftstoffstand",
     LogUnit::pct, LogUnit::pct, 1, 1},
    {engine_hours, "Engine Hours", "engine_hours", "EngineHours",
     "Betriebsstunden", LogUnit::h, LogUnit::h, 2, 2},
    {oil_pressure, "Oil Press", "oil_press", "OilPress", "Öldruck",
     LogUnit::kPa, LogUnit::psi, 0, 1},
    {oil_temperature, "Oil Temp", "oil_temp", "OilTemp", "Öltemperatur",
     LogUnit::degC, LogUnit::degF, 1, 1},
    {coolant_temperature, "Coolant Temp", "coolant_temp", "CoolantTemp",
     "Kühlwassertemperatur", LogUnit::degC, LogUnit::degF, 1, 1},
    {exhaust_temperature, "Exhaust Temp", "exhaust_temp", "ExhTemp",
     "Abgastemperatur", LogUnit::degC, LogUnit::degF, 0, 0},
    {winding_temperature, "Winding Temp", "winding_temp", "WindingTemp",
     "Wicklungstemperatur", LogUnit::degC, LogUnit::degF, 1, 1},
    {raw_water_temperature, "Raw Water Temp", "sea_water_temp", "SeaWaterTemp",
     "Seewassertemperatur", LogUnit::degC, LogUnit::degF, 1, 1},
    {ambient_temperature, "Ambient Temp", "ambient_temp", "AmbientTemp",
     "Umgebungstemperatur", LogUnit::degC, LogUnit::degF, 1, 1},
    {battery_voltage, "Batt Volts", "batt_v", "BattVolts", "Batteriespannung",
     LogUnit::V, LogUnit::V, 2, 2},
    {fuel_rate, "Fuel Rate", "fuel_rate", "FuelRate", "Kraftstoffverbrauch",
     LogUnit::L_h, LogUnit::gal_h, 2, 2},
    {start_count, "Start Count", "start_count", "StartCount", "Startzähler",
     LogUnit::one, LogUnit::one, 0, 0},
};

const Spelling& spelling_of(Channel channel) {
  return *std::find_if(kSpellings.begin(), kSpellings.end(),
                       [&](const Spelling& s) { return s.channel == channel; });
}

LogUnit unit_in(const Spelling& s, const Dialect& d) {
  return d.us_units ? s.us : s.metric;
}

std::string unit_text(LogUnit unit) {
  return unit == LogUnit::one ? std::string() : std::string(symbol_of(unit));
}

std::string header_of(const Spelling& s, const Dialect& d) {
  const std::string unit = unit_text(unit_in(s, d));
  const bool with = d.units == UnitPlace::header && !unit.empty();
  switch (d.names) {
    case NameStyle::words:
      return with ? fmt::format("{} ({})", s.words, unit) : s.words;
    case NameStyle::brackets:
      return with ? fmt::format("{} [{}]", s.words, unit) : s.words;
    case NameStyle::slash:
      return with ? fmt::format("{}/{}", s.camel, unit) : s.camel;
    case NameStyle::camel:
      return with ? fmt::format("{} {}", s.camel, unit) : s.camel;
    case NameStyle::german:
      return with ? fmt::format("{} in {}", s.german, unit) : s.german;
    case NameStyle::snake: {
      std::string snake = s.snake;
      if (!with || snake.ends_with("_pct") || snake == "batt_v") return snake;
      std::string plain(name_of(unit_in(s, d)));
      std::transform(plain.begin(), plain.end(), plain.begin(), [](char c) {
        return c == '/' ? '_' : static_cast<char>(std::tolower(c));
      });
      return plain == "%" ? snake + "_pct" : snake + "_" + plain;
    }
  }
  return s.words;
}

// Days since 1970 to a date; Python's datetime gave the expected dates of the
// fixed points in civil_time_test.
struct Parts {
  int year, month, day, hour, minute, second, ms;
};
Parts parts_of(TimeMs at) {
  const auto secs = static_cast<std::time_t>(at.ms / 1000);
  std::tm tm{};
  gmtime_r(&secs, &tm);
  return {tm.tm_year + 1900,
          tm.tm_mon + 1,
          tm.tm_mday,
          tm.tm_hour,
          tm.tm_min,
          tm.tm_sec,
          static_cast<int>(at.ms % 1000)};
}

const char* const kMonths[] = {"Jan", "Feb", "Mar", "Apr", "May", "Jun",
                               "Jul", "Aug", "Sep", "Oct", "Nov", "Dec"};

std::string clock12(const Parts& p) {
  const int hour = p.hour % 12 == 0 ? 12 : p.hour % 12;
  return fmt::format("{:02}:{:02}:{:02} {}", hour, p.minute, p.second,
                     p.hour < 12 ? "AM" : "PM");
}

std::string decimal_comma(std::string text, const Dialect& d) {
  if (d.decimal == ',') std::replace(text.begin(), text.end(), '.', ',');
  return text;
}

// The cells that tell the time.
std::vector<std::string> time_cells(TimeMs at, TimeMs first, const Dialect& d) {
  const Parts p = parts_of(at);
  const std::string date =
      fmt::format("{:04}-{:02}-{:02}", p.year, p.month, p.day);
  const std::string clock =
      fmt::format("{:02}:{:02}:{:02}", p.hour, p.minute, p.second);
  const std::int64_t elapsed = at.ms - first.ms;
  switch (d.time) {
    case TimeStyle::iso_z:
      return {date + "T" + clock + "Z"};
    case TimeStyle::iso_zone: {
      const Parts there = parts_of(TimeMs{at.ms + 5400000});
      return {fmt::format("{:04}-{:02}-{:02}T{:02}:{:02}:{:02}+01:30",
                          there.year, there.month, there.day, there.hour,
                          there.minute, there.second)};
    }
    case TimeStyle::iso_space:
      return {date + " " + clock};
    case TimeStyle::iso_fraction:
      return {fmt::format("{} {}.{:03}", date, clock, p.ms)};
    case TimeStyle::epoch_s:
      return {fmt::format("{}", at.ms / 1000)};
    case TimeStyle::epoch_ms:
      return {fmt::format("{}", at.ms)};
    case TimeStyle::epoch_fraction:
      return {decimal_comma(fmt::format("{}.{:03}", at.ms / 1000, at.ms % 1000),
                            d)};
    case TimeStyle::day_first_dots:
      return {
          fmt::format("{:02}.{:02}.{:04} {}", p.day, p.month, p.year, clock)};
    case TimeStyle::day_first_slash:
      return {
          fmt::format("{:02}/{:02}/{:04} {}", p.day, p.month, p.year, clock)};
    case TimeStyle::month_first_12h:
      return {fmt::format("{}/{}/{:02} {}", p.month, p.day, p.year % 100,
                          clock12(p))};
    case TimeStyle::month_name:
      return {fmt::format("{}-{}-{} {}", p.day, kMonths[p.month - 1], p.year,
                          clock)};
    case TimeStyle::compact:
      return {fmt::format("{:04}{:02}{:02}T{:02}{:02}{:02}Z", p.year, p.month,
                          p.day, p.hour, p.minute, p.second)};
    case TimeStyle::two_columns:
      return {fmt::format("{:02}/{:02}/{:04}", p.day, p.month, p.year), clock};
    case TimeStyle::two_columns_12h:
      return {date, clock12(p)};
    case TimeStyle::serial:
      return {decimal_comma(
          fmt::format("{:.8f}", static_cast<double>(at.ms) / 8.64e7 + 25569),
          d)};
    case TimeStyle::elapsed_s:
      return {decimal_comma(
          fmt::format("{:.1f}", static_cast<double>(elapsed) / 1000), d)};
    case TimeStyle::elapsed_clock:
      return {fmt::format("{}:{:02}:{:02}", elapsed / 3600000,
                          elapsed / 60000 % 60, elapsed / 1000 % 60)};
  }
  return {};
}

std::vector<std::string> time_headers(const Dialect& d) {
  switch (d.time) {
    case TimeStyle::two_columns:
    case TimeStyle::two_columns_12h:
      if (d.names == NameStyle::german) return {"Datum", "Uhrzeit"};
      return {"Date", "Time"};
    case TimeStyle::epoch_s:
    case TimeStyle::epoch_ms:
    case TimeStyle::epoch_fraction:
      return {"timestamp"};
    case TimeStyle::elapsed_s:
      return {"Elapsed (s)"};
    case TimeStyle::elapsed_clock:
      return {"Run Time"};
    default:
      return {d.names == NameStyle::german ? "Zeit" : "Time"};
  }
}

std::string value_cell(const Row& row, const Spelling& s, const Dialect& d) {
  if ((row.present & bit(s.channel)) == 0) return d.blank;
  const Conversion c = *conversion(unit_in(s, d), info_of(s.channel).unit);
  const double logged = c.from_canonical(row.value[index_of(s.channel)]);
  std::string text = decimal_comma(
      fmt::format("{:.{}f}", logged, d.us_units ? s.us_digits : s.digits), d);
  if (d.units == UnitPlace::cells) {
    const std::string unit = unit_text(unit_in(s, d));
    if (!unit.empty()) text += " " + unit;
  }
  return text;
}

std::string state_word(EngineState state, bool german) {
  switch (state) {
    case EngineState::stopped:
      return german ? "bereit" : "Standby";
    case EngineState::preheat:
      return german ? "Vorglühen" : "Preheat";
    case EngineState::cranking:
      return german ? "Anlassen" : "Crank";
    case EngineState::starting:
      return german ? "Hochlauf" : "Run Up";
    case EngineState::running:
      return german ? "Betrieb" : "Running";
    case EngineState::loaded:
      return german ? "unter Last" : "On Load";
    case EngineState::cool_down:
      return german ? "Nachlauf" : "Cool Down";
    case EngineState::stopping:
      return german ? "Auslaufen" : "Stopping";
    case EngineState::fault:
      return german ? "Störung" : "Fault";
    default:
      return "AUTO";
  }
}

std::string alarm_text(AlarmMask alarms) {
  std::string text;
  if ((alarms & 1U) != 0) text = "Low oil pressure";
  if ((alarms & 2U) != 0) {
    text += text.empty() ? "" : " | ";
    text += "High coolant temperature";
  }
  return text.empty() ? "none" : text;
}

class Writer {
 public:
  explicit Writer(const Dialect& d) : d_(d) {
    end_ = d.ending == Ending::lf     ? "\n"
           : d.ending == Ending::crlf ? "\r\n"
           : d.ending == Ending::cr   ? "\r"
                                      : "\r\r\r\n";
  }

  void line(const std::vector<std::string>& cells) {
    for (std::size_t i = 0; i < cells.size(); ++i) {
      if (i > 0) text_ += d_.delimiter;
      cell(cells[i]);
    }
    if (d_.trailing_delimiter) text_ += d_.delimiter;
    text_ += end_;
  }
  void raw(const std::string& text) { text_ += text + end_; }
  std::string finish() {
    if (!d_.final_line_end) text_.resize(text_.size() - end_.size());
    return std::move(text_);
  }

 private:
  void cell(const std::string& cell) {
    const std::string pad = d_.padded ? " " : "";
    const bool must = cell.find(d_.delimiter) != std::string::npos ||
                      cell.find('"') != std::string::npos ||
                      cell.find('\n') != std::string::npos;
    text_ += pad;
    if (d_.quote_all || must) {
      text_ += '"';
      for (char c : cell) {
        if (c == '"') text_ += '"';
        text_ += c;
      }
      text_ += '"';
    } else {
      text_ += cell;
    }
    text_ += pad;
  }

  const Dialect& d_;
  std::string end_;
  std::string text_;
};

std::vector<Channel> columns_in(const Dialect& d) {
  std::vector<Channel> order;
  for (const Spelling& s : kSpellings) order.push_back(s.channel);
  if (d.shuffled_columns) {
    for (std::size_t i = 0; i < order.size(); ++i) {
      std::swap(order[i], order[(i * 7 + 3) % order.size()]);
    }
  }
  return order;
}

std::string write_wide(const std::vector<Row>& rows, const Dialect& d) {
  Writer writer(d);
  const std::vector<Channel> order = columns_in(d);
  const bool german = d.names == NameStyle::german;
  std::vector<std::string> header = time_headers(d);
  std::vector<std::string> units(header.size());
  for (const Channel channel : order) {
    header.push_back(header_of(spelling_of(channel), d));
    units.push_back(unit_text(unit_in(spelling_of(channel), d)));
  }
  header.emplace_back(german ? "Zustand" : "State");
  header.emplace_back(german ? "Störmeldung" : "Alarm");
  units.resize(header.size());
  if (d.unknown_columns) {
    header.insert(header.begin() + 3, {"Cabin Humidity (%)", "Remark"});
    units.insert(units.begin() + 3, {"%", ""});
  }
  if (d.embedded_line_breaks) {
    header.emplace_back("Note");
    units.emplace_back();
  }
  if (d.preamble) {
    writer.raw("Log of generator set no. 7");
    writer.raw("Serial: 4711");
    writer.raw("");
  }
  writer.line(header);
  if (d.units == UnitPlace::unit_row) writer.line(units);
  for (std::size_t i = 0; i < rows.size(); ++i) {
    const Row& row = rows[i];
    if (d.repeat_header && i > 0 && i % 50 == 0) {
      writer.line(header);
      if (d.units == UnitPlace::unit_row) writer.line(units);
    }
    std::vector<std::string> cells =
        time_cells(row.logged, rows.front().logged, d);
    for (const Channel channel : order) {
      cells.push_back(value_cell(row, spelling_of(channel), d));
    }
    cells.push_back(state_word(row.state, german));
    cells.push_back(alarm_text(row.alarms));
    if (d.unknown_columns) {
      cells.insert(cells.begin() + 3, {"55", "all \"well\", so far"});
    }
    if (d.embedded_line_breaks) {
      cells.push_back(i % 3 == 0 ? "first line\nsecond line" : "");
    }
    writer.line(cells);
  }
  return writer.finish();
}

std::string write_long(const std::vector<Row>& rows, const Dialect& d) {
  Writer writer(d);
  std::vector<std::string> header = time_headers(d);
  for (const char* name : {"Name", "Value", "Unit"}) header.emplace_back(name);
  writer.line(header);
  Dialect bare = d;
  bare.units = UnitPlace::none;
  for (const Row& row : rows) {
    const std::vector<std::string> stamp =
        time_cells(row.logged, rows.front().logged, d);
    const auto reading = [&](const std::string& name, const std::string& value,
                             const std::string& unit) {
      std::vector<std::string> cells = stamp;
      cells.insert(cells.end(), {name, value, unit});
      writer.line(cells);
    };
    for (const Spelling& s : kSpellings) {
      reading(header_of(s, bare), value_cell(row, s, bare),
              unit_text(unit_in(s, d)));
    }
    reading("State", state_word(row.state, false), "");
    reading("Alarm", alarm_text(row.alarms), "");
  }
  return writer.finish();
}

std::string write_pairs(const std::vector<Row>& rows, const Dialect& d) {
  Writer writer(d);
  std::vector<std::string> header;
  for (const Spelling& s : kSpellings) {
    header.insert(header.end(), {"Time", header_of(s, d)});
  }
  writer.line(header);
  for (const Row& row : rows) {
    std::vector<std::string> cells;
    for (const Spelling& s : kSpellings) {
      cells.push_back(time_cells(row.logged, rows.front().logged, d).front());
      cells.push_back(value_cell(row, s, d));
    }
    writer.line(cells);
  }
  return writer.finish();
}

}  // namespace

std::vector<Row> made_up_rows(std::size_t count) {
  std::vector<Row> rows;
  // 2026-06-14T23:57:00Z: the log runs over midnight, and days are above 12.
  std::int64_t at = 1781481420000;
  for (std::size_t i = 0; i < count; ++i) {
    Row row;
    row.logged = row.at = TimeMs{at};
    at += 1000;
    row.value.fill(std::nan(""));
    const double x = static_cast<double>(i);
    const bool running = i >= 40 && i + 40 < count;
    const double wave = std::sin(x / 9.0);
    const auto set = [&](Channel channel, double value) {
      row.value[index_of(channel)] = value;
      row.present |= bit(channel);
    };
    set(engine_speed, running ? 1800 + std::round(8 * wave) : 0);
    set(frequency, running ? 60 + 0.27 * wave : 0);
    set(voltage_l1, running ? 120.2 + wave : 0);
    set(voltage_l2, running ? 119.8 - wave : 0);
    set(voltage_l3, running ? 120.1 : 0);
    set(voltage_line, running ? 208.3 + wave : 0);
    set(current_l1, running ? 21.4 + 3 * wave : 0);
    set(current_l2, running ? 20.9 - 2 * wave : 0);
    set(current_l3, running ? 22.3 : 0);
    set(power, running ? 7.21 + wave : 0);
    set(load, running ? 60.1 + 8 * wave : 0);
    set(power_factor, running ? 0.93 : 1.0);
    set(fuel_level, 71.5 - x / 100);
    set(engine_hours, 1234.5 + (running ? x / 3600 : 0.0));
    set(oil_pressure, running ? 341 + std::round(9 * wave) : 0);
    set(oil_temperature, 88.5 + wave);
    set(coolant_temperature, 82.5 + wave);
    set(exhaust_temperature, running ? 402 + std::round(9 * wave) : 350);
    set(winding_temperature, 96.4 + 3 * wave);
    set(raw_water_temperature, 17.2 + 0.3 * wave);
    set(ambient_temperature, 31.4 + wave);
    set(battery_voltage, running ? 13.92 + 0.05 * wave : 12.61);
    set(fuel_rate, running ? 2.71 + 0.2 * wave : 0);
    set(start_count, 512);
    row.state = i < 36           ? EngineState::stopped
                : i < 38         ? EngineState::preheat
                : i < 40         ? EngineState::cranking
                : i < 44         ? EngineState::starting
                : i + 60 < count ? EngineState::loaded
                : i + 40 < count ? EngineState::cool_down
                : i + 38 < count ? EngineState::stopping
                                 : EngineState::stopped;
    if (i >= 100 && i < 120) row.alarms |= 1U;
    if (i >= 110 && i < 130) row.alarms |= 2U;
    // A reading is missing now and then.
    if (i % 17 == 5) {
      const auto missing = static_cast<Channel>(i % kChannelCount);
      row.present &= ~bit(missing);
      row.blank |= bit(missing);
      row.value[index_of(missing)] = std::nan("");
    }
    rows.push_back(row);
  }
  return rows;
}

double tolerance_of(Channel channel, const Dialect& d) {
  const Spelling& s = spelling_of(channel);
  const int digits = d.us_units ? s.us_digits : s.digits;
  const Conversion c = *conversion(unit_in(s, d), info_of(channel).unit);
  return 0.5 * std::pow(10.0, -digits) * c.scale * 1.0001 + 1e-9;
}

std::string write_log(const std::vector<Row>& rows, const Dialect& d) {
  std::string text = d.shape == Shape::long_format ? write_long(rows, d)
                     : d.shape == Shape::pairs     ? write_pairs(rows, d)
                                                   : write_wide(rows, d);
  text = encode(text, d.encoding);
  return d.gzip ? gzip_bytes(text) : text;
}

std::string gzip_bytes(const std::string& bytes) {
  z_stream z{};
  deflateInit2(&z, 6, Z_DEFLATED, 15 + 16, 8, Z_DEFAULT_STRATEGY);
  std::string out(deflateBound(&z, bytes.size()) + 64, '\0');
  z.next_in = reinterpret_cast<Bytef*>(const_cast<char*>(bytes.data()));
  z.avail_in = static_cast<uInt>(bytes.size());
  z.next_out = reinterpret_cast<Bytef*>(out.data());
  z.avail_out = static_cast<uInt>(out.size());
  deflate(&z, Z_FINISH);
  out.resize(z.total_out);
  deflateEnd(&z);
  return out;
}

std::string encode(const std::string& text, WideEncoding encoding) {
  if (encoding == WideEncoding::utf8) return text;
  if (encoding == WideEncoding::utf8_bom) return "\xEF\xBB\xBF" + text;
  std::string out;
  const auto unit = [&](unsigned value) {
    const char low = static_cast<char>(value & 0xFF);
    const char high = static_cast<char>(value >> 8);
    if (encoding == WideEncoding::utf16le) {
      out += low;
      out += high;
    } else if (encoding == WideEncoding::utf16be) {
      out += high;
      out += low;
    } else {
      out += low;
    }
  };
  if (encoding != WideEncoding::latin1) unit(0xFEFF);
  for (std::size_t i = 0; i < text.size(); ++i) {
    const auto c = static_cast<unsigned char>(text[i]);
    if (c < 0x80) {
      unit(c);
    } else {  // two-byte characters are all that the made-up logs hold
      unit(((c & 0x1FU) << 6) |
           (static_cast<unsigned char>(text[++i]) & 0x3FU));
    }
  }
  return out;
}

}  // namespace telltale::test
