// Reads profile TOML strictly: every key is known, every value possible.
#include "profile/profile_file.hpp"

#include <fmt/format.h>
#include <algorithm>

#include <toml++/toml.h>
#include <array>
#include <chrono>
#include <fstream>
#include <functional>
#include <initializer_list>
#include <sstream>
#include <string_view>
#include <utility>
#include <vector>

#include "checks/catalogue.hpp"

namespace telltale::host {
namespace {

/// Thrown inside this file only; turned into an Error at its edge.
struct Fault {
  std::string what;
  toml::source_region where;
};

[[noreturn]] void fail(const toml::node& node, std::string what) {
  throw Fault{std::move(what), node.source()};
}

float number(const toml::node& node, std::string_view key, double low,
             double high) {
  const auto value = node.value<double>();
  if (!value || !node.is_number()) {
    fail(node, fmt::format("{} must be a number", key));
  }
  if (!(*value >= low && *value <= high)) {
    fail(node, fmt::format("{} = {} is impossible ({} to {})", key, *value, low,
                           high));
  }
  return static_cast<float>(*value);
}

std::string text(const toml::node& node, std::string_view key) {
  const auto value = node.value_exact<std::string>();
  if (!value) fail(node, fmt::format("{} must be a text in quotes", key));
  return *value;
}

template <class T>
using Words = std::initializer_list<std::pair<std::string_view, T>>;

template <class T>
T one_of(const toml::node& node, std::string_view key, Words<T> words) {
  const std::string given = text(node, key);
  std::string choices;
  for (const auto& [word, value] : words) {
    if (given == word) return value;
    choices += fmt::format("{}\"{}\"", choices.empty() ? "" : ", ", word);
  }
  fail(node, fmt::format("{} = \"{}\" is not one of {}", key, given, choices));
}

float one_of(const toml::node& node, std::string_view key,
             std::initializer_list<float> values) {
  const float given = number(node, key, -1e9, 1e9);
  std::string choices;
  for (const float value : values) {
    if (given == value) return given;
    choices += fmt::format("{}{}", choices.empty() ? "" : " or ", value);
  }
  fail(node,
       fmt::format("{} = {} is impossible (it is {})", key, given, choices));
}

const toml::table& table(const toml::node& node, std::string_view key) {
  const toml::table* found = node.as_table();
  if (found == nullptr) fail(node, fmt::format("[{}] must be a table", key));
  return *found;
}

using Handler = std::function<void(const toml::node&)>;
using Handlers = std::initializer_list<std::pair<std::string_view, Handler>>;

/// Calls the handler of every key; an unknown key fails.
void each_key(const toml::table& keys, std::string_view where,
              Handlers handlers) {
  for (const auto& [key, node] : keys) {
    bool known = false;
    std::string choices;
    for (const auto& [name, handle] : handlers) {
      choices += fmt::format("{}{}", choices.empty() ? "" : ", ", name);
      if (name != key.str()) continue;
      handle(node);
      known = true;
    }
    if (!known) {
      fail(node, fmt::format("unknown key \"{}\" in {} (known: {})", key.str(),
                             where, choices));
    }
  }
}

void read_rating(const toml::table& rating, ProfileFile& out) {
  using Node = const toml::node&;
  each_key(
      rating, "[rating]",
      {{"frequency_hz",
        [&](Node n) {
          out.frequency_hz = one_of(n, "frequency_hz", {50, 60});
        }},
       {"poles",
        [&](Node n) {
          out.poles = static_cast<std::uint8_t>(
              one_of(n, "poles", {2, 4, 6, 8, 10, 12}));
        }},
       {"power_kw",
        [&](Node n) { out.power_kw = number(n, "power_kw", 0.1, 50000); }},
       {"voltage_v",
        [&](Node n) { out.voltage_v = number(n, "voltage_v", 50, 15000); }},
       {"legs",
        [&](Node n) {
          out.legs = static_cast<std::uint8_t>(one_of(n, "legs", {1, 2, 3}));
        }},
       {"power_factor",
        [&](Node n) { out.power_factor = number(n, "power_factor", 0.1, 1); }},
       {"battery_v",
        [&](Node n) {
          out.battery_v = one_of(n, "battery_v", {12, 24});
        }},
       {"generator",
        [&](Node n) {
          out.generator =
              one_of<Generator>(n, "generator",
                                {{"synchronous", Generator::synchronous},
                                 {"asynchronous", Generator::asynchronous}});
        }},
       {"winding_class",
        [&](Node n) {
          out.winding = one_of<WindingClass>(n, "winding_class",
                                             {{"A", WindingClass::A},
                                              {"E", WindingClass::E},
                                              {"B", WindingClass::B},
                                              {"F", WindingClass::F},
                                              {"H", WindingClass::H}});
        }},
       {"class",
        [&](Node n) {
          out.performance =
              one_of<PerformanceClass>(n, "class",
                                       {{"G1", PerformanceClass::G1},
                                        {"G2", PerformanceClass::G2},
                                        {"G3", PerformanceClass::G3}});
        }},
       {"cooling",
        [&](Node n) {
          out.cooling = one_of<Cooling>(n, "cooling",
                                        {{"fresh water", Cooling::fresh_water},
                                         {"sea water", Cooling::sea_water}});
        }},
       {"exhaust", [&](Node n) {
          out.exhaust = one_of<Exhaust>(
              n, "exhaust", {{"wet", Exhaust::wet}, {"dry", Exhaust::dry}});
        }}});
}

void read_limits(const toml::table& limits, ProfileFile& out) {
  for (const auto& [key, node] : limits) {
    const CheckCard* check = check_named(key.str());
    if (check == nullptr) {
      fail(node, fmt::format("no check is called \"{}\"; see telltale checks",
                             key.str()));
    }
    LimitOverride change;
    change.check = check->info->id;
    const std::string where = fmt::format("[limits] \"{}\"", key.str());
    using Node = const toml::node&;
    each_key(
        table(node, where), where,
        {{"note", [&](Node n) { change.note = number(n, "note", -1e6, 1e6); }},
         {"attention",
          [&](Node n) {
            change.attention = number(n, "attention", -1e6, 1e6);
          }},
         {"urgent",
          [&](Node n) { change.urgent = number(n, "urgent", -1e6, 1e6); }},
         {"delay_s",
          [&](Node n) { change.delay_s = number(n, "delay_s", 0, 604800); }}});
    out.limits.push_back(change);
  }
}

/// What the set may turn out to be where the file leaves it open: defaults
/// depend on battery and exhaust.
std::vector<Profile> possible_sets(const ProfileFile& file) {
  std::vector<Profile> out;
  for (const float battery : {12.0F, 24.0F}) {
    for (const Exhaust exhaust : {Exhaust::wet, Exhaust::dry}) {
      Profile set;
      set.rating = rating_of(file);
      if (!file.battery_v) set.rating.battery_v = battery;
      if (!file.exhaust) set.rating.exhaust = exhaust;
      for (const LimitOverride& change : file.limits) {
        set.limits.push_back(change);
      }
      out.push_back(set);
    }
  }
  return out;
}

/// The limits against each other, where one of them is the set's own default.
void check_order(const toml::table& limits, const ProfileFile& file) {
  const std::vector<Profile> sets = possible_sets(file);
  for (const auto& [key, node] : limits) {
    const CheckCard* check = check_named(key.str());
    const bool fits =
        std::any_of(sets.begin(), sets.end(), [check](const Profile& set) {
          return validate(check->limits(set)) != SetupError::wrong_order;
        });
    if (!fits) {
      fail(node, fmt::format("the limits of {} contradict each other: urgent "
                             "must be graver than attention, attention than "
                             "note",
                             key.str()));
    }
  }
}

TimeMs midnight(const toml::node& node) {
  const auto date = node.value_exact<toml::date>();
  if (!date) fail(node, "done_on must be a date, like 2026-03-02");
  const auto days = std::chrono::sys_days(std::chrono::year(date->year) /
                                          date->month / date->day);
  return TimeMs{days.time_since_epoch().count() * 86'400'000LL};
}

void read_service(const toml::table& service, ProfileFile& out) {
  for (const auto& [key, node] : service) {
    ProfileFile::Service item;
    item.name = std::string(key.str());
    const std::string where = fmt::format("[service] {}", item.name);
    using Node = const toml::node&;
    each_key(
        table(node, where), where,
        {{"every_h",
          [&](Node n) { item.every_h = number(n, "every_h", 1, 1e5); }},
         {"every_months",
          [&](Node n) {
            item.every_months = number(n, "every_months", 1, 600);
          }},
         {"done_h", [&](Node n) { item.done_h = number(n, "done_h", 0, 5e5); }},
         {"done_on", [&](Node n) { item.done_on = midnight(n); }}});
    if (item.every_h == 0.0F && item.every_months == 0.0F) {
      fail(node, where + " has neither every_h nor every_months");
    }
    out.service.push_back(std::move(item));
  }
  constexpr std::size_t kMost = decltype(Profile::service)::capacity();
  if (out.service.size() > kMost) {
    fail(service, fmt::format("[service] has {} jobs, {} are the most",
                              out.service.size(), kMost));
  }
}

ProfileFile read_all(const toml::table& root) {
  ProfileFile out;
  using Node = const toml::node&;
  each_key(
      root, "the profile",
      {{"unit",
        [&](Node n) {
          each_key(table(n, "unit"), "[unit]",
                   {{"name", [&](Node v) { out.name = text(v, "name"); }},
                    {"model", [&](Node v) { out.model = text(v, "model"); }}});
        }},
       {"rating", [&](Node n) { read_rating(table(n, "rating"), out); }},
       {"limits", [&](Node n) { read_limits(table(n, "limits"), out); }},
       {"service", [&](Node n) { read_service(table(n, "service"), out); }}});
  if (const toml::table* limits = root["limits"].as_table()) {
    check_order(*limits, out);
  }
  if (out.legs == std::uint8_t{1} && out.voltage_v && *out.voltage_v > 1000) {
    throw Fault{"voltage_v is above 1000 V on a single leg", {}};
  }
  return out;
}

std::string place(const std::string& path, const toml::source_region& region) {
  return region.begin.line > 0 ? fmt::format("{}:{}", path, region.begin.line)
                               : path;
}

}  // namespace

Rating rating_of(const ProfileFile& file) {
  Rating rating;
  rating.frequency_hz = file.frequency_hz.value_or(kUnknown);
  rating.poles = file.poles.value_or(std::uint8_t{0});
  rating.legs = file.legs.value_or(std::uint8_t{0});
  rating.generator = file.generator.value_or(Generator::synchronous);
  rating.cooling = file.cooling.value_or(Cooling::fresh_water);
  rating.exhaust = file.exhaust.value_or(Exhaust::unknown);
  rating.winding = file.winding.value_or(WindingClass::F);
  rating.power_kw = file.power_kw.value_or(kUnknown);
  rating.voltage_v = file.voltage_v.value_or(kUnknown);
  rating.power_factor = file.power_factor.value_or(1.0F);
  rating.battery_v = file.battery_v.value_or(kUnknown);
  rating.performance = file.performance.value_or(
      file.power_kw ? PerformanceClass::G2 : PerformanceClass::G1);
  return rating;
}

Result<ProfileFile> parse_profile(const std::string& text,
                                  const std::string& path) {
  try {
    return read_all(toml::parse(text, path));
  } catch (const toml::parse_error& error) {
    return Error{std::string(error.description()), place(path, error.source()),
                 "mend the profile"};
  } catch (const Fault& fault) {
    return Error{fault.what, place(path, fault.where), "mend the profile"};
  }
}

Result<ProfileFile> read_profile(const std::string& path) {
  std::ifstream file(path, std::ios::binary);
  std::ostringstream text;
  if (file) text << file.rdbuf();
  if (!file) {
    return Error{"can't read the profile", path, "check path and permissions"};
  }
  return parse_profile(text.str(), path);
}

}  // namespace telltale::host
