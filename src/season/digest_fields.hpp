// The fields of a digest, named once: the digest file, the store's tables and
// their readers all go by these lists.
#pragma once

#include <string>
#include <utility>

#include "season/run_digest.hpp"

namespace telltale::host::season {

/// A visitor is called as visit(name, member) in the order of the columns.
/// Names are good for JSON and SQL alike. Times are milliseconds since 1970.

template <class V>
void each_field(V&& visit, LoadBin& b) {
  visit("from_pct", b.from_pct);
  visit("seconds", b.seconds);
  visit("load_pct", b.load_pct);
  visit("frequency", b.frequency);
  visit("frequency_sd", b.frequency_sd);
  visit("voltage", b.voltage);
  visit("voltage_sd", b.voltage_sd);
  visit("oil_pressure", b.oil_pressure);
  visit("oil_temperature", b.oil_temperature);
  visit("coolant_temperature", b.coolant_temperature);
  visit("exhaust_temperature", b.exhaust_temperature);
  visit("winding_temperature", b.winding_temperature);
  visit("fuel_rate", b.fuel_rate);
}

template <class V>
void each_field(V&& visit, TemperatureBin& b) {
  visit("by_coolant", b.by_coolant);
  visit("from_degc", b.from_degc);
  visit("seconds", b.seconds);
  visit("degc", b.degc);
  visit("oil_pressure", b.oil_pressure);
  visit("oil_pressure_sd", b.oil_pressure_sd);
  visit("load_pct", b.load_pct);
}

template <class V>
void each_field(V&& visit, PhaseDigest& p) {
  visit("phase", p.phase);
  visit("from_ms", p.from);
  visit("to_ms", p.to);
}

template <class V>
void each_field(V&& visit, ChannelDigest& c) {
  visit("channel", c.channel);
  visit("on_load", c.on_load);
  visit("samples", c.figures.samples);
  visit("mean", c.figures.mean);
  visit("sd", c.figures.sd);
  visit("min", c.figures.min);
  visit("p05", c.figures.p05);
  visit("median", c.figures.median);
  visit("p95", c.figures.p95);
  visit("max", c.figures.max);
}

template <class V>
void each_field(V&& visit, StepDigest& s) {
  visit("at_ms", s.at);
  visit("from_pct", s.from_pct);
  visit("to_pct", s.to_pct);
  visit("frequency_dip_pct", s.frequency_dip_pct);
  visit("recovery_s", s.recovery_s);
  visit("observable", s.observable);
}

template <class V>
void each_field(V&& visit, FindingDigest& f) {
  visit("check_name", f.check);
  visit("severity", f.severity);
  visit("channel", f.channel);
  visit("value", f.value);
  visit("limit_value", f.limit);
  visit("unit", f.unit);
  visit("from_ms", f.from);
  visit("to_ms", f.to);
  visit("caused_by", f.caused_by);
  visit("subject", f.subject);
  visit("summary", f.summary);
}

template <class V>
void each_field(V&& visit, RunFigure& f) {
  visit("figure", f.kind);
  visit("basis", f.basis);
  visit("value", f.value);
  visit("se", f.se);
  visit("at", f.at);
  visit("slope", f.slope);
  visit("slope_se", f.slope_se);
  visit("n", f.n);
}

template <class V>
void each_field(V&& visit, RunDigest& r) {
  visit("number", r.number);
  visit("start_ms", r.start);
  visit("end_ms", r.end);
  visit("begins_in_log", r.begins_in_log);
  visit("ends", r.ends);
  visit("seconds", r.seconds);
  visit("hours_start", r.hours_start);
  visit("hours_end", r.hours_end);
  visit("starts", r.starts);
  visit("attempts", r.attempts);
  visit("crank_seconds", r.crank_seconds);
  visit("good_crank_seconds", r.good_crank_seconds);
  visit("crank_dip_v", r.crank_dip_v);
  visit("rest_v", r.rest_v);
  visit("start_degc", r.start_degc);
  visit("water_degc", r.water_degc);
  visit("air_degc", r.air_degc);
  visit("load_pct", r.load_pct);
  visit("first_speed", r.first_speed);
  visit("at_speed_s", r.at_speed_s);
  visit("on_load_s", r.on_load_s);
  visit("light_load_s", r.light_load_s);
  visit("energy_kwh", r.energy_kwh);
  visit("verdict", r.verdict);
}

template <class V>
void each_field(V&& visit, Rating& r) {
  visit("frequency_hz", r.frequency_hz);
  visit("poles", r.poles);
  visit("legs", r.legs);
  visit("power_kw", r.power_kw);
  visit("voltage_v", r.voltage_v);
  visit("power_factor", r.power_factor);
  visit("battery_v", r.battery_v);
  visit("generator", r.generator);
  visit("cooling", r.cooling);
  visit("exhaust", r.exhaust);
  visit("winding_class", r.winding);
  visit("class", r.performance);
}

template <class V>
void each_field(V&& visit, UnitDigest& u) {
  visit("name", u.name);
  visit("model", u.model);
  visit("stated", u.stated);
  visit("pressure_unit", u.pressure);
  visit("temperature_unit", u.temperature);
  each_field(visit, u.rating);
}

template <class V>
void each_field(V&& visit, UnitDigest::Service& s) {
  visit("name", s.name);
  visit("every_h", s.every_h);
  visit("every_months", s.every_months);
  visit("done_h", s.done_h);
  visit("done_on_ms", s.done_on);
}

/// `check` is a number in the core and a name everywhere else: see the value
/// types that visitors know.
struct CheckId {
  std::uint16_t* id;
};
template <class V>
void each_field(V&& visit, LimitOverride& l) {
  CheckId check{&l.check};
  visit("check_name", check);
  visit("note", l.note);
  visit("attention", l.attention);
  visit("urgent", l.urgent);
  visit("delay_s", l.delay_s);
}

template <class V>
void each_field(V&& visit, LogDigest& l) {
  visit("sha256", l.sha256);
  visit("digest_version", l.version);
  visit("program", l.program);
  visit("file", l.file);
  visit("bytes", l.bytes);
  visit("row_count", l.rows);
  visit("rejected", l.rejected);
  visit("first_ms", l.first);
  visit("last_ms", l.last);
  visit("zone_known", l.zone_known);
  visit("elapsed", l.elapsed);
  visit("interval_s", l.interval_s);
}

}  // namespace telltale::host::season
