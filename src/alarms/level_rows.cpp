// From masks of standing alarms to events.
#include "alarms/level_rows.hpp"

#include <bit>
#include <utility>

#include "alarms/event_words.hpp"
#include "alarms/fault_codes.hpp"
#include "support/safe_text.hpp"

namespace telltale::host {

LevelRows::LevelRows(AlarmTable& names, Sink sink)
    : names_(names), sink_(std::move(sink)) {}

std::uint32_t LevelRows::number_of(Unit& unit, const std::string& name,
                                   const std::string& alarm, std::size_t bit) {
  if (bit >= unit.numbers.size()) unit.numbers.resize(bit + 1, kNone);
  if (unit.numbers[bit] != kNone) return unit.numbers[bit];
  bool fresh = false;
  const std::uint32_t number =
      names_.number_of(printable(name, 80), printable(alarm, 200), fresh);
  if (fresh) {
    if (const auto code = fault_code_of(alarm, false)) {
      names_[number].text = text_of(*code);
    }
    settle_role(names_[number]);
  }
  return unit.numbers[bit] = number;
}

void LevelRows::push(const Row& row, const std::vector<std::string>& units,
                     const std::vector<std::string>& alarms) {
  if (row.unit >= units_.size()) units_.resize(row.unit + std::size_t{1});
  Unit& unit = units_[row.unit];
  const AlarmMask changed = row.alarms ^ unit.standing;
  // What comes as the set goes to its fault state is what stopped it.
  const bool faulted = row.state == EngineState::fault;
  const bool stopped_now = faulted && !unit.faulted && unit.seen;
  for (AlarmMask rest = changed; rest != 0; rest &= rest - 1) {
    const auto bit = static_cast<std::size_t>(std::countr_zero(rest));
    const bool on = (row.alarms >> bit & 1U) != 0;
    AlarmEvent event;
    event.at = row.at;
    event.logged = row.logged;
    event.line = row.line;
    event.alarm = number_of(unit, units[row.unit], alarms[bit], bit);
    event.kind = !on         ? EventKind::cleared
                 : unit.seen ? EventKind::raised
                             : EventKind::stood;
    AlarmName& name = names_[event.alarm];
    if (on && stopped_now && name.role == AlarmRole::warning) {
      name.role = AlarmRole::shutdown;
      name.why_role = "the set went to its fault state as it came";
    }
    sink_(event);
  }
  unit.standing = row.alarms;
  unit.seen = true;
  unit.faulted = faulted;
}

}  // namespace telltale::host
