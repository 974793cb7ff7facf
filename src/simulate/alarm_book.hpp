// The alarms of the set's controller, and which of them stop the engine.
#pragma once

#include <array>
#include <cstdint>
#include <span>
#include <string_view>

#include "simulate/random.hpp"
#include "simulate/scenario.hpp"

namespace telltale::host::sim {

/// Names of the alarms, by bit.
std::span<const std::string_view> alarm_names();

/// The bits that are no more than noise made by the alarm faults.
inline constexpr int kFirstFloodAlarm = 15;

class AlarmBook {
 public:
  AlarmBook(const SetSpec& set, std::span<const Fault> faults,
            std::uint64_t seed);

  /// Looks at the state `now`. `running_s` is how long the engine has run by
  /// itself, negative when it does not.
  void step(const Snapshot& now, double running_s, bool start_failed,
            bool emergency);
  [[nodiscard]] AlarmMask standing() const { return standing_; }
  /// A protection asks for a stop.
  [[nodiscard]] bool trip() const { return trip_; }
  /// Clears what a stop has latched, before the next start.
  void reset();

 private:
  void judge(int bit, bool bad, bool good, double dt, double delay_s);
  void chatter(const Fault& fault, double t);
  void flood(const Fault& fault, double t);

  const SetSpec* set_;
  std::span<const Fault> faults_;
  Random random_;
  AlarmMask standing_ = 0;
  AlarmMask latched_ = 0;
  std::array<double, 32> held_s_ = {};
  double chatter_next_ = -1.0;
  double chatter_until_ = -1.0;  // end of the burst in hand
  double flood_next_ = -1.0;
  bool trip_ = false;
};

}  // namespace telltale::host::sim
