// Rows are put together as UTF-8 and turned into the file's encoding last.
#include "simulate/log_writer.hpp"

#include <fmt/format.h>

#include <cmath>

#include "simulate/alarm_book.hpp"
#include "simulate/spelling.hpp"

namespace telltale::host::sim {
namespace {

constexpr std::size_t kFlushBytes = 1 << 16;

/// Decimals that write `resolution` exactly, and resolution times 10^that.
void decimal_steps(double resolution, std::int64_t& factor, int& decimals) {
  double scaled = resolution;
  decimals = 0;
  while (decimals < 6 && std::abs(scaled - std::round(scaled)) > 1e-9) {
    scaled *= 10.0;
    ++decimals;
  }
  factor = std::llround(scaled);
}

void append_decimal(std::string& out, std::int64_t digits, int decimals,
                    char mark) {
  if (digits < 0) {
    out += '-';
    digits = -digits;
  }
  const fmt::format_int text(digits);
  const auto size = static_cast<int>(text.size());
  if (decimals == 0) {
    out.append(text.data(), text.size());
    return;
  }
  if (size <= decimals) {
    out += '0';
    out += mark;
    out.append(static_cast<std::size_t>(decimals - size), '0');
    out.append(text.data(), text.size());
    return;
  }
  const auto whole = static_cast<std::size_t>(size - decimals);
  out.append(text.data(), whole);
  out += mark;
  out.append(text.data() + whole, static_cast<std::size_t>(decimals));
}

int stamp_decimals(double interval_s) {
  const double ms = interval_s * 1000.0;
  if (std::fmod(ms, 1000.0) == 0.0) return 0;
  return std::fmod(ms, 100.0) == 0.0 ? 1 : 3;
}

void append_utf16(std::string& out, unsigned unit, bool little) {
  const char low = static_cast<char>(unit & 0xFF);
  const char high = static_cast<char>(unit >> 8);
  out += little ? low : high;
  out += little ? high : low;
}

/// Only what the writer itself produces is handled: ASCII and two-byte UTF-8.
void encode(std::string_view text, Encoding to, std::string& out) {
  const bool little = to == Encoding::utf16_le;
  for (std::size_t i = 0; i < text.size(); ++i) {
    unsigned code = static_cast<unsigned char>(text[i]);
    if (code >= 0xC0 && i + 1 < text.size()) {
      code =
          (code & 0x1F) << 6 | (static_cast<unsigned char>(text[++i]) & 0x3F);
    }
    if (to == Encoding::latin1) {
      out += static_cast<char>(code);
    } else {
      append_utf16(out, code, little);
    }
  }
}

bool needs_encoding(Encoding encoding) {
  return encoding != Encoding::utf8 && encoding != Encoding::utf8_mark;
}

}  // namespace

LogWriter::LogWriter(const Scenario& scenario, TimeMs first, ByteSink sink)
    : scenario_(&scenario),
      sink_(std::move(sink)),
      stamps_(scenario.format.time, scenario.format.utc_offset_min, first,
              stamp_decimals(scenario.interval_s), scenario.format.delimiter,
              scenario.format.decimal) {
  const LogFormat& format = scenario.format;
  for (const SensorSpec& sensor : scenario.sensors) {
    Column column{};
    decimal_steps(sensor.resolution, column.factor, column.decimals);
    if (format.units_in_cells && !unit_text(sensor.unit).empty()) {
      column.suffix = fmt::format(" {}", unit_text(sensor.unit));
    }
    column.missing = format.missing;
    if (format.missing == "bus" && std::isnan(bus_code(sensor.channel))) {
      column.missing.clear();
    } else if (format.missing == "bus") {
      const Unit unit = info_of(sensor.channel).unit;
      const double code = conversion(sensor.unit, unit)
                              .value_or(Conversion{})
                              .from_canonical(bus_code(sensor.channel));
      column.missing.clear();
      append_decimal(column.missing,
                     std::llround(code / sensor.resolution) * column.factor,
                     column.decimals, format.decimal);
    }
    columns_.push_back(std::move(column));
  }
  if (format.encoding == Encoding::utf8_mark) {
    buffer_ += "\xEF\xBB\xBF";
  } else if (format.encoding == Encoding::utf16_le ||
             format.encoding == Encoding::utf16_be) {
    append_utf16(encoded_, 0xFEFF, format.encoding == Encoding::utf16_le);
  }
  preamble();
  header();
  if (format.unit_row) unit_row();
}

void LogWriter::delimiter() {
  if (!first_cell_) buffer_ += scenario_->format.delimiter;
  first_cell_ = false;
}

void LogWriter::end_line() {
  buffer_ += scenario_->format.line_end;
  first_cell_ = true;
}

void LogWriter::text_cell(std::string_view text, bool quote) {
  delimiter();
  if (quote || text.find(scenario_->format.delimiter) != std::string::npos) {
    buffer_ += '"';
    buffer_ += text;
    buffer_ += '"';
  } else {
    buffer_ += text;
  }
}

void LogWriter::preamble() {
  for (const std::string& line : scenario_->format.preamble) {
    buffer_ += line;
    end_line();
  }
}

void LogWriter::header() {
  const LogFormat& format = scenario_->format;
  const bool plain =
      format.header == HeaderStyle::snake || format.header == HeaderStyle::bare;
  const bool quote = format.quoted_header;
  const auto head = [&](std::string_view words, std::string_view snake) {
    text_cell(plain ? snake : words, quote);
  };
  switch (format.time) {
    case TimeStyle::two_columns:
      head("Date", "date");
      head("Time", "time");
      break;
    case TimeStyle::elapsed_s:
      head("Elapsed (s)", "elapsed_s");
      break;
    case TimeStyle::elapsed_hms:
      head("Elapsed", "elapsed");
      break;
    case TimeStyle::epoch_s:
      head("Epoch (s)", "epoch_s");
      break;
    case TimeStyle::epoch_ms:
      head("Epoch (ms)", "epoch_ms");
      break;
    default:
      head("Time", "time");
  }
  if (!format.unit_column.empty()) head("Unit", "unit");
  for (const SensorSpec& sensor : scenario_->sensors) {
    // With a row of units below, the names stand alone.
    SensorSpec shown = sensor;
    if (format.unit_row) shown.unit = LogUnit::none;
    text_cell(header_of(shown, format.header), quote);
  }
  if (scenario_->state_column) head("State", "state");
  if (scenario_->alarm_column) head("Alarms", "alarm");
  end_line();
}

void LogWriter::unit_row() {
  const LogFormat& format = scenario_->format;
  text_cell("", false);
  if (format.time == TimeStyle::two_columns) text_cell("", false);
  if (!format.unit_column.empty()) text_cell("", false);
  for (const SensorSpec& sensor : scenario_->sensors) {
    text_cell(unit_text(sensor.unit), false);
  }
  if (scenario_->state_column) text_cell("", false);
  if (scenario_->alarm_column) text_cell("", false);
  end_line();
}

void LogWriter::cell(const Column& column, std::int64_t steps) {
  append_decimal(buffer_, steps * column.factor, column.decimals,
                 scenario_->format.decimal);
  buffer_ += column.suffix;
}

void LogWriter::alarms(AlarmMask mask) {
  delimiter();
  if (mask == 0) return;
  const bool quote = scenario_->format.delimiter == ';';
  if (quote) buffer_ += '"';
  bool first = true;
  for (std::size_t bit = 0; bit < alarm_names().size(); ++bit) {
    if ((mask >> bit & 1U) == 0) continue;
    if (!first) buffer_ += "; ";
    first = false;
    buffer_ += alarm_names()[bit];
  }
  if (quote) buffer_ += '"';
}

void LogWriter::row(const Sample& sample, std::string_view unit) {
  const LogFormat& format = scenario_->format;
  if (format.repeat_header_rows > 0 && rows_ > 0 &&
      rows_ % static_cast<std::uint64_t>(format.repeat_header_rows) == 0) {
    header();
  }
  ++rows_;
  delimiter();
  stamps_.append(buffer_, sample.stamp);
  if (!format.unit_column.empty()) text_cell(unit, false);
  for (std::size_t i = 0; i < columns_.size(); ++i) {
    buffer_ += format.delimiter;
    if ((sample.present >> i & 1U) != 0) {
      cell(columns_[i], sample.steps[i]);
    } else {
      buffer_ += columns_[i].missing;
    }
  }
  if (scenario_->state_column) text_cell(state_word(sample.state), false);
  if (scenario_->alarm_column) alarms(sample.alarms);
  end_line();
  if (buffer_.size() >= kFlushBytes) flush();
}

void LogWriter::flush() {
  if (failed_) {
    buffer_.clear();
    return;
  }
  if (needs_encoding(scenario_->format.encoding)) {
    encode(buffer_, scenario_->format.encoding, encoded_);
    failed_ = !sink_(encoded_);
    encoded_.clear();
  } else {
    failed_ = !sink_(buffer_);
  }
  buffer_.clear();
}

bool LogWriter::finish() {
  if (scenario_->format.cut_last_line && buffer_.size() > 12) {
    buffer_.resize(buffer_.size() - 9);
  }
  flush();
  return !failed_;
}

}  // namespace telltale::host::sim
