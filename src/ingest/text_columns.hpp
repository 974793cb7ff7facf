// Text columns: what a controller's words say.
#pragma once

#include <cstdint>
#include <string>
#include <string_view>
#include <unordered_map>
#include <vector>

#include "telltale/acquire/engine_state.hpp"

namespace telltale::host {

/// The state that a controller's word means; `unknown` for a number and for
/// words that say nothing about the engine (AUTO, MAN, OK).
EngineState state_of_text(std::string_view text);

/// Whether a text in an alarm column means that nothing stands.
bool means_no_alarm(std::string_view text);

/// Whether a text says that a contact is on, or off.
bool means_yes(std::string_view text);
bool means_no(std::string_view text);

/// Remembers the last text: state columns change rarely.
class StateReader {
 public:
  EngineState read(std::string_view text);

 private:
  std::string last_;
  EngineState state_ = EngineState::unknown;
};

/// Alarm texts to bits. The first 31 distinct texts get a bit each; all later
/// ones share the last, named "other alarms".
class AlarmReader {
 public:
  static constexpr std::size_t kOwnBits = 31;

  /// The alarms that stand by a cell: texts parted by ';', '|' or ' / '.
  AlarmMask read(std::string_view text);

  /// The alarm `name` if `text` says yes.
  AlarmMask read_contact(std::string_view name, std::string_view text);

  [[nodiscard]] const std::vector<std::string>& names() const { return names_; }

 private:
  AlarmMask bit_of(std::string_view text);

  std::vector<std::string> names_;
  std::unordered_map<std::string, std::size_t> bits_;
  // Texts come again and again, also from several columns in turn.
  std::unordered_map<std::string, AlarmMask> known_;
};

}  // namespace telltale::host
