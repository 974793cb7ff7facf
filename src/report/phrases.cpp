#include "report/phrases.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <cctype>
#include <cmath>

#include "support/safe_text.hpp"
#include "telltale/advise/cautions.hpp"

namespace telltale::host {
namespace {

/// The figure that a {placeholder} of a summary stands for.
std::string figure(std::string_view name, const FindingReport& report,
                   const ValueText& text) {
  const Finding<double>& f = report.finding;
  if (name == "value") return text.say(f.value, f.unit, f.channel);
  if (name == "limit") return text.say(f.limit, f.unit, f.channel);
  if (name == "for") return duration_text(report.held_s);
  if (name == "channel") {
    return f.channel == Channel::none ? std::string("the set")
                                      : std::string(info_of(f.channel).title);
  }
  if (name.size() == 2 && name[0] == 'd' && name[1] >= '0' && name[1] <= '3') {
    const auto i = static_cast<std::size_t>(name[1] - '0');
    return text.say(f.detail[i], report.check->info->details[i].unit);
  }
  return std::string(name);
}

std::string place_text(const LogPlace& place, const ValueText& text) {
  if (place.line == 0) return text.clock(place.logged);
  return fmt::format("{}, line {}", text.clock(place.logged), place.line);
}

std::string limit_phrase(const Level& level, const Limits& limits,
                         std::string_view severity, const ValueText& text) {
  const bool above = limits.side == Side::above;
  const std::string_view sign =
      limits.inclusive ? (above ? ">=" : "<=") : (above ? ">" : "<");
  std::string out =
      fmt::format("{} {} {}", severity, sign,
                  text.say(static_cast<double>(level.limit), limits.unit));
  if (level.delay_ms > 0) {
    out += fmt::format(", {}", duration_text(level.delay_ms / 1000.0));
  }
  return out;
}

}  // namespace

std::string summary_of(const FindingReport& report, const ValueText& text) {
  const std::string_view pattern = report.check->advice->summary;
  std::string out;
  if (!report.subject.empty()) out = printable(report.subject) + ": ";
  for (std::size_t i = 0; i < pattern.size(); ++i) {
    const std::size_t end = pattern.find('}', i);
    if (pattern[i] != '{' || end == std::string_view::npos) {
      out += pattern[i];
      continue;
    }
    out += figure(pattern.substr(i + 1, end - i - 1), report, text);
    i = end;
  }
  if (!out.empty()) {
    out[0] =
        static_cast<char>(std::toupper(static_cast<unsigned char>(out[0])));
  }
  if (report.first_out != Channel::none) {
    out += fmt::format("; first out: {}", info_of(report.first_out).title);
  }
  return out;
}

std::vector<std::string> evidence_of(const FindingReport& report,
                                     const ValueText& text) {
  std::vector<std::string> out;
  for (const Evidence& e : report.evidence) {
    std::string line = e.label;
    if (std::isfinite(e.value)) {
      line += " " + text.say(e.value, e.unit, report.finding.channel);
    }
    if (e.readings > 0) {
      line += fmt::format(" over {} readings, lines {} to {}", e.readings,
                          e.from.line, e.to.line);
    } else if (e.from.line != 0 && e.to.line != 0) {
      line += fmt::format(" from {} to {}", place_text(e.from, text),
                          place_text(e.to, text));
    } else if (e.from.line != 0) {
      line += fmt::format(" at {}", place_text(e.from, text));
    }
    out.push_back(std::move(line));
  }
  return out;
}

std::string caution_of(const FindingReport& report) {
  std::string out;
  for (const CautionText& caution : kCautions) {
    if ((report.check->advice->cautions & caution.bit) == 0) continue;
    if (!out.empty()) out += ' ';
    out += caution.text;
  }
  if (!out.empty()) out += fmt::format(" {}", kDeference);
  return out;
}

std::string_view bound_text(Bound bound) {
  switch (bound) {
    case Bound::exact:
      return "exact";
    case Bound::lower:
      return "lower";
    case Bound::not_observable:
      break;
  }
  return "not observable";
}

std::string quantity_text(const AcceptanceQuantity& quantity) {
  std::string text = quantity.quantity;
  std::replace(text.begin(), text.end(), '_', ' ');
  const std::size_t load = text.find(" load o");
  if (load != std::string::npos) text.insert(load, ",");
  return text;
}

std::string in_print(std::string_view core_text) {
  std::string text(core_text);
  for (const std::string_view ascii : {"degC", "degF"}) {
    for (std::size_t at = text.find(ascii); at != std::string::npos;
         at = text.find(ascii, at)) {
      text.replace(at, 3, "°");
    }
  }
  return text;
}

std::string source_of(const FindingReport& report) {
  const std::string usual = in_print(report.check->info->source);
  return report.limit_from_profile ? "limit set in the profile; usual: " + usual
                                   : usual;
}

std::string limits_text(const CheckCard& check, const Profile& profile,
                        const ValueText& text) {
  const Limits limits = check.limits(profile);
  std::string out;
  const auto add = [&](const Level& level, std::string_view name) {
    if (!level.exists()) return;
    if (!out.empty()) out += "; ";
    out += limit_phrase(level, limits, name, text);
  };
  add(limits.note, "note");
  add(limits.attention, "attention");
  add(limits.urgent, "urgent");
  return out;
}

}  // namespace telltale::host
