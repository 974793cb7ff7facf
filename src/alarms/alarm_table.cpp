// Numbers for alarms.
#include "alarms/alarm_table.hpp"

namespace telltale::host {

std::uint32_t AlarmTable::number_of(std::string_view unit,
                                    std::string_view name, bool& fresh) {
  key_.assign(unit);
  key_ += '\x1f';  // stands in no cell that is a name
  key_ += name;
  const auto found = numbers_.find(key_);
  fresh = found == numbers_.end() && !full();
  if (found != numbers_.end()) return found->second;
  if (full()) return static_cast<std::uint32_t>(kMost - 1);
  const auto number = static_cast<std::uint32_t>(names_.size());
  AlarmName alarm;
  if (number + 1 == kMost) {
    alarm.name = "other alarms";
  } else {
    alarm.unit = unit;
    alarm.name = name;
    numbers_.emplace(key_, number);
  }
  names_.push_back(std::move(alarm));
  return number;
}

std::string full_name(const AlarmName& alarm) {
  if (alarm.unit.empty()) return alarm.name;
  return alarm.unit + ": " + alarm.name;
}

}  // namespace telltale::host
