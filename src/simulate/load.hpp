// What the set has to feed: steady loads, and appliances that come and go.
#pragma once

#include <array>
#include <cstdint>
#include <string>
#include <vector>

#include "simulate/random.hpp"
#include "simulate/set.hpp"

namespace telltale::host::sim {

/// Where an appliance is connected.
enum class Feed : std::uint8_t { l1, l2, l3, all };

/// One consumer. Times are seconds since the load was connected.
struct Appliance {
  std::string name;
  double kw = 1.0;
  double power_factor = 0.9;
  Feed feed = Feed::all;
  double first_s = 0.0;  // first switched on
  double on_s = 0.0;     // mean time on; 0: stays on
  double off_s = 0.0;    // mean time off; 0 with on_s > 0: once only
  double spread = 0.2;   // times vary by so much either way
  double inrush = 1.0;   // starting current over running current
  double inrush_s = 0.0;
  double until_s = 1e12;  // off for good
};

/// A level that the steady load takes from a time on.
struct LoadLevel {
  double at_s = 0.0;
  double pct = 0.0;                                   // of rated power
  std::array<double, 3> leg_share = {1.0, 1.0, 1.0};  // how legs divide it
};

struct LoadPlan {
  std::vector<LoadLevel> levels;  // in order of time; none: no steady load
  double power_factor = 1.0;      // of the steady load
  double wander_pct = 1.0;        // no load is quite steady, sd
  std::vector<Appliance> appliances;
};

/// Active and reactive power asked of each leg at nominal volts.
struct Demand {
  std::array<double, 3> kw = {};
  std::array<double, 3> kvar = {};
  /// Sum of the legs without inrush and wander: what load steps are made of.
  double settled_kw = 0.0;
};

/// Plays a plan. Time may only go forward.
class LoadBank {
 public:
  LoadBank(const LoadPlan& plan, const Rating& rating, std::uint64_t seed);

  /// Demand at `t` seconds since the load was connected.
  const Demand& at(double t);
  /// When the demand next changes by itself.
  [[nodiscard]] double next_change() const { return next_change_; }

 private:
  struct Player {
    const Appliance* what;
    Random random;
    bool on;
    double toggles_at;
    double inrush_until;
  };

  void toggle(Player& player);
  void add(const Appliance& appliance, bool inrush);
  void rebuild(double t);

  const LoadPlan* plan_;
  Rating rating_;
  std::vector<Player> players_;
  std::size_t level_ = 0;
  double next_change_ = -1.0;
  Demand demand_;
};

}  // namespace telltale::host::sim
