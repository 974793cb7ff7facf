// ValueText: figures, units and times as people read them.
#pragma once

#include <array>
#include <cstdint>
#include <string>

#include "report/health_report.hpp"
#include "support/units.hpp"
#include "telltale/acquire/channel.hpp"
#include "telltale/acquire/unit.hpp"

namespace telltale::host {

/// --units.
enum class UnitSystem : std::uint8_t { as_logged, metric, us };

/// How values are written for one log. JSON does not use this: it keeps the
/// canonical units.
class ValueText {
 public:
  ValueText(UnitSystem system, const LogLayout& layout);

  /// The unit a channel is shown in.
  [[nodiscard]] LogUnit unit_of(Channel channel) const;
  /// A channel's value in the unit it is shown in.
  [[nodiscard]] double shown(double value, Channel channel) const;
  /// Just the number, with the decimals its unit deserves.
  [[nodiscard]] std::string number(double value, Channel channel) const;
  /// Number and unit. `channel` may be Channel::none.
  [[nodiscard]] std::string say(double value, Unit unit,
                                Channel channel = Channel::none) const;

  /// "2026-06-01 08:00:00", "t+123 s" in an elapsed-time log.
  [[nodiscard]] std::string stamp(TimeMs logged) const;
  /// The time of day alone, where the day is plain from elsewhere.
  [[nodiscard]] std::string clock(TimeMs logged) const;

 private:
  [[nodiscard]] LogUnit unit_for(Unit unit, Channel channel) const;

  const LogLayout* layout_;
  UnitSystem system_;
  std::array<LogUnit, kChannelCount> by_channel_{};
  LogUnit temperature_ = LogUnit::degC;
  LogUnit pressure_ = LogUnit::kPa;
};

/// "45 s", "2 min 05 s", "1 h 20 min".
std::string duration_text(double seconds);

/// A number with so many decimals, thousands in groups: "1,234.5".
std::string grouped(double value, int decimals);

}  // namespace telltale::host
