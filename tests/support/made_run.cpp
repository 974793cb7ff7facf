// The plan of a made run and its scans.
#include "made_run.hpp"

#include <algorithm>
#include <array>
#include <cmath>
#include <limits>
#include <random>
#include <utility>

namespace telltale::test {
namespace {

constexpr double kNone = std::numeric_limits<double>::quiet_NaN();
constexpr double kHoldS = 10.0;  // as FrameBuilder holds

ChannelMask usual_channels(const Plate& plate) {
  ChannelMask mask = 0;
  for (const ChannelInfo& info : kChannels) mask |= bit(info.channel);
  mask &= ~(bit(Channel::load) | bit(Channel::power_factor));
  if (plate.legs < 3) {
    mask &= ~(bit(Channel::voltage_l3) | bit(Channel::current_l3));
  }
  if (plate.legs < 2) {
    mask &= ~(bit(Channel::voltage_l2) | bit(Channel::current_l2) |
              bit(Channel::voltage_line));
  }
  return mask;
}

}  // namespace

double Plate::leg_volts() const {
  return legs == 3 ? volts / std::sqrt(3.0) : legs == 2 ? volts / 2.0 : volts;
}
double Plate::leg_amps() const { return kw * 1000.0 / (legs * leg_volts()); }
Profile Plate::profile() const {
  Profile out;
  out.rating.frequency_hz = static_cast<float>(hz);
  out.rating.poles = static_cast<std::uint8_t>(poles);
  out.rating.legs = static_cast<std::uint8_t>(legs);
  out.rating.power_kw = static_cast<float>(kw);
  out.rating.voltage_v = static_cast<float>(volts);
  out.rating.battery_v = static_cast<float>(battery);
  out.rating.exhaust = Exhaust::wet;
  out.rating.performance = PerformanceClass::G2;
  out.wall_clock = true;
  return out;
}

MadeRun::MadeRun(const Plate& plate)
    : plate_(plate), logged_(usual_channels(plate)) {}

MadeRun& MadeRun::add(Stage stage, double s, double from_pct, double to_pct) {
  plan_.push_back({stage, now(), s, from_pct, to_pct});
  return *this;
}
MadeRun& MadeRun::rest(double s) { return add(Stage::rest, s, 0, 0); }
MadeRun& MadeRun::crank(double s) { return add(Stage::crank, s, 0, 0); }
MadeRun& MadeRun::run_up(double s) { return add(Stage::run_up, s, 0, 0); }
MadeRun& MadeRun::load(double pct, double s) {
  return add(Stage::run, s, pct, pct);
}
MadeRun& MadeRun::ramp(double pct, double s) {
  return add(Stage::run, s, plan_.back().load_to, pct);
}
MadeRun& MadeRun::coast(double s) {
  const double load = plan_.back().load_to;
  return add(Stage::coast, s, load, load);
}
MadeRun& MadeRun::start() { return crank(3.0).run_up(3.0); }
MadeRun& MadeRun::warm() { return load(0.0, 30.0).load(20.0, 300.0); }
MadeRun& MadeRun::stop() { return load(0.0, 180.0).coast().rest(30.0); }
double MadeRun::now() const {
  return plan_.empty() ? 0.0 : plan_.back().from + plan_.back().length;
}

MadeRun& MadeRun::every(double s) {
  interval_s_ = s;
  return *this;
}
MadeRun& MadeRun::channel_every(Channel channel, double s) {
  slow_.emplace_back(channel, s);
  return *this;
}
MadeRun& MadeRun::without(Channel channel) {
  logged_ &= ~bit(channel);
  return *this;
}
MadeRun& MadeRun::with(Channel channel) {
  logged_ |= bit(channel);
  return *this;
}
MadeRun& MadeRun::gap(double from, double to) {
  gaps_.push_back({from, to, 0});
  return *this;
}
MadeRun& MadeRun::missing(Channel channel, double from, double to) {
  return fault(channel, [=](const Scene& s, double x) {
    return s.t >= from && s.t < to ? kNone : x;
  });
}
MadeRun& MadeRun::fault(Channel channel, Fault fault) {
  changes_.push_back({channel, std::move(fault)});
  return *this;
}
MadeRun& MadeRun::turn(Fault fault) {
  turns_.push_back(std::move(fault));
  return *this;
}
MadeRun& MadeRun::single(Channel channel, double at, double value) {
  const double half = interval_s_ / 2.0;
  return fault(channel, [=](const Scene& s, double x) {
    return s.t > at - half && s.t <= at + half ? value : x;
  });
}
MadeRun& MadeRun::alarm(int bit, double from, double to) {
  alarms_.push_back({from, to, bit});
  return *this;
}
MadeRun& MadeRun::state(EngineState state, double from, double to) {
  states_.push_back({from, to, static_cast<int>(state)});
  return *this;
}
MadeRun& MadeRun::with_state() {
  with_state_ = true;
  return *this;
}
MadeRun& MadeRun::clock_step(double at, double jump_s) {
  clock_steps_.emplace_back(at, jump_s);
  return *this;
}
MadeRun& MadeRun::noise(Channel channel, double half_width,
                        std::uint32_t seed) {
  // One number a reading, from time and seed: the same whatever came before.
  return fault(channel, [=](const Scene& s, double x) {
    std::minstd_rand engine(
        seed + static_cast<std::uint32_t>(std::llround(s.t * 1000.0)) * 7919U);
    engine.discard(3);
    const double u = static_cast<double>(engine() - 1U) / 2147483645.0;
    return x == 0.0 ? x : x + half_width * (2.0 * u - 1.0);
  });
}
MadeRun& MadeRun::resolution(Channel channel, double step) {
  return fault(channel, [=](const Scene&, double x) {
    return std::round(x / step) * step;
  });
}
MadeRun& MadeRun::droop(double pct) {
  droop_pct_ = pct;
  return *this;
}

TimeMs MadeRun::time_of(double t) {
  return kBegin + DurationMs{std::llround(t * 1000.0)};
}
double MadeRun::seconds_of(TimeMs at) {
  return static_cast<double>((at - kBegin).ms) / 1000.0;
}

double MadeRun::reading(Channel channel, const Scene& scene) const {
  double value = healthy(channel, scene);
  for (const Change& change : changes_) {
    if (change.channel == channel) value = change.fault(scene, value);
  }
  return value;
}
EngineState MadeRun::state_at(const Scene& scene) const {
  for (const Span& span : states_) {
    if (scene.t >= span.from && scene.t < span.to) {
      return static_cast<EngineState>(span.what);
    }
  }
  if (!with_state_) return EngineState::unknown;
  switch (scene.stage) {
    case Stage::rest:
      return EngineState::stopped;
    case Stage::crank:
      return EngineState::cranking;
    case Stage::run_up:
      return EngineState::starting;
    case Stage::run:
      return scene.load_pct >= 5.0 ? EngineState::loaded : EngineState::running;
    case Stage::coast:
      return EngineState::stopping;
  }
  return EngineState::unknown;
}
bool MadeRun::due(Channel channel, double t) const {
  for (const auto& [slow, every] : slow_) {
    if (slow == channel) return std::fmod(t + 1e-6, every) < interval_s_ / 2.0;
  }
  return true;
}
bool MadeRun::hidden(double t) const {
  return std::any_of(gaps_.begin(), gaps_.end(), [t](const Span& gap) {
    return t > gap.from + 1e-9 && t < gap.to - 1e-9;
  });
}

std::vector<MadeScan> MadeRun::scans() const {
  std::vector<MadeScan> out;
  const double end = now();
  Scene scene;
  double last_t = 0.0;
  struct Taken {
    double at = -1e9;
    double value = 0.0;
  };
  std::array<Taken, kChannelCount> last;
  // The heat goes on in the gaps as well: the model steps by itself.
  const auto steps = static_cast<std::int64_t>(end / interval_s_ + 1e-6);
  for (std::int64_t i = 0; i <= steps; ++i) {
    scene.t = static_cast<double>(i) * interval_s_;
    place(scene);
    if (scene.ratio > 0.0) {
      for (const Fault& turn : turns_) scene.ratio = turn(scene, scene.ratio);
      scene.ratio = std::max(scene.ratio, 0.0);
    }
    advance(scene, scene.t - last_t);
    const double before = last_t;
    last_t = scene.t;
    if (hidden(scene.t)) continue;
    MadeScan scan;
    scan.frame.at = time_of(scene.t);
    scan.frame.state = state_at(scene);
    for (const Span& alarm : alarms_) {
      if (scene.t >= alarm.from && scene.t < alarm.to) {
        scan.frame.alarms |= AlarmMask{1} << alarm.what;
      }
    }
    for (const auto& [at, jump_s] : clock_steps_) {
      if (at <= before || at > scene.t) continue;
      scan.clock = jump_s < 0 ? ClockStep::set_back : ClockStep::set_forward;
      scan.clock_jump = DurationMs{std::llround(jump_s * 1000.0)};
    }
    for (const ChannelInfo& info : kChannels) {
      if ((logged_ & bit(info.channel)) == 0) continue;
      auto& [taken_at, taken] = last[index_of(info.channel)];
      scan.frame.set(info.channel, Quality::missing);
      if (!due(info.channel, scene.t)) {
        if (scene.t - taken_at <= kHoldS) {
          scan.frame.set(info.channel, Quality::held, taken);
        }
        continue;
      }
      const double value = this->reading(info.channel, scene);
      if (std::isnan(value)) continue;
      const bool possible = value >= static_cast<double>(info.low) &&
                            value <= static_cast<double>(info.high);
      scan.frame.set(info.channel,
                     possible ? Quality::good : Quality::implausible, value);
      if (possible) {
        taken_at = scene.t;
        taken = value;
      }
    }
    out.push_back(scan);
  }
  return out;
}

Become to(double value) {
  return [=](double) { return value; };
}
Become by(double offset) {
  return [=](double healthy) { return healthy + offset; };
}
Become times(double factor) {
  return [=](double healthy) { return healthy * factor; };
}
MadeRun::Fault during(double from, double s, Become become) {
  return [=](const Scene& scene, double healthy) {
    const bool now = scene.t >= from - 1e-6 && scene.t < from + s - 1e-6;
    return now ? become(healthy) : healthy;
  };
}
MadeRun::Fault since(double from, Become become) {
  return during(from, 1e9, std::move(become));
}
MadeRun::Fault creeping(double from, double s, double offset) {
  return [=](const Scene& scene, double healthy) {
    return healthy + offset * std::clamp((scene.t - from) / s, 0.0, 1.0);
  };
}

MadeRun usual_run(double minutes, const Plate& plate) {
  MadeRun run(plate);
  run.rest(120.0).start().warm().load(60.0, minutes * 60.0).stop();
  return run;
}

}  // namespace telltale::test
