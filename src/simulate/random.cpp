// Distributions over mt19937_64, and how a stream gets its own seed.
#include "simulate/random.hpp"

#include <array>
#include <cmath>
#include <cstddef>

#include "simulate/portable_math.hpp"

namespace telltale::host::sim {
namespace {

// FNV-1a over the purpose, then a finalising mix with the seed, so that
// neighbouring seeds and purposes give unrelated engines.
std::uint64_t stream_seed(std::uint64_t seed, std::string_view purpose) {
  std::uint64_t hash = 0xCBF29CE484222325ULL;
  for (const char c : purpose) {
    hash = (hash ^ static_cast<unsigned char>(c)) * 0x100000001B3ULL;
  }
  std::uint64_t x = seed * 0x9E3779B97F4A7C15ULL + hash;
  x = (x ^ (x >> 30)) * 0xBF58476D1CE4E5B9ULL;
  x = (x ^ (x >> 27)) * 0x94D049BB133111EBULL;
  return x ^ (x >> 31);
}

// The ziggurat of Marsaglia and Tsang (2000): 128 layers of equal area under
// exp(-x^2 / 2). Layer 0 holds the tail from kTailStart on.
constexpr double kTailStart = 3.442619855899;
constexpr double kLayerArea = 9.91256303526217e-3;

struct Layers {
  std::array<double, 129> x{};  // right edges; x[0] is a virtual one
  std::array<double, 129> f{};  // the curve there
  Layers() {
    const auto curve = [](double at) { return exp_of(-0.5 * at * at); };
    x[0] = kLayerArea / curve(kTailStart);
    x[1] = kTailStart;
    for (std::size_t i = 1; i < 127; ++i) {
      x[i + 1] = std::sqrt(-2.0 * log_of(kLayerArea / x[i] + curve(x[i])));
    }
    x[128] = 0.0;
    f[0] = 0.0;
    for (std::size_t i = 1; i < 129; ++i) f[i] = curve(x[i]);
  }
};

const Layers kLayers;

}  // namespace

Random::Random(std::uint64_t seed, std::string_view purpose)
    : engine_(stream_seed(seed, purpose)) {}

double Random::uniform() {
  return static_cast<double>(engine_() >> 11) * 0x1.0p-53;
}

double Random::between(double low, double high) {
  return low + (high - low) * uniform();
}

double Random::between_log(double low, double high) {
  return low * exp_of(log_of(high / low) * uniform());
}

double Random::normal() {
  const Layers& layers = kLayers;
  for (;;) {
    const std::uint64_t bits = engine_();
    const std::size_t i = bits & 127U;
    const double sign = (bits & 128U) != 0 ? -1.0 : 1.0;
    const double u = static_cast<double>(bits >> 11) * 0x1.0p-53;
    const double x = u * layers.x[i];
    if (x < layers.x[i + 1]) return sign * x;  // inside the next layer
    if (i == 0) return sign * tail();
    // In the wedge between the layer and the curve: accept under the curve.
    const double y = layers.f[i] + uniform() * (layers.f[i + 1] - layers.f[i]);
    if (y < exp_of(-0.5 * x * x)) return sign * x;
  }
}

// Beyond the last layer (Marsaglia 1964).
double Random::tail() {
  for (;;) {
    const double x = -log_of(1.0 - uniform()) / kTailStart;
    const double y = -log_of(1.0 - uniform());
    if (2.0 * y > x * x) return kTailStart + x;
  }
}

double Random::waiting(double mean) { return -mean * log_of(1.0 - uniform()); }

bool Random::chance(double probability) { return uniform() < probability; }

std::uint32_t Random::below(std::uint32_t count) {
  return static_cast<std::uint32_t>(uniform() * count);
}

double Wander::step(Random& random, double dt) {
  if (dt != dt_) {
    dt_ = dt;
    keep_ = exp_of(-dt / memory_s_);
    kick_ = sd_ * std::sqrt(1.0 - keep_ * keep_);
  }
  value_ = value_ * keep_ + kick_ * random.normal();
  return value_;
}

}  // namespace telltale::host::sim
