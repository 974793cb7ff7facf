// The profile as its TOML file states it (contract section 5).
#pragma once

#include <cstdint>
#include <deque>
#include <optional>
#include <string>
#include <vector>

#include "support/result.hpp"
#include "telltale/profile.hpp"

namespace telltale::host {

/// What a profile file states; everything may be left out.
struct ProfileFile {
  std::optional<std::string> name;
  std::optional<std::string> model;  // units of one model are peers
  std::optional<float> frequency_hz;
  std::optional<std::uint8_t> poles;
  std::optional<float> power_kw;
  std::optional<float> voltage_v;
  std::optional<std::uint8_t> legs;
  std::optional<float> power_factor;
  std::optional<float> battery_v;
  std::optional<Generator> generator;
  std::optional<WindingClass> winding;
  std::optional<PerformanceClass> performance;
  std::optional<Cooling> cooling;
  std::optional<Exhaust> exhaust;
  std::vector<LimitOverride> limits;

  struct Service {
    std::string name;
    float every_h = 0.0F;
    float every_months = 0.0F;
    float done_h = kUnknown;
    std::optional<TimeMs> done_on;
  };
  std::vector<Service> service;
};

/// The rating plate as the file states it; the rest is not known yet, or the
/// default of contract section 5.
Rating rating_of(const ProfileFile& file);

/// Reads a profile. An unknown key, a wrong type or an impossible value is an
/// Error whose `where` names file and line.
Result<ProfileFile> read_profile(const std::string& path);
/// The same from text; `path` only names it in errors.
Result<ProfileFile> parse_profile(const std::string& text,
                                  const std::string& path);

}  // namespace telltale::host
