// Watch: a value against limits that must be passed for some time.
#pragma once

#include <initializer_list>
#include <limits>
#include <string_view>
#include <vector>

#include "simulate/truth/truth.hpp"

namespace telltale::host::sim {

/// A limit with its delay.
struct Level {
  Degree degree = Degree::attention;
  double limit = 0.0;
  double delay_s = 0.0;
};

enum class Side : std::uint8_t { above, below };

/// Holds the worst that happened at each level.
class Watch {
 public:
  Watch(std::string_view check, Channel channel, std::string_view unit,
        Side side, std::initializer_list<Level> levels);

  /// `value` is judged when `gate` is set; a closed gate starts the delays
  /// anew. `shift` moves the limits.
  void see(double t, double dt, bool gate, double value, double shift = 0.0);
  /// The highest degree reached, if any.
  void answer(std::vector<Verdict>& out) const;

 private:
  struct State {
    Level level;
    double held_s = 0.0;
    double since = 0.0;
    double from = -1.0;  // below 0: never reached
    double due = 0.0;
    double to = 0.0;
    double worst = std::numeric_limits<double>::quiet_NaN();
    double shift = 0.0;
  };
  [[nodiscard]] bool beyond(double value, double limit) const {
    return side_ == Side::above ? value > limit : value < limit;
  }

  std::string_view check_;
  Channel channel_;
  std::string_view unit_;
  Side side_;
  std::vector<State> states_;
};

}  // namespace telltale::host::sim
