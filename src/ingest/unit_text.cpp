// The table of unit spellings.
#include "ingest/unit_text.hpp"

#include <array>
#include <cstddef>
#include <string>

#include "ingest/fold_letters.hpp"

namespace telltale::host {
namespace {

struct Spelling {
  std::string_view text;
  LogUnit unit;
  double scale = 1.0;
};

constexpr double kMetricHorsepowerInKw = 0.73549875;  // 75 kgf m/s
constexpr double kImperialGallonInL = 4.54609;        // exact
constexpr double kTechnicalAtmosphereInBar = 0.980665;
constexpr double kMmHgInKpa = 0.133322387415;  // conventional

using enum LogUnit;
// Folded: small letters, no accents, no blanks, no degree signs, ² and ³ as
// digits. Written where case decides: see kCased.
constexpr std::array kSpellings = {
    Spelling{"c", degC},
    Spelling{"degc", degC},
    Spelling{"gradc", degC},
    Spelling{"celsius", degC},
    Spelling{"degcelsius", degC},
    Spelling{"degreesc", degC},
    Spelling{"degreescelsius", degC},
    Spelling{"degreec", degC},
    Spelling{"centigrade", degC},
    Spelling{"cels", degC},
    Spelling{"cdeg", degC},
    Spelling{"f", degF},
    Spelling{"degf", degF},
    Spelling{"fahrenheit", degF},
    Spelling{"degfahrenheit", degF},
    Spelling{"degreesf", degF},
    Spelling{"degreesfahrenheit", degF},
    Spelling{"degreef", degF},
    Spelling{"fdeg", degF},
    Spelling{"k", K},
    Spelling{"kelvin", K},
    Spelling{"degk", K},
    Spelling{"pa", kPa, 0.001},
    Spelling{"pascal", kPa, 0.001},
    Spelling{"pascals", kPa, 0.001},
    Spelling{"hpa", mbar},
    Spelling{"kpa", kPa},
    Spelling{"kpag", kPa},
    Spelling{"kpa(g)", kPa},
    Spelling{"kilopascal", kPa},
    Spelling{"mpa", MPa},
    Spelling{"bar", bar},
    Spelling{"barg", bar},
    Spelling{"bar(g)", bar},
    Spelling{"bars", bar},
    Spelling{"mbar", mbar},
    Spelling{"millibar", mbar},
    Spelling{"psi", psi},
    Spelling{"psig", psi},
    Spelling{"psi(g)", psi},
    Spelling{"lb/in2", psi},
    Spelling{"lbs/in2", psi},
    Spelling{"lbf/in2", psi},
    Spelling{"lb/sqin", psi},
    Spelling{"kg/cm2", bar, kTechnicalAtmosphereInBar},
    Spelling{"kgf/cm2", bar, kTechnicalAtmosphereInBar},
    Spelling{"kgcm2", bar, kTechnicalAtmosphereInBar},
    Spelling{"kgfcm2", bar, kTechnicalAtmosphereInBar},
    Spelling{"kp/cm2", bar, kTechnicalAtmosphereInBar},
    Spelling{"inhg", inHg},
    Spelling{"in.hg", inHg},
    Spelling{"mmhg", kPa, kMmHgInKpa},
    Spelling{"v", V},
    Spelling{"volt", V},
    Spelling{"volts", V},
    Spelling{"vac", V},
    Spelling{"vdc", V},
    Spelling{"vrms", V},
    Spelling{"v~", V},
    Spelling{"v=", V},
    Spelling{"vlts", V},
    Spelling{"vlt", V},
    Spelling{"mv", mV},
    Spelling{"millivolt", mV},
    Spelling{"millivolts", mV},
    Spelling{"kv", kV},
    Spelling{"kilovolts", kV},
    Spelling{"a", A},
    Spelling{"amp", A},
    Spelling{"amps", A},
    Spelling{"ampere", A},
    Spelling{"amperes", A},
    Spelling{"aac", A},
    Spelling{"arms", A},
    Spelling{"ma", mA},
    Spelling{"milliamps", mA},
    Spelling{"kw", kW},
    Spelling{"kwe", kW},
    Spelling{"kwel", kW},
    Spelling{"kilowatt", kW},
    Spelling{"kilowatts", kW},
    Spelling{"w", W},
    Spelling{"watt", W},
    Spelling{"watts", W},
    Spelling{"hp", hp},
    Spelling{"bhp", hp},
    Spelling{"ps", kW, kMetricHorsepowerInKw},
    Spelling{"cv", kW, kMetricHorsepowerInKw},
    Spelling{"kva", kVA},
    Spelling{"va", kVA, 0.001},
    Spelling{"%", pct},
    Spelling{"pct", pct},
    Spelling{"percent", pct},
    Spelling{"prozent", pct},
    Spelling{"perc", pct},
    Spelling{"pourcent", pct},
    Spelling{"1", one},
    Spelling{"ratio", one},
    Spelling{"p.u.", one},
    Spelling{"pu", one},
    Spelling{"hz", Hz},
    Spelling{"hertz", Hz},
    Spelling{"rps", Hz},
    Spelling{"rev/s", Hz},
    Spelling{"r/s", Hz},
    Spelling{"1/s", Hz},
    Spelling{"s-1", Hz},
    Spelling{"rpm", rpm},
    Spelling{"r/min", rpm},
    Spelling{"rev/min", rpm},
    Spelling{"revs/min", rpm},
    Spelling{"1/min", rpm},
    Spelling{"min-1", rpm},
    Spelling{"u/min", rpm},
    Spelling{"upm", rpm},
    Spelling{"umin", rpm},
    Spelling{"tr/min", rpm},
    Spelling{"giri/min", rpm},
    Spelling{"omw/min", rpm},
    Spelling{"o/min", rpm},
    Spelling{"h", h},
    Spelling{"hr", h},
    Spelling{"hrs", h},
    Spelling{"hour", h},
    Spelling{"hours", h},
    Spelling{"std", h},
    Spelling{"stunden", h},
    Spelling{"min", min},
    Spelling{"mins", min},
    Spelling{"minutes", min},
    Spelling{"s", s},
    Spelling{"sec", s},
    Spelling{"secs", s},
    Spelling{"second", s},
    Spelling{"seconds", s},
    Spelling{"sek", s},
    Spelling{"ms", s, 1e-3},
    Spelling{"msec", s, 1e-3},
    Spelling{"millis", s, 1e-3},
    Spelling{"milliseconds", s, 1e-3},
    Spelling{"us", s, 1e-6},
    Spelling{"usec", s, 1e-6},
    Spelling{"ns", s, 1e-9},
    Spelling{"l/h", L_h},
    Spelling{"l/hr", L_h},
    Spelling{"lph", L_h},
    Spelling{"ltr/h", L_h},
    Spelling{"ltr/hr", L_h},
    Spelling{"liter/h", L_h},
    Spelling{"litres/h", L_h},
    Spelling{"liters/hour", L_h},
    Spelling{"litres/hour", L_h},
    Spelling{"lh", L_h},
    Spelling{"l/min", L_h, 60.0},
    Spelling{"lpm", L_h, 60.0},
    Spelling{"ml/min", L_h, 0.06},
    Spelling{"m3/h", L_h, 1000.0},
    Spelling{"gal/h", gal_h},
    Spelling{"gal/hr", gal_h},
    Spelling{"gph", gal_h},
    Spelling{"usgph", gal_h},
    Spelling{"usgal/h", gal_h},
    Spelling{"galh", gal_h},
    Spelling{"impgal/h", L_h, kImperialGallonInL},
    Spelling{"l", L},
    Spelling{"ltr", L},
    Spelling{"liter", L},
    Spelling{"liters", L},
    Spelling{"litre", L},
    Spelling{"litres", L},
    Spelling{"gal", gal},
    Spelling{"gals", gal},
    Spelling{"gallon", gal},
    Spelling{"gallons", gal},
    Spelling{"usgal", gal},
    // Units of other quantities: known, so that they are not taken for words.
    Spelling{"kvar", none},
    Spelling{"var", none},
    Spelling{"kwh", none},
    Spelling{"wh", none},
    Spelling{"mwh", none},
    Spelling{"kvah", none},
    Spelling{"kvarh", none},
    Spelling{"ah", none},
    Spelling{"nm", none},
    Spelling{"ft-lb", none},
    Spelling{"kn", none},
    Spelling{"kts", none},
    Spelling{"knots", none},
    Spelling{"mph", none},
    Spelling{"km/h", none},
    Spelling{"m/s", none},
    Spelling{"m", none},
    Spelling{"mm", none},
    Spelling{"cm", none},
    Spelling{"ft", none},
    Spelling{"mm/s", none},
    Spelling{"g", none},
    Spelling{"ppm", none},
    Spelling{"ohm", none},
    Spelling{"ohms", none},
    Spelling{"db", none},
    Spelling{"rh", none},
    Spelling{"%rh", none},
    Spelling{"kg/h", none},
    Spelling{"g/kwh", none},
    Spelling{"m3", none},
    Spelling{"deg", none},
};

// Where a capital M makes mega of milli.
constexpr std::array kCased = {
    Spelling{"MW", kW, 1000.0},
    Spelling{"mW", W, 0.001},
    Spelling{"MV", kV, 1000.0},
    Spelling{"MVA", kVA, 1000.0},
};

// The spelling without blanks, degree signs and superscripts.
std::string plain(std::string_view text) {
  std::string out;
  for (std::size_t i = 0; i < text.size(); ++i) {
    const char c = text[i];
    if (c == ' ' || c == '\t' || c == '_') continue;
    const auto next = [&](char wanted) {
      return i + 1 < text.size() && text[i + 1] == wanted;
    };
    // U+00A0 blank, U+00B0 degree, U+00BA ordinal, U+02DA ring above.
    const bool sign =
        (c == '\xC2' && (next('\xA0') || next('\xB0') || next('\xBA'))) ||
        (c == '\xCB' && next('\x9A'));
    if (sign) {
      ++i;
    } else if (c == '\xC2' && (next('\xB2') || next('\xB3'))) {
      out += text[i + 1] == '\xB2' ? '2' : '3';
      ++i;
    } else if (c == '\xC2' && next('\xB5')) {  // micro
      out += 'u';
      ++i;
    } else if (c == '^') {
      continue;
    } else {
      out += c;
    }
  }
  return out;
}

}  // namespace

std::optional<UnitText> unit_of_text(std::string_view text) {
  if (text.empty() || text.size() > 24) return std::nullopt;
  // "-06-01 08:00:00", ":30", "/06": the rest of a stamp, as in every row.
  const bool is_mark = text[0] == '-' || text[0] == ':' || text[0] == '/';
  if (is_mark && text.size() > 1 && text[1] >= '0' && text[1] <= '9') {
    return std::nullopt;
  }
  std::string spelled = plain(text);
  for (const Spelling& cased : kCased) {
    if (cased.text == spelled) return UnitText{cased.unit, cased.scale};
  }
  std::string folded = fold_letters(spelled);
  // "Kelvin" is a capital K; a small one is a prefix that lost its unit.
  if (spelled == "k") return std::nullopt;
  while (folded.ends_with('.')) folded.pop_back();
  for (const Spelling& spelling : kSpellings) {
    if (spelling.text == folded) return UnitText{spelling.unit, spelling.scale};
  }
  return std::nullopt;
}

}  // namespace telltale::host
