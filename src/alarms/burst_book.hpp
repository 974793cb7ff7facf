// BurstBook: what came first, what follows what, what comes together.
#pragma once

#include <cstdint>
#include <limits>
#include <unordered_map>
#include <vector>

#include "alarms/event.hpp"

namespace telltale::host {

/// Alarms of one unit that came in one go: each within 60 s of the one before.
/// An alarm that is chattering already when others come takes no part: it says
/// nothing about them.
struct Burst {
  struct Member {
    std::uint32_t alarm = 0;
    double after_s = 0.0;  // the first one's raise
  };
  EventPlace from;
  std::uint32_t distinct = 0;
  bool tied = false;            // several came first, at the same stamp
  double seconds = 0.0;         // from the first alarm to the last new one
  std::vector<Member> members;  // the first kMembers, in order
};

/// After alarm `first`, alarm `then` was raised within the same burst.
struct Follow {
  std::uint32_t first = 0;
  std::uint32_t then = 0;
  std::uint32_t times = 0;
  std::uint32_t of = 0;  // occasions on which `first` came
  double mean_lag_s = 0.0;
  double least_lag_s = 0.0;
  double most_lag_s = 0.0;
};

/// Alarms that (nearly) always come together.
struct Company {
  std::vector<std::uint32_t> alarms;  // most often first one first
  std::uint32_t times = 0;            // fewest joint occasions of a pair
  bool always = false;                // not one came without the others
};

class BurstBook {
 public:
  static constexpr DurationMs kGap = seconds(60);
  static constexpr std::size_t kMembers = 24;  // kept of a burst, in order
  static constexpr std::size_t kKept = 50;     // the largest bursts
  /// Pairs counted at most. A journal that has more has no order in it.
  static constexpr std::size_t kPairs = 1U << 16U;

  explicit BurstBook(DurationMs gap = kGap) : gap_(gap) {}

  /// An alarm came; `again`: it chatters, this raise follows the last one
  /// within the gap. `shutdown`: it stops the set.
  void raise(std::uint32_t unit, const EventPlace& place, std::uint32_t alarm,
             bool again, bool shutdown);
  void finish();

  /// Bursts of two or more alarms. The largest, in order of time.
  [[nodiscard]] const std::vector<Burst>& bursts() const { return kept_; }
  [[nodiscard]] std::uint64_t count() const { return count_; }

  /// How often an alarm came (chatter counted once), in a burst, and first.
  struct Part {
    std::uint32_t occasions = 0;
    std::uint32_t in_bursts = 0;
    std::uint32_t first = 0;
    std::uint32_t first_tied = 0;  // of these, together with others
    /// Least time until a shutdown followed; NaN where none did.
    double time_to_act_s = std::numeric_limits<double>::quiet_NaN();
  };
  [[nodiscard]] Part part_of(std::uint32_t alarm) const {
    return alarm < parts_.size() ? parts_[alarm].part : Part{};
  }

  /// `then` followed on at least half of the occasions, three or more; most
  /// often seen first.
  [[nodiscard]] std::vector<Follow> follows() const;
  /// Groups in which each came with some other on nine of ten occasions of
  /// either, three or more.
  [[nodiscard]] std::vector<Company> company() const;
  /// Whether there were more pairs than are counted.
  [[nodiscard]] bool pairs_lost() const { return pairs_lost_; }

 private:
  struct Open {
    Burst burst;
    TimeMs last;
    std::uint64_t number = 0;  // 0: none open
    bool shutdown_seen = false;
  };
  struct PartState {
    Part part;
    std::uint64_t burst = 0;  // the last it was part of
  };
  struct Pair {
    std::uint32_t times = 0;
    float least = 0.0F;
    float most = 0.0F;
    double sum = 0.0;
  };

  void open(Open& slot, const EventPlace& place, std::uint32_t alarm);
  void join(Open& slot, const EventPlace& place, std::uint32_t alarm);
  void close(Open& slot);
  void note_pairs(const Open& slot, std::uint32_t alarm, double after_s);
  void note_shutdown(Open& slot, const EventPlace& place,
                     std::uint32_t shutdown);

  DurationMs gap_;
  std::vector<Open> units_;
  std::vector<PartState> parts_;
  std::unordered_map<std::uint64_t, Pair> pairs_;
  std::vector<Burst> kept_;
  std::uint64_t count_ = 0;
  std::uint64_t numbers_ = 0;
  bool pairs_lost_ = false;
};

}  // namespace telltale::host
