// Counts instructions: a made-up run on all channels, a million samples and
// more, on an emulator that takes one nanosecond for each instruction.
//
// Prints "samples mean most" for each tenth of the run, mean and greatest
// number of instructions a sample took, and "stack bytes": the deepest that
// main() and all below it ever were.
#include <array>
#include <cstdint>
#include <cstdio>

#include "telltale/telltale.hpp"

#ifndef TELLTALE_ONLY
#define TELLTALE_ONLY telltale::AllChecks
#endif
#ifndef TELLTALE_SAMPLES
#define TELLTALE_SAMPLES 1000000
#endif

namespace {

using namespace telltale;

Box<float, TELLTALE_ONLY> box;
Profile profile;
std::uint32_t told = 0;

/// The SysTick of the core, 25 MHz on these boards: 40 ns, or 40 instructions.
constexpr std::uint32_t kPerTick = 40;
volatile std::uint32_t& reg(std::uintptr_t address) {
  return *reinterpret_cast<volatile std::uint32_t*>(address);
}
void start_ticks() {
  reg(0xE000E014) = 0xFFFFFF;
  reg(0xE000E018) = 0;
  reg(0xE000E010) = 5;
}
std::uint32_t ticks() { return 0xFFFFFF - reg(0xE000E018); }

/// The stack below main() is painted; what lost its paint was used.
constexpr std::uint32_t kPaint = 0x5AFE57AC;
constexpr std::size_t kPaintedWords = 4096;
/// Where the calling function's frame ends, near enough.
[[gnu::noinline]] volatile std::uint32_t* stack_top_now() {
  return static_cast<volatile std::uint32_t*>(__builtin_frame_address(0));
}
[[gnu::noinline]] void paint(volatile std::uint32_t* top) {
  // This function's own frame lies in the first words.
  for (std::size_t i = 32; i < kPaintedWords; ++i) *(top - i) = kPaint;
}
[[gnu::noinline]] std::size_t used_bytes(volatile std::uint32_t* top) {
  std::size_t words = kPaintedWords - 1;
  while (words > 32 && *(top - words) == kPaint) --words;
  return words * sizeof(std::uint32_t);
}

struct Tenth {
  std::uint32_t mean = 0;
  std::uint32_t most = 0;
};
std::array<Tenth, 10> tenths;

std::uint32_t seed = 1;
/// Uniform in -1 .. 1.
float noise() {
  seed = seed * 1664525U + 1013904223U;
  return static_cast<float>(static_cast<std::int32_t>(seed)) / 2147483648.0F;
}

/// A healthy set under a load that changes every ten minutes, at rest for one
/// hour in eight.
void put_all(TimeMs now) {
  const auto s = static_cast<std::uint32_t>(now.ms / 1000);
  const bool runs = s % 28800 >= 3600;
  const float load =
      runs ? 20.0F + 10.0F * static_cast<float>(s / 600 % 6) : 0.0F;
  const auto put = [now](Channel channel, float value, float scatter) {
    box.readings().put(channel, now, value + scatter * noise());
  };
  const float turning = runs ? 1.0F : 0.0F;
  put(Channel::engine_speed, 3600.0F * turning, 5.0F * turning);
  put(Channel::frequency, 60.0F * turning, 0.05F * turning);
  put(Channel::voltage_l1, 120.0F * turning, 0.5F * turning);
  put(Channel::voltage_l2, 120.0F * turning, 0.5F * turning);
  put(Channel::voltage_l3, 120.0F * turning, 0.5F * turning);
  put(Channel::voltage_line, 240.0F * turning, 1.0F * turning);
  put(Channel::current_l1, 0.33F * load, 0.2F * turning);
  put(Channel::current_l2, 0.33F * load, 0.2F * turning);
  put(Channel::current_l3, 0.33F * load, 0.2F * turning);
  put(Channel::power, 0.08F * load, 0.02F * turning);
  put(Channel::load, load, 0.3F * turning);
  put(Channel::power_factor, 0.95F * turning, 0.005F * turning);
  put(Channel::oil_pressure, 320.0F * turning, 3.0F * turning);
  put(Channel::oil_temperature, 90.0F, 0.3F);
  put(Channel::coolant_temperature, 82.0F, 0.3F);
  put(Channel::exhaust_temperature, 40.0F + 0.1F * load, 0.5F);
  put(Channel::winding_temperature, 60.0F + 0.4F * load, 0.5F);
  put(Channel::battery_voltage, runs ? 14.1F : 12.8F, 0.02F);
  box.readings().put(runs ? EngineState::running : EngineState::stopped);
}

}  // namespace

int main() {
  profile.rating.frequency_hz = 60.0F;
  profile.rating.poles = 2;
  profile.rating.legs = 2;
  profile.rating.power_kw = 8.0F;
  profile.rating.voltage_v = 240.0F;
  profile.rating.battery_v = 12.0F;
  profile.rating.exhaust = Exhaust::wet;
  volatile std::uint32_t* const top = stack_top_now();
  paint(top);
  if (box.configure(profile).error != SetupError::none) return 3;
  const FindingSink<float> sink([](void*, const Finding<float>&) { ++told; },
                                nullptr);
  start_ticks();
  constexpr std::uint32_t kSamples = TELLTALE_SAMPLES;
  TimeMs now{0};
  for (Tenth& tenth : tenths) {
    std::uint64_t sum = 0;
    std::uint32_t most = 0;
    for (std::uint32_t i = 0; i < kSamples / 10; ++i) {
      put_all(now);
      const std::uint32_t before = ticks();
      box.scan(now, sink);
      const std::uint32_t took = (ticks() - before) & 0xFFFFFF;
      sum += took;
      most = took > most ? took : most;
      now = now + seconds(1);
    }
    tenth.mean = static_cast<std::uint32_t>(sum * kPerTick / (kSamples / 10));
    tenth.most = most * kPerTick;
  }
  const std::size_t stack = used_bytes(top);
  std::uint32_t done = 0;
  for (const Tenth& tenth : tenths) {
    done += kSamples / 10;
    std::printf("%lu %lu %lu\n", static_cast<unsigned long>(done),
                static_cast<unsigned long>(tenth.mean),
                static_cast<unsigned long>(tenth.most));
  }
  std::printf("stack %lu\n", static_cast<unsigned long>(stack));
  std::printf("findings %lu\n", static_cast<unsigned long>(told));
  return 0;
}
