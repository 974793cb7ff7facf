// What is behind telltale.h: to be included in exactly one C++ file.
//
// TELLTALE_CHECKS, where defined before, is the CheckList to watch by; else all
// checks are.
#pragma once

#include <cstring>
#include <new>

#include "telltale/telltale.h"
#include "telltale/telltale.hpp"

#ifndef TELLTALE_CHECKS
#define TELLTALE_CHECKS telltale::AllChecks
#endif

namespace telltale::c {

using Watcher = Box<float, TELLTALE_CHECKS>;

/// What fills a telltale_box.
struct Inside {
  Profile profile;
  Watcher box;
  FindingQueue<float, 8> waiting;
  telltale_function function = nullptr;
  void* context = nullptr;
};
static_assert(sizeof(Inside) <= sizeof(telltale_box),
              "define TELLTALE_BOX_BYTES larger, for C and C++ alike");
static_assert(alignof(Inside) <= alignof(telltale_box));
static_assert(Watcher::kStateBytes <= TELLTALE_STATE_BYTES);

inline Inside& inside(telltale_box* box) {
  return *std::launder(reinterpret_cast<Inside*>(box->bytes_));
}
inline const Inside& inside(const telltale_box* box) {
  return *std::launder(reinterpret_cast<const Inside*>(box->bytes_));
}

inline float known(float x) { return x > 0.0F ? x : kUnknown; }

/// False where the plate says what cannot be.
inline bool read_plate(const telltale_plate& plate, Profile& profile) {
  Rating& rating = profile.rating;
  const auto wrong = [](float x) { return !(x >= 0.0F && x < 1.0e9F); };
  if (wrong(plate.frequency_hz) || wrong(plate.power_kw) ||
      wrong(plate.voltage_v) || wrong(plate.battery_v) ||
      wrong(plate.power_factor) || wrong(plate.interval_s) ||
      plate.power_factor > 1.0F || plate.poles % 2 != 0 || plate.legs > 3 ||
      plate.exhaust > 2 || plate.class_g > 3) {
    return false;
  }
  rating.frequency_hz = known(plate.frequency_hz);
  rating.poles = plate.poles;
  rating.legs = plate.legs;
  rating.power_kw = known(plate.power_kw);
  rating.voltage_v = known(plate.voltage_v);
  rating.battery_v = known(plate.battery_v);
  if (plate.power_factor > 0.0F) rating.power_factor = plate.power_factor;
  if (plate.asynchronous) rating.generator = Generator::asynchronous;
  if (plate.sea_water_cooled) rating.cooling = Cooling::sea_water;
  rating.exhaust = static_cast<Exhaust>(plate.exhaust);
  if (plate.class_g > 0) {
    rating.performance = static_cast<PerformanceClass>(plate.class_g - 1);
  }
  switch (plate.winding_class) {
    case 0:
    case 'F':
      break;
    case 'A':
      rating.winding = WindingClass::A;
      break;
    case 'E':
      rating.winding = WindingClass::E;
      break;
    case 'B':
      rating.winding = WindingClass::B;
      break;
    case 'H':
      rating.winding = WindingClass::H;
      break;
    default:
      return false;
  }
  profile.interval_s = known(plate.interval_s);
  profile.wall_clock = plate.wall_clock;
  return true;
}

inline telltale_error error_of(SetupError error) {
  switch (error) {
    case SetupError::none:
      return TELLTALE_OK;
    case SetupError::not_finite:
      return TELLTALE_LIMIT_NOT_FINITE;
    case SetupError::wrong_order:
      return TELLTALE_LIMITS_IN_WRONG_ORDER;
    case SetupError::out_of_range:
      break;
  }
  return TELLTALE_LIMIT_OUT_OF_RANGE;
}
inline telltale_error error_of(StateError error) {
  switch (error) {
    case StateError::none:
      return TELLTALE_OK;
    case StateError::wrong_size:
      return TELLTALE_STATE_WRONG_SIZE;
    case StateError::not_a_state:
      return TELLTALE_STATE_NONE;
    case StateError::other_build:
      return TELLTALE_STATE_OF_OTHER_BUILD;
    case StateError::damaged:
      break;
  }
  return TELLTALE_STATE_DAMAGED;
}

inline telltale_finding to_c(const Finding<float>& f) {
  telltale_finding out{};
  out.check = f.check;
  out.run = f.run;
  out.channel = static_cast<std::uint8_t>(f.channel);
  out.severity = static_cast<std::uint8_t>(f.severity);
  out.event = static_cast<std::uint8_t>(f.event);
  out.unit = static_cast<std::uint8_t>(f.unit);
  out.value = f.value;
  out.limit = f.limit;
  out.since_ms = f.since.ms;
  out.until_ms = f.until.ms;
  return out;
}
inline Finding<float> from_c(const telltale_finding& f) {
  Finding<float> out;
  out.check = f.check;
  out.run = f.run;
  out.channel = static_cast<Channel>(f.channel);
  out.severity = static_cast<Severity>(f.severity);
  out.event = static_cast<FindingEvent>(f.event);
  out.unit = static_cast<Unit>(f.unit);
  out.value = f.value;
  out.limit = f.limit;
  out.since.ms = f.since_ms;
  out.until.ms = f.until_ms;
  return out;
}

/// Findings to the caller's function, or into the queue.
inline FindingSink<float> sink_of(Inside& in) {
  if (in.function == nullptr) return in.waiting.sink();
  return FindingSink<float>(
      [](void* self, const Finding<float>& finding) {
        const Inside& to = *static_cast<const Inside*>(self);
        const telltale_finding told = to_c(finding);
        to.function(to.context, &told);
      },
      &in);
}

}  // namespace telltale::c

