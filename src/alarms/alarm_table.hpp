// AlarmTable: the alarms of a journal, by unit and name.
#pragma once

#include <cstddef>
#include <cstdint>
#include <string>
#include <string_view>
#include <unordered_map>
#include <vector>

namespace telltale::host {

/// What an alarm is there for.
enum class AlarmRole : std::uint8_t {
  warning,   // tells somebody, who then acts
  shutdown,  // stops the engine, trips a breaker: a protection
  message    // "engine started": nobody needs to act, so no alarm
};

struct AlarmName {
  std::string unit;      // "" where the journal has none
  std::string name;      // tag, code or text: what tells alarms apart
  std::string text;      // more words for people; may be empty
  std::string priority;  // as the journal has it; may be empty
  AlarmRole role = AlarmRole::warning;
  std::string why_role;  // of a shutdown: what says so
};

/// Distinct alarms get numbers in order of appearance.
class AlarmTable {
 public:
  /// A journal with more distinct alarms than this holds texts, not alarms;
  /// all later ones share the last number.
  static constexpr std::size_t kMost = 10'000;

  /// The number of an alarm, new or known; `fresh` tells which.
  std::uint32_t number_of(std::string_view unit, std::string_view name,
                          bool& fresh);

  [[nodiscard]] std::size_t size() const { return names_.size(); }
  [[nodiscard]] const AlarmName& operator[](std::size_t i) const {
    return names_[i];
  }
  AlarmName& operator[](std::size_t i) { return names_[i]; }

  /// Whether some alarms had to share the last number.
  [[nodiscard]] bool full() const { return names_.size() >= kMost; }

 private:
  std::vector<AlarmName> names_;
  std::unordered_map<std::string, std::uint32_t> numbers_;
  std::string key_;
};

/// "unit: name", for people; the name alone where there is no unit.
std::string full_name(const AlarmName& alarm);

}  // namespace telltale::host
