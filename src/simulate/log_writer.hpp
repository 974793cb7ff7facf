// Writes the rows of a scenario as a logger would: CSV in many dialects.
#pragma once

#include <cstdint>
#include <functional>
#include <string>
#include <string_view>
#include <vector>

#include "simulate/scenario.hpp"
#include "simulate/stamp.hpp"
#include "support/result.hpp"

namespace telltale::host::sim {

/// Takes the bytes of a file; false when they could not be stored.
using ByteSink = std::function<bool(std::string_view)>;

class LogWriter {
 public:
  /// `first` is the stamp of the first row.
  LogWriter(const Scenario& scenario, TimeMs first, ByteSink sink);

  /// `unit` goes into the unit column, where the format has one.
  void row(const Sample& sample, std::string_view unit);
  /// Writes what is left; false if the sink refused anything.
  bool finish();

 private:
  struct Column {
    std::int64_t factor;  // cell = steps * factor / 10^decimals
    int decimals;
    std::string suffix;
    std::string missing;
  };

  void header();
  void preamble();
  void unit_row();
  void cell(const Column& column, std::int64_t steps);
  void alarms(AlarmMask mask);
  void text_cell(std::string_view text, bool quote);
  void delimiter();
  void end_line();
  void flush();

  const Scenario* scenario_;
  ByteSink sink_;
  StampWriter stamps_;
  std::vector<Column> columns_;
  std::string buffer_;
  std::string encoded_;
  std::uint64_t rows_ = 0;
  bool first_cell_ = true;
  bool failed_ = false;
};

/// What a written log came to.
struct LogFacts {
  std::uint64_t rows = 0;
  TimeMs first = kNoTime;
  TimeMs last = kNoTime;
};

}  // namespace telltale::host::sim
