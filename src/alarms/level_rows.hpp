// LevelRows: events from a log that names, row by row, the alarms that stand.
#pragma once

#include <cstdint>
#include <functional>
#include <string>
#include <vector>

#include "alarms/alarm_table.hpp"
#include "alarms/event.hpp"
#include "ingest/row.hpp"

namespace telltale::host {

/// An alarm stands while its name is there; it comes where the name appears,
/// and stood already where a unit's first row has it.
class LevelRows {
 public:
  using Sink = std::function<void(const AlarmEvent&)>;
  LevelRows(AlarmTable& names, Sink sink);

  /// The next row; `unit` and `alarms` are the reader's names. REQUIRES: times
  /// do not step back.
  void push(const Row& row, const std::vector<std::string>& units,
            const std::vector<std::string>& alarms);

 private:
  struct Unit {
    AlarmMask standing = 0;
    bool seen = false;
    bool faulted = false;
    std::vector<std::uint32_t> numbers;  // by bit; kNone: not met
  };
  static constexpr std::uint32_t kNone = 0xFFFFFFFF;

  std::uint32_t number_of(Unit& unit, const std::string& name,
                          const std::string& alarm, std::size_t bit);

  AlarmTable& names_;
  Sink sink_;
  std::vector<Unit> units_;
};

}  // namespace telltale::host
