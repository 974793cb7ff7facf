#include "made_log.hpp"

#include <array>
#include <cmath>
#include <cstdio>
#include <ctime>

namespace telltale::test {
namespace {

std::string number(double value) {
  std::array<char, 40> text{};
  std::snprintf(text.data(), text.size(), "%.9g", value);
  return text.data();
}
std::string stamp(TimeMs at, bool elapsed) {
  std::array<char, 40> text{};
  if (elapsed) {
    std::snprintf(text.data(), text.size(), "%.3f", MadeRun::seconds_of(at));
    return text.data();
  }
  const std::time_t seconds = at.ms / 1000;
  std::tm parts{};
  ::gmtime_r(&seconds, &parts);
  const std::size_t n =
      std::strftime(text.data(), text.size(), "%Y-%m-%dT%H:%M:%S", &parts);
  std::snprintf(text.data() + n, text.size() - n, ".%03dZ",
                static_cast<int>(at.ms % 1000));
  return text.data();
}

struct Spelt {
  const char* unit;
  double scale;
  double offset;
};
/// As a US logger has it; factors by definition (NIST SP 811).
Spelt spelt(Unit unit, bool us) {
  if (us && unit == Unit::degC) return {"degF", 1.8, 32.0};
  if (us && unit == Unit::kPa) return {"psi", 1.0 / 6.894757293168, 0.0};
  if (us && unit == Unit::L_h) return {"gal/h", 1.0 / 3.785411784, 0.0};
  switch (unit) {
    case Unit::degC:
      return {"degC", 1.0, 0.0};
    case Unit::kPa:
      return {"kPa", 1.0, 0.0};
    case Unit::L_h:
      return {"L/h", 1.0, 0.0};
    case Unit::V:
      return {"V", 1.0, 0.0};
    case Unit::A:
      return {"A", 1.0, 0.0};
    case Unit::kW:
      return {"kW", 1.0, 0.0};
    case Unit::pct:
      return {"%", 1.0, 0.0};
    case Unit::Hz:
      return {"Hz", 1.0, 0.0};
    case Unit::rpm:
      return {"rpm", 1.0, 0.0};
    case Unit::h:
      return {"h", 1.0, 0.0};
    default:
      return {"", 1.0, 0.0};
  }
}
const char* word(EngineState state) {
  constexpr std::array kWords = {"",         "stopped", "preheat", "cranking",
                                 "starting", "running", "loaded",  "cool down",
                                 "stopping", "fault"};
  return kWords[static_cast<std::size_t>(state)];
}

}  // namespace

std::string csv_of(const MadeRun& run, const LogSpelling& spelling) {
  const std::vector<MadeScan> scans = run.scans();
  ChannelMask logged = 0;
  bool states = false;
  bool alarms = false;
  for (const MadeScan& scan : scans) {
    logged |= scan.frame.present();
    states = states || scan.frame.state != EngineState::unknown;
    alarms = alarms || scan.frame.alarms != 0;
  }
  std::string out = spelling.elapsed ? "elapsed (s)" : "time";
  if (!spelling.unit.empty()) out += ",unit";
  for (const ChannelInfo& info : kChannels) {
    if ((logged & bit(info.channel)) == 0) continue;
    const std::string unit = spelt(info.unit, spelling.us_units).unit;
    out += "," + std::string(info.slug);
    if (!unit.empty()) out += " (" + unit + ")";
  }
  if (states) out += ",state";
  if (alarms) out += ",alarm";
  for (const MadeScan& scan : scans) {
    out += "\n" + stamp(scan.frame.at, spelling.elapsed);
    if (!spelling.unit.empty()) out += "," + spelling.unit;
    for (const ChannelInfo& info : kChannels) {
      if ((logged & bit(info.channel)) == 0) continue;
      out += ',';
      const Quality quality = scan.frame.quality(info.channel);
      if (quality != Quality::good && quality != Quality::implausible) continue;
      const Spelt s = spelt(info.unit, spelling.us_units);
      out += number(scan.frame.values[index_of(info.channel)] * s.scale +
                    s.offset);
    }
    if (states) out += "," + std::string(word(scan.frame.state));
    if (!alarms) continue;
    out += ',';
    bool more = false;
    for (int i = 0; i < 32; ++i) {
      if ((scan.frame.alarms >> i & 1U) == 0) continue;
      if (more) out += "; ";
      out += spelling.alarm + " " + std::to_string(i);
      more = true;
    }
  }
  return out + "\n";
}

host::ProfileFile stated_by(const Plate& plate) {
  host::ProfileFile out;
  out.frequency_hz = static_cast<float>(plate.hz);
  out.poles = static_cast<std::uint8_t>(plate.poles);
  out.power_kw = static_cast<float>(plate.kw);
  out.voltage_v = static_cast<float>(plate.volts);
  out.legs = static_cast<std::uint8_t>(plate.legs);
  out.battery_v = static_cast<float>(plate.battery);
  out.exhaust = Exhaust::wet;
  out.performance = PerformanceClass::G2;
  return out;
}
std::string toml_of(const Plate& plate) {
  std::string out = "[rating]\n";
  out += "frequency_hz = " + number(plate.hz) + "\n";
  out += "poles = " + number(plate.poles) + "\n";
  out += "power_kw = " + number(plate.kw) + "\n";
  out += "voltage_v = " + number(plate.volts) + "\n";
  out += "legs = " + number(plate.legs) + "\n";
  out += "battery_v = " + number(plate.battery) + "\n";
  return out + "exhaust = \"wet\"\nclass = \"G2\"\n";
}

std::vector<std::string> lines_of(const std::string& text) {
  std::vector<std::string> out;
  std::size_t from = 0;
  while (from < text.size()) {
    std::size_t end = text.find('\n', from);
    if (end == std::string::npos) end = text.size();
    out.push_back(text.substr(from, end - from));
    if (!out.back().empty() && out.back().back() == '\r') out.back().pop_back();
    from = end + 1;
  }
  return out;
}
std::vector<std::string> cells_of(const std::string& line) {
  std::vector<std::string> out(1);
  bool quoted = false;
  for (std::size_t i = 0; i < line.size(); ++i) {
    const char c = line[i];
    if (quoted && c == '"' && i + 1 < line.size() && line[i + 1] == '"') {
      out.back() += '"';
      ++i;
    } else if (c == '"') {
      quoted = !quoted;
    } else if (c == ',' && !quoted) {
      out.emplace_back();
    } else {
      out.back() += c;
    }
  }
  return out;
}

}  // namespace telltale::test
