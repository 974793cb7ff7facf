// Bursts, unit by unit.
#include "alarms/burst_book.hpp"

#include <algorithm>
#include <cmath>
#include <numeric>

namespace telltale::host {
namespace {

constexpr std::uint32_t kLeastTimes = 3;

constexpr std::uint64_t pair_key(std::uint32_t first, std::uint32_t then) {
  return std::uint64_t{first} << 32U | then;
}
constexpr std::uint32_t first_of(std::uint64_t key) {
  return static_cast<std::uint32_t>(key >> 32U);
}
constexpr std::uint32_t then_of(std::uint64_t key) {
  return static_cast<std::uint32_t>(key & 0xFFFFFFFFU);
}

}  // namespace

void BurstBook::raise(std::uint32_t unit, const EventPlace& place,
                      std::uint32_t alarm, bool again, bool shutdown) {
  if (unit >= units_.size()) units_.resize(unit + 1U);
  if (alarm >= parts_.size()) parts_.resize(alarm + 1U);
  Open& slot = units_[unit];
  const bool on_going = slot.number != 0 && place.at - slot.last <= gap_;
  if (!on_going) close(slot);
  const bool member = on_going && parts_[alarm].burst == slot.number;
  if (member || again) return;
  if (!on_going) {
    open(slot, place, alarm);
  } else {
    join(slot, place, alarm);
  }
  if (shutdown) note_shutdown(slot, place, alarm);
}

void BurstBook::open(Open& slot, const EventPlace& place, std::uint32_t alarm) {
  std::vector<Burst::Member> members = std::move(slot.burst.members);
  members.clear();
  slot = {};
  slot.burst.members = std::move(members);  // keeps its room
  slot.number = ++numbers_;
  slot.burst.from = place;
  join(slot, place, alarm);
}

void BurstBook::join(Open& slot, const EventPlace& place, std::uint32_t alarm) {
  const double after_s = seconds_between(slot.burst.from.at, place.at);
  parts_[alarm].burst = slot.number;
  ++parts_[alarm].part.occasions;
  note_pairs(slot, alarm, after_s);
  if (slot.burst.distinct > 0 && after_s == 0.0) slot.burst.tied = true;
  ++slot.burst.distinct;
  slot.burst.seconds = after_s;
  slot.last = place.at;
  if (slot.burst.members.size() < kMembers) {
    slot.burst.members.push_back({alarm, after_s});
  }
}

void BurstBook::note_pairs(const Open& slot, std::uint32_t alarm,
                           double after_s) {
  for (const Burst::Member& member : slot.burst.members) {
    const auto found = pairs_.find(pair_key(member.alarm, alarm));
    if (found == pairs_.end() && pairs_.size() >= kPairs) {
      pairs_lost_ = true;
      continue;
    }
    Pair& pair = found != pairs_.end() ? found->second
                                       : pairs_[pair_key(member.alarm, alarm)];
    const double lag = after_s - member.after_s;
    const auto narrow = static_cast<float>(lag);
    pair.least = pair.times == 0 ? narrow : std::min(pair.least, narrow);
    pair.most = std::max(pair.most, narrow);
    pair.sum += lag;
    ++pair.times;
  }
}

void BurstBook::note_shutdown(Open& slot, const EventPlace& place,
                              std::uint32_t shutdown) {
  if (slot.shutdown_seen) return;  // what comes later is no time to act
  slot.shutdown_seen = true;
  const double after_s = seconds_between(slot.burst.from.at, place.at);
  for (const Burst::Member& member : slot.burst.members) {
    if (member.alarm == shutdown) continue;
    double& least = parts_[member.alarm].part.time_to_act_s;
    const double lag = after_s - member.after_s;
    if (!(least <= lag)) least = lag;
  }
}

void BurstBook::close(Open& slot) {
  if (slot.number == 0) return;
  Burst& burst = slot.burst;
  slot.number = 0;
  if (burst.distinct < 2) return;
  ++count_;
  for (const Burst::Member& member : burst.members) {
    Part& part = parts_[member.alarm].part;
    if (member.after_s == 0.0) {
      ++part.first;
      part.first_tied += burst.tied;
    }
    ++part.in_bursts;
  }
  if (kept_.size() == kKept) {
    const auto least = std::min_element(
        kept_.begin(), kept_.end(),
        [](const Burst& a, const Burst& b) { return a.distinct < b.distinct; });
    if (least->distinct >= burst.distinct) return;
    kept_.erase(least);
  }
  kept_.push_back(std::move(burst));
}

void BurstBook::finish() {
  for (Open& slot : units_) close(slot);
  std::stable_sort(
      kept_.begin(), kept_.end(),
      [](const Burst& a, const Burst& b) { return a.from.at < b.from.at; });
}

std::vector<Follow> BurstBook::follows() const {
  std::vector<Follow> all;
  for (const auto& [key, pair] : pairs_) {
    const std::uint32_t of = part_of(first_of(key)).occasions;
    if (pair.times < kLeastTimes || pair.times * 2 < of) continue;
    all.push_back({first_of(key), then_of(key), pair.times, of,
                   pair.sum / pair.times, static_cast<double>(pair.least),
                   static_cast<double>(pair.most)});
  }
  std::sort(all.begin(), all.end(), [](const Follow& a, const Follow& b) {
    if (a.times != b.times) return a.times > b.times;
    if (a.of != b.of) return a.of < b.of;
    return pair_key(a.first, a.then) < pair_key(b.first, b.then);
  });
  return all;
}

std::vector<Company> BurstBook::company() const {
  // Alarms linked by a pair belong to one group (union-find).
  std::vector<std::uint32_t> root(parts_.size());
  std::iota(root.begin(), root.end(), 0U);
  const auto find = [&root](std::uint32_t i) {
    while (root[i] != i) i = root[i] = root[root[i]];
    return i;
  };
  struct Link {
    std::uint32_t a;
    std::uint32_t b;
    std::uint32_t together;
    bool always;
  };
  std::vector<Link> links;
  for (const auto& [key, pair] : pairs_) {
    const std::uint32_t a = first_of(key);
    const std::uint32_t b = then_of(key);
    const auto back = pairs_.find(pair_key(b, a));
    if (back != pairs_.end() && a > b) continue;  // seen the other way round
    const std::uint32_t together =
        pair.times + (back == pairs_.end() ? 0 : back->second.times);
    const std::uint32_t either =
        parts_[a].part.occasions + parts_[b].part.occasions - together;
    if (together < kLeastTimes || together * 10 < either * 9) continue;
    links.push_back({a, b, together, together == either});
    root[find(a)] = find(b);
  }
  std::unordered_map<std::uint32_t, Company> groups;
  for (const Link& link : links) {
    Company& group = groups[find(link.a)];
    const bool fresh = group.alarms.empty();
    for (const std::uint32_t alarm : {link.a, link.b}) {
      if (std::find(group.alarms.begin(), group.alarms.end(), alarm) ==
          group.alarms.end()) {
        group.alarms.push_back(alarm);
      }
    }
    group.times = fresh ? link.together : std::min(group.times, link.together);
    group.always = link.always && (fresh || group.always);
  }
  std::vector<Company> all;
  for (auto& [number, group] : groups) {
    std::sort(group.alarms.begin(), group.alarms.end(),
              [this](std::uint32_t a, std::uint32_t b) {
                const std::uint32_t first_a = part_of(a).first;
                const std::uint32_t first_b = part_of(b).first;
                return first_a != first_b ? first_a > first_b : a < b;
              });
    all.push_back(std::move(group));
  }
  std::sort(all.begin(), all.end(), [](const Company& a, const Company& b) {
    return a.times != b.times ? a.times > b.times
                              : a.alarms.front() < b.alarms.front();
  });
  return all;
}

}  // namespace telltale::host
