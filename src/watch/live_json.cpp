#include "watch/live_json.hpp"

#include <fmt/format.h>

#include <cmath>
#include <nlohmann/json.hpp>

#include "checks/catalogue.hpp"
#include "report/phrases.hpp"
#include "report/value_text.hpp"
#include "support/safe_text.hpp"

namespace telltale::host {
namespace {

using Json = nlohmann::ordered_json;

/// A number that can't be had is null, never 0.
Json number(double x) { return std::isfinite(x) ? Json(x) : Json(nullptr); }

const char* name_of(FindingEvent event) {
  switch (event) {
    case FindingEvent::opened:
      return "opened";
    case FindingEvent::worsened:
      return "changed";
    case FindingEvent::closed:
      break;
  }
  return "closed";
}

std::string line_of(const Json& json) {
  return json.dump(-1, ' ', false, nlohmann::json::error_handler_t::replace) +
         "\n";
}

void put_finding(Json& out, const Finding<double>& f, const std::string& from,
                 const std::string& to, const std::string& summary) {
  const CheckCard* card = check_of(f.check);
  out["check"] = card == nullptr ? Json(nullptr) : Json(card->info->slug);
  out["severity"] = name_of(f.severity);
  out["channel"] = f.channel == Channel::none ? Json(nullptr)
                                              : Json(info_of(f.channel).slug);
  out["from"] = from;
  out["to"] = to;
  out["value"] = number(f.value);
  out["limit"] = number(f.limit);
  out["unit"] = name_of(f.unit);
  out["run"] = f.run == 0 ? Json(nullptr) : Json(f.run);
  if (!summary.empty()) out["summary"] = summary;
}

std::string summary_text(const LiveFinding& live, const LogLayout& layout) {
  FindingReport report;
  report.check = check_of(live.finding.check);
  if (report.check == nullptr) return "";
  report.finding = live.finding;
  report.held_s =
      static_cast<double>((live.finding.until - live.finding.since).ms) /
      1000.0;
  std::string out = summary_of(report, ValueText(UnitSystem::metric, layout));
  // What has only just begun has no length to tell.
  for (const std::string_view nothing : {", for 0 s", " for 0 s"}) {
    const std::size_t at = out.find(nothing);
    if (at != std::string::npos) out.erase(at, nothing.size());
  }
  return out;
}

LogLayout layout_of(const EventRecord& record) {
  LogLayout layout;
  layout.zone_known = record.wall_clock;
  layout.elapsed = !record.wall_clock;
  return layout;
}

Finding<double> widened(const Finding<float>& f) {
  Finding<double> out;
  out.check = f.check;
  out.channel = f.channel;
  out.severity = f.severity;
  out.event = f.event;
  out.unit = f.unit;
  out.run = f.run;
  out.value = static_cast<double>(f.value);
  out.limit = static_cast<double>(f.limit);
  out.since = f.since;
  out.until = f.until;
  return out;
}

}  // namespace

std::string finding_line(const LiveFinding& live, const std::string& unit,
                         const LogLayout& layout) {
  Json out;
  out["event"] = name_of(live.finding.event);
  out["name"] = printable(unit);
  put_finding(out, live.finding, format_time(live.since, layout),
              format_time(live.until, layout), summary_text(live, layout));
  return line_of(out);
}

std::string summary_line(const std::vector<const LiveUnit*>& units,
                         const LogLayout& layout, std::uint64_t rejected) {
  Json out;
  Severity verdict = Severity::not_judged;
  std::uint64_t rows = 0;
  out["event"] = "summary";
  out["rows"] = 0;
  out["rejected"] = rejected;
  Json list = Json::array();
  for (const LiveUnit* unit : units) {
    rows += unit->rows();
    verdict = worst(verdict, unit->worst_seen());
    Json one;
    one["name"] = printable(unit->name());
    one["rows"] = unit->rows();
    one["runs"] = unit->runs();
    one["last"] = is_set(unit->last_logged())
                      ? Json(format_time(unit->last_logged(), layout))
                      : Json(nullptr);
    one["open"] = Json::array();
    for (const LiveFinding& live : unit->open()) {
      Json finding;
      put_finding(finding, live.finding, format_time(live.since, layout),
                  format_time(live.until, layout), "");
      one["open"].push_back(finding);
    }
    list.push_back(one);
  }
  out["rows"] = rows;
  out["verdict"] =
      is_finding(verdict) ? Json(name_of(verdict)) : Json("healthy");
  out["units"] = list;
  return line_of(out);
}

std::string record_line(const EventRecord& record) {
  const LogLayout layout = layout_of(record);
  const Finding<double> f = widened(record.finding);
  Json out;
  out["event"] = name_of(f.event);
  out["sequence"] = record.sequence;
  put_finding(out, f, format_time(f.since, layout),
              format_time(f.until, layout), "");
  return line_of(out);
}

std::string record_text(const EventRecord& record) {
  const LogLayout layout = layout_of(record);
  const Finding<double> f = widened(record.finding);
  const ValueText text(UnitSystem::metric, layout);
  const CheckCard* card = check_of(f.check);
  std::string out = fmt::format(
      "{:>5}  {}  {:<9}  {:<7}  {}", record.sequence,
      format_time(f.since, layout), name_of(f.severity), name_of(f.event),
      card == nullptr ? fmt::format("check {}", f.check)
                      : std::string(card->info->slug));
  if (f.channel != Channel::none) {
    out += fmt::format(", {}", info_of(f.channel).title);
  }
  if (std::isfinite(f.value)) {
    out += fmt::format(": {}", text.say(f.value, f.unit, f.channel));
  }
  if (std::isfinite(f.limit)) {
    out += fmt::format(" (limit {})", text.say(f.limit, f.unit, f.channel));
  }
  if (f.until > f.since) {
    out += fmt::format(
        " for {}",
        duration_text(static_cast<double>((f.until - f.since).ms) / 1000.0));
  }
  return out + "\n";
}

}  // namespace telltale::host