extern "C" {

const char* telltale_version(void) { return telltale::kVersion; }

telltale_error telltale_init(telltale_box* box, const telltale_plate* plate,
                             const telltale_limit* limits, size_t limit_count,
                             uint16_t* check) {
  using namespace telltale;
  c::Inside& in = *new (box->bytes_) c::Inside;
  if (!c::read_plate(*plate, in.profile)) return TELLTALE_BAD_PLATE;
  for (std::size_t i = 0; i < limit_count; ++i) {
    LimitOverride change;
    change.check = limits[i].check;
    change.attention = limits[i].attention;
    change.urgent = limits[i].urgent;
    change.delay_s = limits[i].delay_s;
    if (change.delay_s < 0.0F || change.delay_s > 604800.0F) {
      if (check != nullptr) *check = change.check;
      return TELLTALE_LIMIT_OUT_OF_RANGE;
    }
    if (!in.profile.limits.push_back(change)) return TELLTALE_TOO_MANY_LIMITS;
  }
  const Setup setup = in.box.configure(in.profile);
  if (check != nullptr) *check = setup.check;
  return c::error_of(setup.error);
}

void telltale_on_finding(telltale_box* box, telltale_function function,
                         void* context) {
  telltale::c::inside(box).function = function;
  telltale::c::inside(box).context = context;
}

void telltale_put(telltale_box* box, telltale_channel channel, int64_t at_ms,
                  float value) {
  const auto index = static_cast<std::size_t>(channel);
  if (index >= telltale::kChannelCount) return;
  telltale::c::inside(box).box.readings().put(
      static_cast<telltale::Channel>(index), telltale::TimeMs{at_ms}, value);
}
void telltale_put_state(telltale_box* box, telltale_engine_state state) {
  telltale::c::inside(box).box.readings().put(
      static_cast<telltale::EngineState>(state));
}
void telltale_put_alarms(telltale_box* box, uint32_t alarms) {
  telltale::c::inside(box).box.readings().put_alarms(alarms);
}

void telltale_scan(telltale_box* box, int64_t now_ms) {
  telltale::c::Inside& in = telltale::c::inside(box);
  in.box.scan(telltale::TimeMs{now_ms}, telltale::c::sink_of(in));
}
void telltale_finish(telltale_box* box) {
  telltale::c::Inside& in = telltale::c::inside(box);
  in.box.finish(telltale::c::sink_of(in));
}

bool telltale_poll(telltale_box* box, telltale_finding* out) {
  telltale::Finding<float> finding;
  if (!telltale::c::inside(box).waiting.pop(finding)) return false;
  *out = telltale::c::to_c(finding);
  return true;
}
uint32_t telltale_lost(const telltale_box* box) {
  return telltale::c::inside(box).waiting.lost();
}

uint32_t telltale_untold(const telltale_box* box) {
  return telltale::c::inside(box).box.monitor().untold();
}

size_t telltale_save(const telltale_box* box, uint8_t* out, size_t size) {
  using telltale::c::Watcher;
  if (size < Watcher::kStateBytes) return 0;
  telltale::c::inside(box).box.save(
      std::span<std::uint8_t, Watcher::kStateBytes>(out, Watcher::kStateBytes));
  return Watcher::kStateBytes;
}
telltale_error telltale_load(telltale_box* box, const uint8_t* in,
                             size_t size) {
  return telltale::c::error_of(telltale::c::inside(box).box.load({in, size}));
}

void telltale_encode(const telltale_finding* finding, uint16_t sequence,
                     bool wall_clock, uint8_t out[32]) {
  const auto bytes = telltale::encode_event(telltale::c::from_c(*finding),
                                            sequence, wall_clock);
  std::memcpy(out, bytes.data(), bytes.size());
}

}  // extern "C"
