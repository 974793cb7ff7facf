// Plays a load plan as time goes on.
#include "simulate/load.hpp"

#include <algorithm>
#include <cmath>

namespace telltale::host::sim {
namespace {

// Motors draw their starting current at a poor power factor.
constexpr double kInrushPowerFactor = 0.45;

double reactive(double kw, double power_factor) {
  return kw * std::sqrt(1.0 - power_factor * power_factor) / power_factor;
}

}  // namespace

LoadBank::LoadBank(const LoadPlan& plan, const Rating& rating,
                   std::uint64_t seed)
    : plan_(&plan), rating_(rating) {
  players_.reserve(plan.appliances.size());
  for (const Appliance& what : plan.appliances) {
    players_.push_back({&what, Random(seed, "appliance " + what.name), false,
                        what.first_s, -1.0});
  }
}

const Demand& LoadBank::at(double t) {
  if (t < next_change_) return demand_;
  for (Player& player : players_) {
    while (player.toggles_at <= t) toggle(player);
  }
  while (level_ < plan_->levels.size() && plan_->levels[level_].at_s <= t) {
    ++level_;
  }
  rebuild(t);
  return demand_;
}

void LoadBank::toggle(Player& player) {
  const Appliance& what = *player.what;
  const double now = player.toggles_at;
  const double vary =
      player.random.between(1.0 - what.spread, 1.0 + what.spread);
  const bool over = now >= what.until_s;
  player.on = !player.on && !over;
  if (over) {
    player.toggles_at = INFINITY;
  } else if (player.on) {
    player.inrush_until = now + what.inrush_s;
    const double length = what.on_s > 0.0 ? what.on_s * vary : INFINITY;
    player.toggles_at = std::min(now + length, what.until_s);
  } else {
    const double length = what.off_s > 0.0 ? what.off_s * vary : INFINITY;
    player.toggles_at = std::min(now + length, what.until_s);
  }
}

void LoadBank::add(const Appliance& what, bool inrush) {
  double kw = what.kw;
  double kvar = reactive(kw, what.power_factor);
  if (inrush) {
    const double kva = what.inrush * kw / what.power_factor;
    kw = kva * kInrushPowerFactor;
    kvar = reactive(kw, kInrushPowerFactor);
  }
  const auto legs = static_cast<std::size_t>(rating_.legs);
  if (what.feed == Feed::all) {
    for (std::size_t leg = 0; leg < legs; ++leg) {
      demand_.kw[leg] += kw / static_cast<double>(legs);
      demand_.kvar[leg] += kvar / static_cast<double>(legs);
    }
    return;
  }
  const std::size_t leg =
      std::min(static_cast<std::size_t>(what.feed), legs - 1);
  demand_.kw[leg] += kw;
  demand_.kvar[leg] += kvar;
}

void LoadBank::rebuild(double t) {
  demand_ = Demand{};
  next_change_ =
      level_ < plan_->levels.size() ? plan_->levels[level_].at_s : INFINITY;
  if (level_ > 0) {
    const LoadLevel& level = plan_->levels[level_ - 1];
    const double kw = level.pct / 100.0 * rating_.power_kw;
    double shares = 0.0;
    const auto legs = static_cast<std::size_t>(rating_.legs);
    for (std::size_t leg = 0; leg < legs; ++leg) {
      shares += level.leg_share[leg];
    }
    for (std::size_t leg = 0; leg < legs; ++leg) {
      demand_.kw[leg] = kw * level.leg_share[leg] / shares;
      demand_.kvar[leg] = reactive(demand_.kw[leg], plan_->power_factor);
    }
    demand_.settled_kw = kw;
  }
  for (const Player& player : players_) {
    next_change_ = std::min(next_change_, player.toggles_at);
    if (!player.on) continue;
    const bool inrush = t < player.inrush_until;
    if (inrush) next_change_ = std::min(next_change_, player.inrush_until);
    add(*player.what, inrush);
    demand_.settled_kw += player.what->kw;
  }
}

}  // namespace telltale::host::sim
