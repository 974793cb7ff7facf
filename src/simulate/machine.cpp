// Couples the parts: fast ones every 20 ms while something happens, slow ones
// every 0.2 s, both once a second or less while nothing does.
#include "simulate/machine.hpp"

#include <algorithm>
#include <cmath>

#include "simulate/portable_math.hpp"

namespace telltale::host::sim {
namespace {

constexpr double kFineStep = 0.02;
constexpr double kSlowStep = 0.2;
constexpr double kSteadyStep = 1.0;
constexpr double kRestStep = 2.0;
constexpr double kIdleStep = 60.0;  // at rest, no start near
constexpr double kNearStartS = 900.0;
constexpr double kCrankRipple = 0.06;  // of speed: one compression, the next
constexpr double kLivelyS = 12.0;      // after a sudden change
constexpr double kSmallChange = 0.12;  // of rated power: over in less time
constexpr double kSmallLivelyS = 4.0;
constexpr double kSwingS = 2.6;       // period of a hunting governor
constexpr double kMeterSpeed = 0.35;  // the hour meter counts from here
constexpr double kDayS = 86400.0;
constexpr double kYearS = 365.25 * kDayS;
constexpr double kDropOutVolts = 0.12;  // contactors let go

double log10_of(double x) { return log_of(x) / 2.302585092994046; }

}  // namespace

Machine::Machine(const Scenario& scenario)
    : scenario_(&scenario),
      controller_(scenario.runs, scenario.set.controller),
      drive_(scenario.set),
      alternator_(scenario.set),
      thermal_(scenario.set, scenario.environment),
      oil_(scenario.set.oil),
      battery_(scenario.set),
      fuel_supply_(scenario.seed),
      alarms_(scenario.set, scenario.faults, scenario.seed),
      rough_random_(scenario.seed, "roughness"),
      slow_random_(scenario.seed, "slow processes"),
      rough_(1.0, 0.35),
      load_wander_(1.0, 20.0),
      flutter_(1.0, 1.3),
      pace_(0.07, 15.0),
      sea_(0.3, 1500.0),
      hours_(scenario.set.hours),
      fuel_l_(0.82 * scenario.set.engine.tank_l),
      starts_(scenario.set.starts) {
  ailments_ = ailments_at(scenario.faults, scenario.set, 0.0);
  take_snapshot(0.0);
}

double Machine::idle_until() const {
  return controller_.stage() == Stage::rest
             ? std::max(controller_.next_change(), t_)
             : t_;
}

double Machine::window_time() const { return t_ - load_since_; }

bool Machine::lively() const {
  switch (controller_.stage()) {
    case Stage::rest:
    case Stage::preheat:
      return false;
    case Stage::crank:
    case Stage::crank_rest:
    case Stage::run_up:
    case Stage::coast:
      return true;
    default:
      return t_ < lively_until_ || fuel_supply_.sagging() ||
             !drive_.can_carry(alternator_.torque() + ailments_.drag);
  }
}

double Machine::step_length(double left) const {
  if (lively()) return std::min(left, kFineStep);
  double most = kSteadyStep;
  if (controller_.stage() == Stage::rest) {
    const bool near = controller_.next_change() - t_ < kNearStartS ||
                      controller_.since(t_) < kNearStartS;
    most = near ? kRestStep : kIdleStep;
  } else if (ailments_.hunting_pct > 0.0 || ailments_.flutter > 0.0 ||
             ailments_.sag_pct > 0.0 || controller_.stage() == Stage::preheat) {
    most = kSlowStep;
  }
  double step = std::min(left, most);
  const double change = controller_.next_change();
  if (change > t_) step = std::min(step, change - t_);
  if (controller_.breaker() && bank_) {
    const double toggle = load_since_ + bank_->next_change();
    if (toggle > t_) step = std::min(step, toggle - t_);
  }
  return std::max(step, 1e-3);
}

void Machine::advance_to(double t, Observer* observer) {
  while (t_ < t) {
    const double left = t - t_;
    const double dt = step_length(left);
    t_ = dt >= left ? t : t_ + dt;
    step_fast(dt);
    slow_dt_ += dt;
    if (slow_dt_ >= kSlowStep - 1e-9 || t_ >= t) {
      step_slow();
      if (observer != nullptr) observer->see(now_);
    }
  }
}

double Machine::oil_thickness() const {
  // Decades of viscosity above that of hot oil.
  return std::max(log10_of(oil_.viscosity(thermal_.oil()) / 16.0), 0.0);
}

double Machine::crank_speed() const {
  const EngineSpec& engine = scenario_->set.engine;
  const double rpm = engine.crank_rpm * battery_.volts_per_12() / 10.6 *
                     (1.0 - 0.14 * oil_thickness());
  return std::clamp(rpm, 60.0, 330.0) / scenario_->set.rating.speed_rpm();
}

// A mechanical governor's setting moves down as the engine warms up.
double Machine::warm_shift() const {
  const double warm = std::clamp((thermal_.coolant() - 20.0) / 60.0, 0.0, 1.0);
  return scenario_->set.governor.warm_shift_pct / 100.0 * warm;
}

void Machine::follow_stage() {
  const Stage stage = controller_.stage();
  if (stage == last_stage_) return;
  const Stage before = last_stage_;
  last_stage_ = stage;
  lively_until_ = t_ + kLivelyS;
  if (stage == Stage::preheat) {
    alarms_.reset();
    start_failed_ = false;
    fire_luck_ = slow_random_.between(0.85, 1.2);
    const auto run = static_cast<std::uint64_t>(controller_.run());
    bank_ = std::make_unique<LoadBank>(controller_.plan()->load,
                                       scenario_->set.rating,
                                       scenario_->seed * 1000003U + run);
  } else if (stage == Stage::crank) {
    if (ailments_.boost_held_pct > 0.0) alternator_.hold_boost(true);
  } else if (stage == Stage::loaded) {
    load_since_ = t_;
  } else if (stage == Stage::run_up) {
    starts_ += 1.0;
  } else if (stage == Stage::coast) {
    now_.stop_load_pct = before == Stage::loaded ? recent_load_pct_ : 0.0;
    // Stopped under load the boost relay stays in; a stop without load frees
    // it.
    const bool boost = scenario_->set.alternator.boost.fitted;
    alternator_.hold_boost(boost && now_.stop_load_pct > 10.0);
  } else if (stage == Stage::rest && before == Stage::crank_rest) {
    start_failed_ = true;
  }
}

void Machine::step_fast(double dt) {
  const SetSpec& set = scenario_->set;
  const double warm = std::clamp((30.0 - thermal_.coolant()) / 40.0, 0.0, 1.2);
  ControllerInput seen;
  seen.speed = drive_.speed();
  seen.fire_s = set.engine.fire_s * (1.0 + warm) * fire_luck_;
  seen.trip = alarms_.trip();
  seen.dead = ailments_.fuel_shut;
  controller_.step(t_, seen);
  follow_stage();

  const double before = demand_.settled_kw;
  if (controller_.breaker()) {
    demand_ = bank_->at(window_time());
    const double wander = 1.0 + load_wander_.value() *
                                    controller_.plan()->load.wander_pct / 100.0;
    for (std::size_t leg = 0; leg < 3; ++leg) {
      demand_.kw[leg] *= wander;
      demand_.kvar[leg] *= wander;
    }
    if (controller_.stage() == Stage::coast &&
        alternator_.volts(1) < kDropOutVolts * set.rating.leg_volts()) {
      demand_ = Demand{};
    }
  } else {
    demand_ = Demand{};
  }
  const double change =
      std::abs(demand_.settled_kw - before) / set.rating.power_kw;
  if (change > 0.02) {
    const double length = change > kSmallChange ? kLivelyS : kSmallLivelyS;
    lively_until_ = std::max(lively_until_, t_ + length);
  }

  DriveInput in;
  in.ailments = &ailments_;
  in.fuel = controller_.fuel() && !ailments_.fuel_shut;
  in.load_torque = alternator_.torque();
  in.setting_shift = alternator_.speed_boost() - warm_shift();
  in.crank_speed = controller_.starter() ? crank_speed() : 0.0;
  in.torque_limit =
      fuel_supply_.step(dt, controller_.fuel() ? ailments_.sag_pct : 0.0,
                        in.load_torque, set.engine.inertia_s);
  if (lively()) {
    drive_.step(dt, in);
  } else {
    drive_.settle(dt, in);
  }

  rough_.step(rough_random_, dt);
  double swing = 0.0;
  if (ailments_.hunting_pct > 0.0 && drive_.speed() > 0.9) {
    swing_turn_ += dt / kSwingS * (1.0 + pace_.value());
    // Quicker up than down: the third harmonic leans the wave.
    swing = 0.5 * ailments_.hunting_pct / 100.0 *
            (sin_turns(swing_turn_) + 0.12 * sin_turns(3.0 * swing_turn_));
  }
  const double ripple =
      controller_.starter() ? kCrankRipple : set.governor.roughness_pct / 100.0;
  shown_speed_ =
      std::max(drive_.speed() * (1.0 + rough_.value() * ripple) + swing, 0.0);
  alternator_.step(dt, shown_speed_, demand_, ailments_);
  const double hertz = alternator_.frequency(shown_speed_);
  hertz_low_ = std::min(hertz_low_, hertz);
  hertz_high_ = std::max(hertz_high_, hertz);
}

void Machine::step_slow() {
  const SetSpec& set = scenario_->set;
  const double dt = slow_dt_;
  slow_dt_ = 0.0;
  ailments_ = ailments_at(scenario_->faults, set, t_);
  load_wander_.step(slow_random_, dt);
  flutter_.step(slow_random_, dt);
  pace_.step(slow_random_, dt);
  sea_.step(slow_random_, dt);
  const double speed = drive_.speed();
  const bool fuel = controller_.fuel() && !ailments_.fuel_shut;

  ThermalInput heat;
  heat.speed = speed;
  heat.fuel = fuel && speed > 0.4;
  heat.torque = heat.fuel ? alternator_.torque() + ailments_.drag : 0.0;
  heat.heating = alternator_.heating();
  heat.pumping = speed > 0.1;
  const Environment& around = scenario_->environment;
  const double season =
      around.season_k == 0.0 ? 0.0 : around.season_k * sin_turns(t_ / kYearS);
  heat.sea_k = sea_.value() + season;
  heat.air_k = season;
  if (around.day_k != 0.0) heat.air_k += around.day_k * sin_turns(t_ / kDayS);
  thermal_.step(dt, heat, ailments_);
  // The load while it still turned at speed: what a stop is judged by.
  if (speed > 0.93) {
    recent_load_pct_ = lag(recent_load_pct_, now_.load_pct, dt, 1.0);
  }
  oil_.step(dt, speed, thermal_.oil(), flutter_.value(), ailments_);

  BatteryInput charge;
  charge.preheat = controller_.preheating();
  charge.crank_s =
      controller_.starter() ? std::max(controller_.since(t_), 1e-3) : 0.0;
  if (charge.crank_s > 0.0) {
    charge.crank_load = 1.0 + 0.16 * oil_thickness();
  }
  charge.charging = fuel && speed > 0.6;
  charge.celsius = thermal_.room();
  battery_.step(dt, charge, ailments_);

  fuel_rate_ = heat.fuel
                   ? set.engine.full_load_l_h *
                         (0.22 * speed + 0.78 * std::max(heat.torque, 0.0))
                   : 0.0;
  fuel_l_ = std::max(fuel_l_ - fuel_rate_ * dt / 3600.0, 0.0);
  if (fuel_l_ < 0.15 * set.engine.tank_l &&
      controller_.stage() == Stage::rest) {
    fuel_l_ = 0.95 * set.engine.tank_l;  // somebody fills it up
  }
  if (speed > kMeterSpeed) {
    hours_ += dt / 3600.0 * (1.0 + ailments_.meter_pct / 100.0);
  }
  take_snapshot(dt);
  const double running_s = fuel && controller_.stage() >= Stage::run_up
                               ? t_ - controller_.running_since()
                               : -1.0;
  alarms_.step(now_, running_s, start_failed_, ailments_.emergency_stop);
  now_.alarms = alarms_.standing();
}

void Machine::take_snapshot(double dt) {
  const SetSpec& set = scenario_->set;
  const Rating& rating = set.rating;
  Snapshot& s = now_;
  const double speed = shown_speed_;
  s.t = t_;
  s.dt = dt;
  s.run = controller_.run();
  s.state = controller_.word();
  s.commanded_stop = controller_.commanded_stop();
  s.tripped = controller_.tripped();
  s.breaker_closed = controller_.breaker();
  s.boost_in = alternator_.boost_in();
  s.cranks = controller_.cranks();
  s.hertz_low = hertz_low_;
  s.hertz_high = hertz_high_;
  hertz_low_ = 1e9;
  hertz_high_ = 0.0;
  s.load_pct = 100.0 * alternator_.power_kw() / rating.power_kw;
  s.settled_kw = demand_.settled_kw;
  s.drift_pct = ailments_.creep_pct + ailments_.speed_pct;
  s.droop_pct = 100.0 * drive_.droop(ailments_) +
                (rating.asynchronous ? set.alternator.slip_pct : 0.0);
  DriveInput half;
  half.ailments = &ailments_;
  half.setting_shift = alternator_.speed_boost() - warm_shift();
  s.half_load_hz =
      rating.frequency_hz * drive_.steady_speed(half, 0.5) *
      (rating.asynchronous ? 1.0 - 0.005 * set.alternator.slip_pct : 1.0);
  s.hot_oil_kpa = oil_.hot_pressure(ailments_);
  s.hunting_pct = ailments_.hunting_pct;
  s.rpm_error_pct = ailments_.rpm_error_pct;
  s.oil_loss_pct = 100.0 * oil_.loss();
  s.charge_lost_v = battery_.sound_volts() - battery_.volts();
  s.oil_flutter_pct = 100.0 * ailments_.flutter;
  switch (controller_.stage()) {
    case Stage::rest:
    case Stage::preheat:
    case Stage::crank_rest:
      s.phase = speed > 0.0 ? TruePhase::stopping : TruePhase::stopped;
      break;
    case Stage::coast:
      s.phase = TruePhase::stopping;
      break;
    case Stage::crank:
    case Stage::run_up:
      s.phase = speed < 0.40 ? TruePhase::cranking : TruePhase::running_up;
      break;
    case Stage::cool_down:
      s.phase = TruePhase::cool_down;
      break;
    default:
      s.phase = s.load_pct >= 5.0 ? TruePhase::on_load : TruePhase::no_load;
  }

  s.value.fill(std::nan(""));
  const auto put = [&s](Channel channel, double value) {
    s.value[index_of(channel)] = value;
  };
  put(Channel::engine_speed, speed * rating.speed_rpm());
  put(Channel::frequency, speed > 0.15 ? alternator_.frequency(speed) : 0.0);
  constexpr Channel kVolts[] = {Channel::voltage_l1, Channel::voltage_l2,
                                Channel::voltage_l3};
  constexpr Channel kAmps[] = {Channel::current_l1, Channel::current_l2,
                               Channel::current_l3};
  for (int leg = 1; leg <= rating.legs; ++leg) {
    put(kVolts[leg - 1], alternator_.volts(leg));
    put(kAmps[leg - 1], alternator_.amps(leg));
  }
  if (rating.legs > 1) put(Channel::voltage_line, alternator_.line_volts());
  put(Channel::power, alternator_.power_kw());
  put(Channel::load, s.load_pct);
  put(Channel::power_factor, alternator_.power_factor());
  put(Channel::fuel_level, 100.0 * fuel_l_ / set.engine.tank_l);
  put(Channel::engine_hours, hours_);
  put(Channel::oil_pressure, oil_.pressure());
  put(Channel::oil_temperature, thermal_.oil());
  put(Channel::coolant_temperature, thermal_.coolant());
  put(Channel::exhaust_temperature, thermal_.exhaust());
  put(Channel::winding_temperature, thermal_.winding());
  put(Channel::raw_water_temperature, thermal_.sea());
  put(Channel::ambient_temperature, thermal_.room());
  put(Channel::battery_voltage, battery_.volts());
  put(Channel::fuel_rate, fuel_rate_);
  put(Channel::start_count, starts_);
}

}  // namespace telltale::host::sim
